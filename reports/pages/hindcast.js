"use strict";
const {past_years: past, model} = data;

function days() {
  const labels = cells("days").map(row => row[0]);
  const sets = [
    {type: "line", label: "the model", data: model.days.map(day => percent(day.flat_by_day.p)),
     borderColor: colour("b"), backgroundColor: colour("b"), pointRadius: 4, borderWidth: 2,
     bands: model.days.map(day => climate(day.flat_by_day)), bandColour: colour("b-half")},
    {type: "line", label: "past years", data: past.days.map(day => percent(day.flat_by_day.p)), showLine: false,
     borderColor: colour("a"), backgroundColor: colour("a"), pointStyle: "rect", pointRadius: 6,
     marks: past.days.map(day => sampling(day.flat_by_day))},
    {type: "line", label: "you accept", data: labels.map(() => percent(data.accept_risk)),
     borderColor: colour("ink"), borderDash: [6, 5], borderWidth: 1.5, pointRadius: 0, pointStyle: "line"},
  ];
  return {
    data: {labels, datasets: sets},
    options: {
      interaction: {mode: "index", intersect: false},
      scales: {x: axis("", {offset: true}), y: axis("% of cases", percents(sets))},
      plugins: {legend: {labels: {usePointStyle: true}},
        tooltip: {...quote("days", [["past years", 1], ["95 % interval", 2], ["the model", 3], ["climate interval", 4]]),
          filter: item => item.datasetIndex === 0}},
    },
    plugins: [intervals],
  };
}

function years() {
  return {
    type: "bar",
    data: {labels: past.years.map(year => year.year), datasets: [{
      label: "flat", data: past.years.map(year => percent(year.flat / year.periods)),
      backgroundColor: colour("a-fill"), borderColor: colour("a"), borderWidth: 1}]},
    options: {
      scales: {x: axis("", {ticks: {color: colour("quiet"), maxRotation: 0, autoSkipPadding: 12}, grid: {display: false}}),
        y: axis("% of the year's periods", {max: 100})},
      interaction: {mode: "index", intersect: false},
      plugins: {legend: {display: false}, tooltip: {callbacks: {
        title: items => cells("years")[items[0].dataIndex][0],
        label: item => {
          const row = cells("years")[item.dataIndex];
          return ["flat: " + row[1] + " " + row[2] + " periods, " + row[3], "at the earliest: " + row[4], "missing on average: " + row[5]];
        },
      }}},
    },
  };
}

function along() {
  const cases = [["on average", "mean", 3], ["typical stay", "p50", 4], ["1 in 10", "p90", 5]];
  const set = (label, hours, name) => ({label, data: cases.map(([, key]) => hours[key]),
    backgroundColor: colour(name + (name === "a" ? "-fill" : "-half")), borderColor: colour(name), borderWidth: 1});
  return {
    type: "bar",
    data: {labels: cases.map(([name]) => name), datasets: [set("past years", past.generator_hours, "a"), set("the model", model.generator_hours, "b")]},
    options: {
      scales: {x: axis(), y: axis("hours in a stay")},
      plugins: {tooltip: {callbacks: {label: item => item.dataset.label + ": " + cells("along")[cases[item.dataIndex][2]][item.datasetIndex + 1]}}},
    },
  };
}

draw_charts({days, years, along});

"use strict";
function levels() {
  const hours = data.levels.filter(level => level.start_below > 0);
  const sets = [{label: "start below", data: hours.map(level => percent(level.start_below)),
    marks: hours.map(level => [percent(level.start_below), percent(level.stop_at)]),
    backgroundColor: colour("a-fill"), borderColor: colour("a"), borderWidth: 1}];
  return {
    type: "bar",
    data: {labels: hours.map(level => level.at.slice(5, 10) + " " + level.at.slice(11, 16)), datasets: sets},
    options: {
      scales: {x: axis(), y: axis("% of charge", {min: 0, max: 100})},
      plugins: {legend: {display: false}},
    },
    plugins: [intervals],
  };
}

function careful() {
  const rows = cells("careful").slice(1, 1 + data.careful.length);
  const sets = [
    {type: "line", label: "flat", data: data.careful.map(rule => percent(rule.flat.p)), yAxisID: "y",
     marks: data.careful.map(rule => sampling(rule.flat)), borderColor: colour("b"), backgroundColor: colour("b"), borderWidth: 2},
    {type: "bar", label: "generator hours", data: data.careful.map(rule => rule.hours), yAxisID: "hours",
     backgroundColor: colour("a-fill"), borderColor: colour("a"), borderWidth: 1},
  ];
  return {
    data: {labels: data.careful.map(rule => +(100 * rule.lasts_in).toFixed(1)), datasets: sets},
    options: {
      interaction: {mode: "index", intersect: false},
      scales: {x: axis("lasts in so many of 100 nights"), y: axis("% of stays flat", percents([sets[0]])),
               hours: axis("hours", {position: "right", min: 0, grid: {drawOnChartArea: false}})},
      plugins: {tooltip: {callbacks: {
        title: items => rows[items[0].dataIndex][0],
        label: item => item.datasetIndex === 0 ? "flat " + rows[item.dataIndex][1] : "generator hours " + rows[item.dataIndex][4],
      }}},
    },
    plugins: [intervals],
  };
}

draw_charts({levels, careful});

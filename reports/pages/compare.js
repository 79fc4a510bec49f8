"use strict";
const letters = data.plans.map(p => p.letter);
const bars = (label, values, name, more = {}) => Object.assign({label, data: values,
  backgroundColor: colour(name + (name === "a" ? "-fill" : "-half")), borderColor: colour(name), borderWidth: 1}, more);

function risks(id, flat_of) {
  const flats = data.plans.map(flat_of);
  const most_accepted = percent(Math.max(...data.plans.map(p => p.plan.accept_risk)));
  const sets = [
    {type: "line", label: "it accepts", data: data.plans.map(p => percent(p.plan.accept_risk)), showLine: false,
     pointStyle: "line", pointRadius: wide() ? 26 : 14, pointHoverRadius: wide() ? 26 : 14, borderColor: colour("ink"), borderWidth: 2},
    bars("flat", flats.map(f => percent(f.p)), "a", {barPercentage: 0.6, pointStyle: "rect", marks: flats.map(sampling),
      bands: flats.map(climate), bandColour: colour("b-half")}),
  ];
  return {
    type: "bar",
    data: {labels: letters, datasets: sets},
    options: {
      interaction: {mode: "index", intersect: false},
      scales: {x: axis(), y: axis("% of stays", {...percents(sets), suggestedMax: Math.max(most(sets), Math.min(100, 1.2 * most_accepted))})},
      plugins: {legend: {labels: {usePointStyle: true}}, tooltip: {...quote(id, [["flat", 1], ["sampling", 2], ["climate", 3]]), filter: item => item.datasetIndex === 1}},
    },
    plugins: [intervals],
  };
}
const home = () => risks("home", p => p.flat_home);
const planned = () => risks("planned", p => p.generator ? p.generator.flat : p.flat_home);

function differences() {
  const others = data.plans.slice(1);
  const along = data.plans.some(p => p.generator);
  const set = (label, key, name) => {
    const found = others.map(p => p.against_first[key]);
    return bars(label, found.map(d => percent(d.difference)), name, {marks: found.map(sampling),
      bands: found.map(climate), bandColour: colour("b-pale")});
  };
  const sets = [set(along ? "generators at home" : "points", "flat_home", "a")];
  if (along) sets.push(set("as written", "flat_as_planned", "b"));
  const chart = sideways("differences", letters.slice(1), sets, "points against A: left is safer", []);
  // Two bars a plan side by side, not one upon the other.
  chart.options.scales.y.stacked = false;
  chart.options.plugins.tooltip.callbacks.label = item => {
    const from = 1 + 4 * item.datasetIndex;
    return ["points", "sampling", "climate", "verdict"].map((name, i) => name + ": " + cells("differences")[item.dataIndex][from + i]);
  };
  return chart;
}

function generators() {
  const hours = key => data.plans.map(p => p.generator ? p.generator.hours[key] : null);
  return {
    type: "bar",
    data: {labels: letters, datasets: [bars("typical stay", hours("p50"), "a"), bars("one stay in ten", hours("p90"), "b")]},
    options: {
      interaction: {mode: "index", intersect: false},
      scales: {x: axis(), y: axis("hours in a stay")},
      plugins: {tooltip: {...quote("generators", [["h typical", 1], ["1 in 10", 2]]), filter: item => item.datasetIndex === 0}},
    },
  };
}

function balances() {
  const set = (label, key, name, more) => bars(label, data.plans.map(p => p[key]), name, more);
  return {
    type: "bar",
    data: {labels: letters, datasets: [set("uses", "draw_wh_per_day", "a"), set("panels give", "panels_wh_per_day", "b"),
      set("battery holds", "battery_usable_wh", "b", {backgroundColor: "transparent", borderWidth: 2})]},
    options: {
      interaction: {mode: "index", intersect: false},
      scales: {x: axis(), y: axis("Wh")},
      plugins: {tooltip: {...quote("balances", [["uses", 2], ["panels give", 3], ["battery holds", 4], ["days of autonomy", 5]]),
        filter: item => item.datasetIndex === 0}},
    },
  };
}

draw_charts({home, planned, differences, generators, balances});

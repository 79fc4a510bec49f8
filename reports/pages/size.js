"use strict";
const panels = data.vary === "panels";
const size_of = risk => panels ? risk.panels_w : risk.battery_wh;
const size_text = size => panels ? size + " W" : size >= 10000 ? size / 1000 + " kWh" : size + " Wh";
const accepted = percent(1 - data.confidence);

// Over the chart's height, where the least size may lie.
const ranges = {
  id: "ranges",
  beforeDatasetsDraw(chart) {
    if (!data.least) return;
    const {ctx: c, chartArea: area, scales: {x}} = chart;
    const pixel = size => size === null ? area.right : Math.max(area.left, Math.min(area.right, x.getPixelForValue(size)));
    c.save();
    for (const [range, name] of [[data.least.climate, "b-pale"], [data.least.sampling, "b-half"]]) {
      if (!range) continue;
      const from = pixel(range.low);
      c.fillStyle = colour(name);
      c.fillRect(from, area.top, Math.max(1, pixel(range.high) - from), area.bottom - area.top);
    }
    c.strokeStyle = colour("b");
    c.lineWidth = 1.5;
    c.beginPath();
    c.moveTo(pixel(size_of(data.least)), area.top);
    c.lineTo(pixel(size_of(data.least)), area.bottom);
    c.stroke();
    c.restore();
  },
};

function tried() {
  const point = risk => ({x: size_of(risk), y: percent(risk.flat.p)});
  const sizes = data.curve.map(size_of);
  if (data.least && data.least.climate) sizes.push(data.least.climate.low, data.least.climate.high);
  const [low, high] = [Math.min(...sizes) * 0.95, Math.max(...sizes) * 1.05];
  const steps = high / low > 20 ? [1, 2, 5] : high / low > 3 ? [1, 1.5, 2, 3, 4, 5, 6, 8] : [1, 1.2, 1.4, 1.6, 1.8, 2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 7, 8, 9];
  const ticks = [];
  for (let power = 10 ** Math.floor(Math.log10(low)); power <= high; power *= 10) {
    ticks.push(...steps.map(step => Math.round(step * power)).filter(size => low <= size && size <= high));
  }
  const every = Math.ceil(ticks.length / (wide() ? 14 : 4));
  const one = (label, risk, style, name) => ({label, data: risk ? [point(risk)] : [], pointStyle: style,
    order: -1, pointRadius: 7, pointHoverRadius: 7, borderColor: colour("ink"), backgroundColor: colour(name)});
  const sets = [
    {label: "sizes that were tried", data: data.curve.map(point), showLine: true, borderColor: colour("b"),
     backgroundColor: colour("b"), borderWidth: 2, pointRadius: 2.5, marks: data.curve.map(risk => sampling(risk.flat))},
    {label: "you accept", data: [{x: low, y: accepted}, {x: high, y: accepted}], showLine: true, pointRadius: 0,
     borderColor: colour("ink"), borderDash: [6, 5], borderWidth: 1.5, pointStyle: "line"},
    one("the plan's", data.stated, "rect", "a"),
  ];
  if (data.least) sets.push(one("the least", data.least, "rectRot", "b"));
  return {
    type: "scatter",
    data: {datasets: sets},
    options: {
      interaction: {mode: "nearest", axis: "x", intersect: false},
      scales: {
        x: axis(panels ? "rated power of all panels" : "battery on its label", {type: "logarithmic", min: low, max: high, beginAtZero: false,
          afterBuildTicks: scale => { scale.ticks = ticks.filter((t, i) => i % every === 0).map(value => ({value})); },
          ticks: {color: colour("quiet"), maxRotation: 0, autoSkip: false, callback: size_text}}),
        y: axis("% of stays", percents(sets)),
      },
      plugins: {legend: {labels: {usePointStyle: true}},
        tooltip: {...quote("tried", [["flat", 1], ["sampling", 2]]), filter: item => item.datasetIndex === 0}},
    },
    plugins: [ranges, intervals],
  };
}

function frontier() {
  const points = data.frontier.filter(p => p.least);
  const rows = cells("frontier").filter(row => row[1] !== "none does");
  const tops = points.flatMap(p => [p.least.battery_wh, p.least.sampling.high, p.least.climate && p.least.climate.high]);
  const top = 1.05 * Math.max(...tops);
  const range = r => r && [r.low, r.high === null ? top : r.high];
  const sets = [{label: "least battery", data: points.map(p => ({x: p.panels_w, y: p.least.battery_wh})),
    showLine: true, borderColor: colour("b"), backgroundColor: colour("b"), borderWidth: 2, pointRadius: 4,
    marks: points.map(p => range(p.least.sampling)), bands: points.map(p => range(p.least.climate)), bandColour: colour("b-half")}];
  return {
    type: "scatter",
    data: {datasets: sets},
    options: {
      interaction: {mode: "nearest", axis: "x", intersect: false},
      scales: {x: axis("rated power of all panels", {ticks: {color: colour("quiet"), callback: w => w + " W"}, suggestedMax: 1.05 * Math.max(...points.map(p => p.panels_w))}),
        y: axis("battery on its label", {suggestedMax: top, ticks: {color: colour("quiet"), callback: size_text}})},
      plugins: {legend: {display: false}, tooltip: {callbacks: {
        title: items => rows[items[0].dataIndex][0] + " of panels",
        label: item => [["battery", 1], ["sampling", 4], ["climate", 5]].map(([name, cell]) => name + ": " + rows[item.dataIndex][cell]),
      }}},
    },
    plugins: [intervals],
  };
}

function options() {
  const sets = [{label: "flat", data: data.options.map(o => percent(o.flat.p)), backgroundColor: colour("a-fill"),
    borderColor: colour("a"), borderWidth: 1, barPercentage: 0.7, marks: data.options.map(o => sampling(o.flat)),
    bands: data.options.map(o => climate(o.flat)), bandColour: colour("b-half")}];
  const chart = sideways("options", data.options.map(o => o.name), sets, "% of stays",
    [["battery", 1], ["panels", 2], ["flat", 3], ["sampling", 4], ["climate", 5], ["weight", 6], ["price", 7], ["lasts", 8]], two_lines);
  chart.options.scales.x.suggestedMax = Math.max(most(sets), 1.2 * accepted);
  chart.plugins.push(dashes(accepted));
  return chart;
}

draw_charts({tried, frontier, options});

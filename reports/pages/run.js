"use strict";
const nights = {
  id: "nights",
  beforeDatasetsDraw(chart) {
    if (data.hours_apart > 4) return;
    const {ctx: c, chartArea: area, scales: {x}} = chart;
    c.save();
    c.fillStyle = colour("night");
    data.hours.forEach((hour, i) => {
      if (hour.sun_up) return;
      const from = Math.max(area.left, x.getPixelForValue(i - 0.5));
      const to = Math.min(area.right, x.getPixelForValue(i + 0.5));
      c.fillRect(from, area.top, to - from, area.bottom - area.top);
    });
    c.restore();
  },
};

function risk(days = data.days, id = "risk") {
  const sets = [
        {type: "line", label: "flat by then", data: days.map(d => percent(d.flat_by_day.p)),
         borderColor: colour("b"), backgroundColor: colour("b"), pointRadius: 4, borderWidth: 2,
         marks: days.map(d => sampling(d.flat_by_day)), bandColour: colour("b-half"),
         bands: days.map(d => climate(d.flat_by_day))},
        {type: "bar", label: "flat that day", data: days.map(d => percent(d.flat_on_day.p)),
         backgroundColor: colour("a-fill"), borderColor: colour("a"), borderWidth: 1,
         barPercentage: 0.6, marks: days.map(d => sampling(d.flat_on_day))},
        {type: "line", label: "you accept", data: days.map(() => percent(data.plan.accept_risk)),
         borderColor: colour("ink"), borderDash: [6, 5], borderWidth: 1.5, pointRadius: 0,
         pointStyle: "line"},
      ];
  return {
    data: {labels: cells(id).map(row => row[0]), datasets: sets},
    options: {
      interaction: {mode: "index", intersect: false},
      scales: {x: axis(), y: axis("% of stays", percents(sets))},
      plugins: {tooltip: {...quote(id, [["flat that day", 1], ["sampling", 2],
        ["flat by then", 3], ["sampling", 4], ["climate", 5]]), filter: item => item.datasetIndex === 0}},
    },
    plugins: [intervals],
  };
}

function charge(soc = "soc", id = "charge") {
  const line = (name, key, more) => Object.assign({
    label: name, data: data.hours.map((h, i) => ({x: i, y: percent(h[soc][key])})),
    borderWidth: 0, pointRadius: 0, pointHitRadius: 0, borderColor: "transparent"}, more);
  const midnight = i => data.hours[i].time.slice(11, 13) < data.hours_apart;
  const starts = data.hours.map((h, i) => i).filter(midnight);
  const every = Math.ceil(starts.length / (wide() ? 14 : 5));
  const rows = cells(id);
  return {
    type: "line",
    data: {datasets: [
      line("nine in ten stays", "p05"),
      line("nine in ten stays", "p95", {fill: "-1", backgroundColor: colour("b-pale")}),
      line("half of the stays", "p25"),
      line("half of the stays", "p75", {fill: "-1", backgroundColor: colour("b-half")}),
      line("typical stay", "p50", {borderColor: colour("b"), backgroundColor: colour("b"), borderWidth: 2}),
    ]},
    options: {
      interaction: {mode: "index", intersect: false},
      scales: {
        x: axis("", {type: "linear", min: 0, max: data.hours.length - 1,
          afterBuildTicks: scale => { scale.ticks = starts.filter((s, i) => i % every === 0).map(value => ({value})); },
          ticks: {color: colour("quiet"), maxRotation: 0, autoSkip: false,
            callback: i => rows[i][0].split(" ").slice(1, 3).join(" ")}}),
        y: axis("% of charge", {min: 0, max: 100}),
      },
      plugins: {
        legend: {labels: {filter: item => item.datasetIndex % 2 === 1 || item.datasetIndex === 4}},
        tooltip: {callbacks: {
          title: items => rows[items[0].dataIndex][0],
          label: item => ["5 %", "25 %", "50 %", "75 %", "95 %"].map((name, i) => name + " of stays below " + rows[item.dataIndex][i + 1]),
        }, filter: item => item.datasetIndex === 4},
      },
    },
    plugins: [nights],
  };
}

function generator() {
  const rows = cells("generator");
  const shares = data.generator.hours_histogram.slice(0, rows.length);
  const ends = rows.map(row => row[2].replace("%", "").split("–").map(Number));
  const sets = [{label: "share of stays", data: shares.map(s => percent(s.share)), marks: ends,
    backgroundColor: colour("a-fill"), borderColor: colour("a"), borderWidth: 1}];
  return {
    type: "bar",
    data: {labels: shares.map(s => s.upto_h === 0 ? "none" : (s.upto_h - 1) + "–" + s.upto_h), datasets: sets},
    options: {
      scales: {x: axis("hours in a stay"), y: axis("% of stays", percents(sets))},
      plugins: {legend: {display: false}, tooltip: quote("generator", [["share", 1], ["sampling", 2]])},
    },
    plugins: [intervals],
  };
}

function budget() {
  const day = data.energy_wh_per_day;
  const bars = data.budget.map(line => ({name: line.name, use: line.wh_per_day}));
  bars.push({name: "total", use: day.draw});
  if (day.panels > 0) bars.push({name: "panels", supply: day.panels, span: [day.panels_dull_day, day.panels_clear_day]});
  if (day.vehicle > 0) bars.push({name: "vehicle", supply: day.vehicle});
  const set = (label, key, name) => ({label, data: bars.map(bar => bar[key] ?? null),
    backgroundColor: colour(name + (name === "a" ? "-fill" : "-half")), borderColor: colour(name), borderWidth: 1,
    marks: key === "supply" ? bars.map(bar => bar.span) : undefined});
  const chart = sideways("budget", bars.map(bar => bar.name), [set("uses", "use", "a"), set("supplies", "supply", "b")], "Wh a day", []);
  const rows = cells("budget");
  chart.options.plugins.tooltip = {callbacks: {
    label: item => item.dataIndex <= data.budget.length ? rows[item.dataIndex][1]
      : bars[item.dataIndex].name === "vehicle" ? rows.at(-1)[1] : rows[data.budget.length + 1][1],
  }};
  return chart;
}

function guesses() {
  const parts = data.guesses.parts;
  return sideways("guesses", parts.map(part => part.name).concat("acting together, plus chance"),
    [{label: "share of the doubt", data: parts.map(p => percent(p.share_of_doubt)).concat(percent(data.guesses.rest)),
      backgroundColor: colour("a-fill"), borderColor: colour("a"), borderWidth: 1}],
    "% of the doubt", [["spread", 1], ["share", 2]]);
}

draw_charts({
  risk: () => risk(), charge: () => charge(), generator, budget, guesses,
  "risk-along": () => risk(data.generator.days, "risk-along"),
  "charge-along": () => charge("soc_along", "charge-along"),
});

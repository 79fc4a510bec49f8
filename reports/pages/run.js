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

function budget() {
  const day = data.energy_wh_per_day;
  const bars = data.budget.map(line => ({name: line.name, use: line.wh_per_day}));
  bars.push({name: "all together", use: day.draw});
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
  return sideways("guesses", parts.map(part => part.name).concat("only together, sampling"),
    [{label: "share of the doubt", data: parts.map(p => percent(p.share_of_doubt)).concat(percent(data.guesses.rest)),
      backgroundColor: colour("a-fill"), borderColor: colour("a"), borderWidth: 1}],
    "% of the doubt", [["spread", 1], ["share", 2]]);
}

draw_charts({risk, charge, generator, budget, guesses});

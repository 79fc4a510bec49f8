"use strict";
// A sky is told by colour and by the shape of its points.
const looks = {
  clear: {colour: "b", shape: "circle"},
  mixed: {colour: "a", shape: "triangle"},
  overcast: {colour: "ink", shape: "rect"},
  rain: {colour: "quiet", shape: "crossRot"},
};
const skies = Object.keys(looks);
const heads = skies.map((sky, i) => [sky, i + 1]);

const line = (sky, label, watts, more = {}) => ({
  type: "line", label, data: watts, borderColor: colour(looks[sky].colour), backgroundColor: colour(looks[sky].colour),
  pointStyle: looks[sky].shape, pointRadius: wide() ? 4 : 3, pointBorderWidth: 1.5, borderWidth: 2, pointHitRadius: 20, clip: 8, ...more});

const chart = (id, labels, sets, title, plugins = []) => ({
  data: {labels, datasets: sets},
  options: {
    interaction: {mode: "index", intersect: false},
    scales: {x: axis(title, {ticks: {color: colour("quiet"), maxRotation: 0, autoSkipPadding: 12}, grid: {display: false}}), y: axis("W")},
    plugins: {legend: {position: "bottom", labels: {usePointStyle: true, filter: item => !item.text.endsWith("in the open")}},
      tooltip: {...quote(id, heads), filter: item => item.datasetIndex === 0}},
  },
  plugins,
});

function hours(id, camp) {
  const here = camp.skies.map(day => line(day.sky, day.sky, day.here_w));
  const open = camp.skies.map(day => line(day.sky, day.sky + ", in the open", day.open_w,
    {borderDash: [5, 4], borderWidth: 1.5, pointRadius: 0}));
  return chart(id, camp.hours_from, camp.shaded ? [...here, ...open] : here, "hour that begins at");
}

// A dashed line at the plan's own canopy.
const own = at => ({
  id: "own",
  beforeDatasetsDraw({ctx: c, chartArea: area, scales: {x}}) {
    c.save();
    c.strokeStyle = colour("ink");
    c.setLineDash([2, 3]);
    c.beginPath();
    c.moveTo(x.getPixelForValue(at), area.top);
    c.lineTo(x.getPixelForValue(at), area.bottom);
    c.stroke();
    c.restore();
  },
});

function canopies(id, camp) {
  const rows = camp.by_canopy;
  const sets = skies.map(sky => line(sky, sky, rows.map(row => ({x: row.canopy, y: row.watts[sky]}))));
  const made = chart(id, rows.map(row => row.canopy), sets, "canopy", [own(camp.canopy)]);
  Object.assign(made.options.scales.x, {type: "linear", min: 0, max: 1});
  return made;
}

const makers = {};
for (const camp of data.camps) {
  makers["hours-" + camp.camp] = () => hours("hours-" + camp.camp, camp);
  makers["canopy-" + camp.camp] = () => canopies("canopy-" + camp.camp, camp);
}
draw_charts(makers);

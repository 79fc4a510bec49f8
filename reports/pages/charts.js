"use strict";
// Shared by all pages. The page's own script, which follows, calls draw_charts() with a function for
// each chart, named by its id, that returns what the chart library takes.
const data = JSON.parse(document.getElementById("data").textContent);
const root = document.documentElement;
const colour = name => getComputedStyle(root).getPropertyValue("--" + name).trim();
const percent = share => 100 * share;
const sampling = s => [percent(s.low), percent(s.high)];
const climate = s => s.climate_low === null ? null : [percent(s.climate_low), percent(s.climate_high)];
// Tables hold the rounded figures: tooltips quote them, so that no digit shows that is not known.
const cells = id => [...document.querySelectorAll("#" + id + " tbody tr:not(.group)")]
  .map(row => [...row.cells].map(cell => cell.textContent));
// How a risk stands to the one that is accepted: by shape and word, not by colour alone.
const standings = {
  yes: {word: "works", shape: "circle", colour: "holds"},
  close: {word: "close", shape: "triangle", colour: "close"},
  no: {word: "no", shape: "crossRot", colour: "fails"},
};
const wide = () => root.clientWidth >= 700;
const cut = (text, most = wide() ? 24 : 19) =>
  [...text].length > most ? [...text].slice(0, most - 1).join("").trim() + "…" : text;

// For names that a single line would not tell apart.
const two_lines = text => {
  const most = wide() ? 40 : 20;
  const words = text.split(" ");
  let first = words.shift();
  while (words.length && [...first + " " + words[0]].length <= most) first += " " + words.shift();
  return words.length ? [cut(first, most), cut(words.join(" "), most)] : cut(first, most);
};

// Draws each dataset's `marks` (thin, with ends) and `bands` (broad) along the value axis, no
// broader than there is room for each.
const intervals = {
  id: "intervals",
  afterDatasetsDraw(chart) {
    const sideways = chart.options.indexAxis === "y";
    const value = chart.scales[sideways ? "x" : "y"];
    const c = chart.ctx;
    const {left, right, top, bottom} = chart.chartArea;
    const room = (sideways ? bottom - top : right - left) / chart.data.labels.length;
    const [broad, end_half] = [Math.min(13, 0.8 * room), Math.min(4, room / 3)];
    const stroke = (style, width, at, [low, high], ends) => {
      const [from, to] = [value.getPixelForValue(low), value.getPixelForValue(high)];
      const line = (a, b, d, e) => sideways ? (c.moveTo(b, a), c.lineTo(e, d)) : (c.moveTo(a, b), c.lineTo(d, e));
      c.strokeStyle = style;
      c.lineWidth = width;
      c.beginPath();
      line(at, from, at, to);
      if (ends) for (const end of [from, to]) line(at - end_half, end, at + end_half, end);
      c.stroke();
    };
    c.save();
    chart.data.datasets.forEach((set, i) => {
      if (!chart.isDatasetVisible(i)) return;
      chart.getDatasetMeta(i).data.forEach((point, k) => {
        const at = sideways ? point.y : point.x;
        if (set.bands && set.bands[k]) stroke(set.bandColour, broad, at, set.bands[k], false);
        if (set.marks && set.marks[k]) stroke(colour("ink"), 1.5, at, set.marks[k], true);
      });
    });
    c.restore();
  },
};
const axis = (title, more = {}) => Object.assign({
  title: {display: !!title, text: title, color: colour("quiet")},
  ticks: {color: colour("quiet")}, grid: {color: colour("grid")}, beginAtZero: true,
}, more);
const ends = (sets, end) => sets.flatMap(s => [...(s.bands || []), ...(s.marks || [])]).filter(Boolean).map(m => m[end]);
const most = sets => Math.max(...ends(sets, 1));
const percents = sets => ({min: 0, suggestedMax: Math.max(10, most(sets)), max: most(sets) > 90 ? 100 : undefined});
// `first` rows of the table have no bar.
const quote = (id, heads, first = 0) => ({callbacks: {
  title: items => cells(id)[items[0].dataIndex + first][0],
  label: item => heads.map(([name, cell]) => name + ": " + cells(id)[item.dataIndex + first][cell]),
}});

// A dashed line at a value of a sideways chart.
const dashes = value => ({
  id: "dashes",
  afterDatasetsDraw({ctx: c, chartArea: area, scales: {x}}) {
    const at = x.getPixelForValue(value);
    if (at < area.left || at > area.right) return;
    c.save();
    c.strokeStyle = colour("ink");
    c.lineWidth = 1.5;
    c.setLineDash([6, 5]);
    c.beginPath();
    c.moveTo(at, area.top);
    c.lineTo(at, area.bottom);
    c.stroke();
    c.restore();
  },
});

const sideways = (id, labels, sets, title, heads, shown = text => cut(text)) => ({
  type: "bar",
  data: {labels: labels.map(shown), datasets: sets},
  options: {
    indexAxis: "y",
    scales: {x: axis(title, {suggestedMin: Math.min(0, ...ends(sets, 0)), suggestedMax: Math.max(0, most(sets)), ticks: {color: colour("quiet"), maxTicksLimit: wide() ? 9 : 4, maxRotation: 0}}), y: axis("", {ticks: {color: colour("ink"), autoSkip: false}, grid: {display: false}, stacked: true})},
    plugins: {legend: {display: sets.length > 1}, tooltip: quote(id, heads)},
  },
  plugins: [intervals],
});

// For bars that may be too short to point at.
const whole_row = {mode: "index", axis: "y", intersect: false};

// In rem.
const sideways_height = ({data: {labels, datasets}, options}, paper) => {
  const beside = options.scales.y.stacked ? 1 : datasets.length;
  const lines = labels.some(Array.isArray) ? (paper ? 2 : 1.6) : beside;
  const rows = lines * labels.length;
  return paper ? (beside > 1 ? 5 : 3.5) + 0.75 * rows : 5 + 1.7 * rows;
};

function draw_charts(makers) {
  let charts = [];
  const draw = () => {
    const paper = root.classList.contains("paper");
    charts.forEach(chart => chart.destroy());
    Chart.defaults.color = colour("ink");
    Chart.defaults.font.size = paper ? 10 : 12;
    Chart.defaults.font.family = getComputedStyle(document.body).fontFamily;
    charts = Object.entries(makers).flatMap(([id, make]) => {
      const canvas = document.getElementById(id + "-chart");
      if (!canvas) return [];
      const config = make();
      Object.assign(config.options, {animation: false, maintainAspectRatio: false, responsive: true});
      if (paper) config.options.devicePixelRatio = 3;
      if (config.options.indexAxis === "y") {
        canvas.parentNode.style.height = sideways_height(config, paper) + "rem";
      }
      return [new Chart(canvas, config)];
    });
  };
  root.classList.add("drawn");
  draw();
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", draw);
  addEventListener("beforeprint", () => { root.classList.add("paper"); draw(); });
  addEventListener("afterprint", () => { root.classList.remove("paper"); draw(); });
}

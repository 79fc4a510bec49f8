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
const wide = () => root.clientWidth >= 700;
const cut = text => {
  const most = wide() ? 24 : 19;
  return [...text].length > most ? [...text].slice(0, most - 1).join("").trim() + "…" : text;
};

// Draws each dataset's `marks` (thin, with ends) and `bands` (broad) along the value axis.
const intervals = {
  id: "intervals",
  afterDatasetsDraw(chart) {
    const sideways = chart.options.indexAxis === "y";
    const value = chart.scales[sideways ? "x" : "y"];
    const c = chart.ctx;
    const stroke = (style, width, at, [low, high], ends) => {
      const [from, to] = [value.getPixelForValue(low), value.getPixelForValue(high)];
      const line = (a, b, d, e) => sideways ? (c.moveTo(b, a), c.lineTo(e, d)) : (c.moveTo(a, b), c.lineTo(d, e));
      c.strokeStyle = style;
      c.lineWidth = width;
      c.beginPath();
      line(at, from, at, to);
      if (ends) for (const end of [from, to]) line(at - 4, end, at + 4, end);
      c.stroke();
    };
    c.save();
    chart.data.datasets.forEach((set, i) => {
      if (!chart.isDatasetVisible(i)) return;
      chart.getDatasetMeta(i).data.forEach((point, k) => {
        const at = sideways ? point.y : point.x;
        if (set.bands && set.bands[k]) stroke(set.bandColour, 13, at, set.bands[k], false);
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
const most = sets => Math.max(...sets.flatMap(s => [...(s.bands || []), ...(s.marks || [])]).filter(Boolean).map(m => m[1]));
const percents = sets => ({min: 0, suggestedMax: Math.max(10, most(sets)), max: most(sets) > 90 ? 100 : undefined});
const quote = (id, heads) => ({callbacks: {
  title: items => cells(id)[items[0].dataIndex][0],
  label: item => heads.map(([name, cell]) => name + ": " + cells(id)[item.dataIndex][cell]),
}});

const sideways = chart.options.indexAxis === "y";
    const value = chart.scales[sideways ? "x" : "y"];
    const c = chart.ctx;
    const stroke = (style, width, at, [low, high], ends) => {
      const [from, to] = [value.getPixelForValue(low), value.getPixelForValue(high)];
      const line = (a, b, d, e) => sideways ? (c.moveTo(b, a), c.lineTo(e, d)) : (c.moveTo(a, b), c.lineTo(d, e));
      c.strokeStyle = style;
      c.lineWidth = width;
      c.beginPath();
      line(at, from, at, to);
      if (ends) for (const end of [from, to]) line(at - 4, end, at + 4, end);
      c.stroke();
    };
    c.save();
    chart.data.datasets.forEach((set, i) => {
      if (!chart.isDatasetVisible(i)) return;
      chart.getDatasetMeta(i).data.forEach((point, k) => {
        const at = sideways ? point.y : point.x;
        if (set.bands && set.bands[k]) stroke(set.bandColour, 13, at, set.bands[k], false);
        if (set.marks && set.marks[k]) stroke(colour("ink"), 1.5, at, set.marks[k], true);
      });
    });
    c.restore();
  },
};
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

const axis = (title, more = {}) => Object.assign({
  title: {display: !!title, text: title, color: colour("quiet")},
  ticks: {color: colour("quiet")}, grid: {color: colour("grid")}, beginAtZero: true,
}, more);
const most = sets => Math.max(...sets.flatMap(s => [...(s.bands || []), ...(s.marks || [])]).filter(Boolean).map(m => m[1]));
const percents = sets => ({min: 0, suggestedMax: Math.max(10, most(sets)), max: most(sets) > 90 ? 100 : undefined});
const quote = (id, heads) => ({callbacks: {
  title: items => cells(id)[items[0].dataIndex][0],
  label: item => heads.map(([name, cell]) => name + ": " + cells(id)[item.dataIndex][cell]),
}});

function risk() {
  const days = data.days;
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
    data: {labels: cells("risk").map(row => row[0]), datasets: sets},
    options: {
      interaction: {mode: "index", intersect: false},
      scales: {x: axis(), y: axis("% of stays", percents(sets))},
      plugins: {tooltip: {...quote("risk", [["flat that day", 1], ["sampling", 2],
        ["flat by then", 3], ["sampling", 4], ["climate", 5]]), filter: item => item.datasetIndex === 0}},
    },
    plugins: [intervals],
  };
}

function charge() {
  const line = (name, key, more) => Object.assign({
    label: name, data: data.hours.map((h, i) => ({x: i, y: percent(h.soc[key])})),
    borderWidth: 0, pointRadius: 0, pointHitRadius: 0, borderColor: "transparent"}, more);
  const midnight = i => data.hours[i].time.slice(11, 13) < data.hours_apart;
  const starts = data.hours.map((h, i) => i).filter(midnight);
  const every = Math.ceil(starts.length / (wide() ? 14 : 5));
  const rows = cells("charge");
  return {
    type: "line",
    data: {datasets: [
      line("nine in ten stays", "p05"),
      line("nine in ten stays", "p95", {fill: "-1", backgroundColor: colour("b-pale")}),
      line("half of the stays", "p25"),
      line("half of the stays", "p75", {fill: "-1", backgroundColor: colour("b-half")}),
      line("middle stay", "p50", {borderColor: colour("b"), backgroundColor: colour("b"), borderWidth: 2}),
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

const sideways = (id, labels, sets, title, heads) => ({
  type: "bar",
  data: {labels: labels.map(cut), datasets: sets},
  options: {
    indexAxis: "y",
    scales: {x: axis(title, {suggestedMax: Math.max(0, most(sets)), ticks: {color: colour("quiet"), maxTicksLimit: wide() ? 9 : 4, maxRotation: 0}}), y: axis("", {ticks: {color: colour("ink"), autoSkip: false}, grid: {display: false}, stacked: true})},
    plugins: {legend: {display: sets.length > 1}, tooltip: quote(id, heads)},
  },
  plugins: [intervals],
});

// In rem.
const sideways_height = (labels, paper) => paper ? 3.5 + 0.75 * labels : 5 + 1.7 * labels;

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
        canvas.parentNode.style.height = sideways_height(config.data.labels.length, paper) + "rem";
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

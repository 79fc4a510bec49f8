"use strict";
const weeks = data.weeks;
const own = weeks.findIndex(week => week.arrive === data.plan.arrive.slice(0, 10));
const arrivals = cells("weeks").map(row => row[0].replace(" *", ""));

// Above the plot: how each week stands, by fill and, where there is room, by word.
const strip = stands => ({
  id: "strip",
  afterDraw(chart) {
    const {ctx: c, chartArea: area, scales: {x}} = chart;
    const slot = (area.right - area.left) / stands.length;
    const [top, height] = [area.top - 22, 15];
    c.save();
    c.font = "11px " + Chart.defaults.font.family;
    c.textAlign = "center";
    c.textBaseline = "middle";
    for (let from = 0, to; from < stands.length; from = to) {
      for (to = from + 1; to < stands.length && stands[to] === stands[from];) ++to;
      const stand = standings[stands[from]];
      const [left, width] = [area.left + from * slot, (to - from) * slot];
      c.save();
      c.beginPath();
      c.rect(left, top, width, height);
      c.fillStyle = c.strokeStyle = colour(stand.colour);
      c.lineWidth = 1;
      c.stroke();
      if (stands[from] === "yes") c.fill();
      if (stands[from] === "close") {
        c.clip();
        c.beginPath();
        for (let at = left - height; at < left + width; at += 5) (c.moveTo(at, top + height), c.lineTo(at + height, top));
        c.stroke();
      }
      c.restore();
      if (c.measureText(stand.word).width + 6 > width) continue;
      const [centre, middle] = [left + width / 2, top + height / 2 + 0.5];
      c.fillStyle = colour(stands[from] === "yes" ? "card" : "ink");
      if (stands[from] === "close") {
        c.lineWidth = 5;
        c.strokeStyle = colour("card");
        c.strokeText(stand.word, centre, middle);
      }
      c.fillText(stand.word, centre, middle);
    }
    c.restore();
  },
});

const plan_week = {
  id: "plan_week",
  beforeDatasetsDraw(chart) {
    const {ctx: c, chartArea: area, scales: {x}} = chart;
    const at = x.getPixelForValue(own);
    c.save();
    c.strokeStyle = colour("ink");
    c.setLineDash([2, 3]);
    c.beginPath();
    c.moveTo(at, area.top);
    c.lineTo(at, area.bottom);
    c.stroke();
    c.restore();
  },
  afterDatasetsDraw(chart) {
    const {ctx: c, chartArea: area, scales: {x}} = chart;
    const at = x.getPixelForValue(own);
    const text = "the plan's week";
    c.save();
    c.font = "11px " + Chart.defaults.font.family;
    c.textBaseline = "top";
    c.textAlign = at + c.measureText(text).width + 8 > area.right ? "right" : "left";
    const left = at + (c.textAlign === "left" ? 4 : -4);
    // Readable where marks lie behind it.
    c.lineWidth = 4;
    c.strokeStyle = colour("card");
    c.fillStyle = colour("ink");
    c.strokeText(text, left, area.top + 3);
    c.fillText(text, left, area.top + 3);
    c.restore();
  },
};

const by_week = () => axis("", {ticks: {color: colour("quiet"), maxRotation: 0, autoSkipPadding: 12}, grid: {display: false}, offset: true});

function risk_by_week(id, of, heads) {
  const risks = weeks.map(of);
  const stands = risks.map(risk => standings[risk.holds]);
  const sets = [
    {type: "line", label: "flat", data: risks.map(risk => percent(risk.flat.p)),
     borderColor: colour("b"), borderWidth: 1.5, backgroundColor: colour("b"),
     pointStyle: stands.map(stand => stand.shape), pointRadius: wide() ? 5 : 3,
     pointBackgroundColor: stands.map(stand => colour(stand.colour)),
     pointBorderColor: stands.map(stand => colour(stand.colour)), pointBorderWidth: 1.5, pointHitRadius: 20, clip: 8,
     marks: risks.map(risk => sampling(risk.flat)), bands: risks.map(risk => climate(risk.flat)), bandColour: colour("b-half")},
    {type: "line", label: "you accept", data: risks.map(() => percent(data.plan.accept_risk)),
     borderColor: colour("ink"), borderDash: [6, 5], borderWidth: 1.5, pointRadius: 0, pointStyle: "line"},
  ];
  return {
    data: {labels: arrivals, datasets: sets},
    options: {
      layout: {padding: {top: 26}},
      interaction: {mode: "index", intersect: false},
      scales: {x: by_week(), y: axis("% of stays", percents(sets))},
      plugins: {legend: {position: "bottom"},
        tooltip: {...quote(id, heads), filter: item => item.datasetIndex === 0}},
    },
    plugins: [intervals, strip(risks.map(risk => risk.holds)), plan_week],
  };
}

function hours() {
  const sets = [
    {type: "bar", label: "on average", data: weeks.map(week => week.generator.hours_mean),
     backgroundColor: colour("a-fill"), borderColor: colour("a"), borderWidth: 1},
    {type: "line", label: "1 in 10", data: weeks.map(week => week.generator.hours_p90), showLine: false,
     pointStyle: "line", pointRadius: wide() ? 5 : 3, pointBorderWidth: 2, borderColor: colour("ink"), pointHitRadius: 20},
  ];
  return {
    data: {labels: arrivals, datasets: sets},
    options: {
      interaction: {mode: "index", intersect: false},
      scales: {x: by_week(), y: axis("hours in a stay")},
      plugins: {legend: {position: "bottom", labels: {usePointStyle: true}},
        tooltip: {...quote("hours", [["on average", 1], ["1 in 10", 2]]), filter: item => item.datasetIndex === 0}},
    },
    plugins: [plan_week],
  };
}

const risk_heads = [["works", 1], ["flat", 2], ["sampling", 3], ["climate", 4]];
draw_charts({
  weeks: () => risk_by_week("weeks", week => week, risk_heads),
  along: () => risk_by_week("along", week => week.generator, risk_heads),
  hours,
});

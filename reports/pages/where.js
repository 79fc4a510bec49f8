"use strict";
const {latitude, longitude, yes, close, cell, coast} = data.map;
const camps = data.plan.camp;

// East of the widest stretch without places, so that no group of them is cut at the date line.
const eastward = (() => {
  const all = [...longitude, ...camps.map(camp => camp.longitude)].sort((a, b) => a - b);
  const gap = i => all[i] - (i === 0 ? all.at(-1) - 360 : all[i - 1]);
  const first = all.reduce((best, _, i) => gap(i) > gap(best) ? i : best, 0);
  return degrees => degrees < all[first] ? degrees + 360 : degrees;
})();
const camp_points = camps.map((camp, i) => ({x: eastward(camp.longitude), y: camp.latitude, camp: i}));
const place_points = latitude.map((y, i) => ({x: eastward(longitude[i]), y, row: i}));

const box_of = points => {
  const [xs, ys] = [points.map(p => p.x), points.map(p => p.y)];
  const [west, east, south, north] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const more = 0.06 * Math.max(east - west, north - south, 1);
  return {x: (west + east) / 2, y: (south + north) / 2, width: east - west + 2 * more, height: north - south + 2 * more};
};
const all_of_them = box_of([...place_points, ...camp_points]);
const worldwide = 100;
let view = all_of_them.width <= worldwide ? all_of_them
  : box_of([...place_points.slice(0, data.places.length), ...camp_points]);
let centre = camp_points[0];  // what zooming keeps in the middle

// The same length for a mile north as for a mile east, at the middle latitude.
const equal_scale = {
  id: "equal_scale",
  afterUpdate(chart) {
    const {chartArea: area, options: {scales: {x, y}}} = chart;
    const shrink = Math.max(0.1, Math.cos(view.y * Math.PI / 180));
    const [width, height] = [area.right - area.left, area.bottom - area.top];
    const degrees = Math.max(view.width * shrink / width, view.height / height);
    const fit = (axis, middle, half) => {
      const moved = Math.abs(axis.min - (middle - half)) + Math.abs(axis.max - (middle + half));
      [axis.min, axis.max] = [middle - half, middle + half];
      return !(moved < 1e-3 * half);
    };
    const moved = [fit(x, view.x, degrees * width / shrink / 2), fit(y, view.y, degrees * height / 2)];
    // Other labels may take other room, which a few turns settle.
    chart.turns = (chart.turns || 0) + 1;
    if (moved.some(Boolean) && chart.turns < 6) chart.update("none");
    chart.turns = 0;
  },
};

const named_camps = {
  id: "named_camps",
  afterDatasetsDraw(chart) {
    const {ctx: c, chartArea: area, scales: {x, y}} = chart;
    c.save();
    c.font = "bold 12px " + Chart.defaults.font.family;
    c.textBaseline = "middle";
    c.lineWidth = 4;
    c.strokeStyle = colour("card");
    c.fillStyle = colour("ink");
    camp_points.forEach((point, i) => {
      const [left, top] = [x.getPixelForValue(point.x), y.getPixelForValue(point.y)];
      if (left < area.left || left > area.right || top < area.top || top > area.bottom) return;
      const text = camps.length > 1 ? "camp " + (i + 1) : "camp";
      const at = left + 12 + c.measureText(text).width > area.right ? left - 12 - c.measureText(text).width : left + 12;
      c.strokeText(text, at, top);
      c.fillText(text, at, top);
    });
    c.restore();
  },
};

// Cells as such where the places are the middles of a grid, and the outlines of land below them.
const ground = {
  id: "ground",
  beforeDatasetsDraw(chart) {
    if (!cell) return;
    const {ctx: c, chartArea: area, scales: {x, y}} = chart;
    c.save();
    c.beginPath();
    c.rect(area.left, area.top, area.right - area.left, area.bottom - area.top);
    c.clip();
    place_points.forEach((point, i) => {
      const stand = standings[i < yes ? "yes" : i < yes + close ? "close" : "no"];
      const [west, north] = [x.getPixelForValue(point.x - cell / 2), y.getPixelForValue(point.y + cell / 2)];
      const [east, south] = [x.getPixelForValue(point.x + cell / 2), y.getPixelForValue(point.y - cell / 2)];
      c.globalAlpha = 0.35;
      c.fillStyle = colour(stand.colour);
      c.fillRect(west, north, east - west + 0.5, south - north + 0.5);
    });
    c.globalAlpha = 1;
    c.strokeStyle = colour("ink");
    c.lineWidth = 1;
    coast.forEach(line => {
      c.beginPath();
      for (let i = 0; i < line.length; i += 2) {
        const east = eastward(line[i]), far = i > 0 && Math.abs(east - eastward(line[i - 2])) > 180;
        c[i === 0 || far ? "moveTo" : "lineTo"](x.getPixelForValue(east), y.getPixelForValue(line[i + 1]));
      }
      c.stroke();
    });
    c.restore();
  },
};

const degrees_text = (value, positive, negative) => {
  const turned = positive === "E" && value > 180 ? value - 360 : value;
  return +Math.abs(turned).toFixed(2) + "°" + (turned > 0 ? " " + positive : turned < 0 ? " " + negative : "");
};
const graticule = (positive, negative, room) => ({
  type: "linear",
  afterFit(scale) { if (positive === "N") scale.width = 64; },
  grid: {color: colour("grid")},
  ticks: {color: colour("quiet"), maxRotation: 0, autoSkip: false, callback: value => degrees_text(value, positive, negative)},
  afterBuildTicks(scale) {
    const {min, max, chart: {chartArea: area, width}} = scale;
    const length = area ? (positive === "E" ? area.right - area.left : area.bottom - area.top) : width;
    const step = [0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 60].find(s => s / (max - min) * length >= room) || 90;
    scale.ticks = [];
    for (let k = Math.ceil(min / step); k * step <= max; ++k) scale.ticks.push({value: k * step});
  },
});

function map() {
  const paper = root.classList.contains("paper");
  const canvas = document.getElementById("map-chart");
  canvas.parentNode.style.height = paper ? "18rem" : wide() ? "34rem" : "25rem";
  const rows = cells("map");
  const heads = data.plan.generator ? ["flat", "sampling", "with gen"] : ["flat", "sampling"];
  const group = (name, from, to) => {
    const stand = standings[name];
    return {label: stand.word + ": " + (to - from), data: place_points.slice(from, to), pointStyle: stand.shape,
      pointRadius: cell ? 2 : name === "close" ? 6 : 5, pointHoverRadius: 8, pointHitRadius: 22, pointBorderWidth: name === "no" ? 2 : 1,
      backgroundColor: colour(stand.colour), borderColor: colour(name === "no" ? stand.colour : "card")};
  };
  return {
    type: "scatter",
    data: {datasets: [
      {label: "the plan's camps", data: camp_points, pointStyle: "circle", pointRadius: 10, pointHoverRadius: 10, pointHitRadius: 4,
       pointBorderWidth: 2.5, backgroundColor: "transparent", borderColor: colour("ink")},
      group("yes", 0, yes), group("close", yes, yes + close), group("no", yes + close, place_points.length)]},
    options: {
      layout: {padding: {top: 8, right: 16}},
      interaction: {mode: "nearest", intersect: true},
      onClick(event, elements, chart) {
        if (elements.length > 0) centre = chart.data.datasets[elements[0].datasetIndex].data[elements[0].index];
      },
      scales: {x: graticule("E", "W", 70), y: graticule("N", "S", 45)},
      plugins: {
        legend: {position: "bottom", labels: {usePointStyle: true}},
        tooltip: {usePointStyle: true, filter: (item, i) => i === 0, callbacks: {
          title: items => items.map(item => item.raw.row === undefined ? "the plan's camp " + (item.raw.camp + 1) : rows[item.raw.row][0]),
          label: item => item.raw.row === undefined ? "weather of " + camps[item.raw.camp].place
            : heads.map((name, cell) => name + ": " + rows[item.raw.row][cell + 1]),
        }},
      },
    },
    plugins: [equal_scale, ground, named_camps],
  };
}

function add_tools() {
  const canvas = document.getElementById("map-chart");
  if (!canvas) return;
  const tools = document.createElement("div");
  tools.className = "tools";
  const zoom = factor => () => ({x: centre.x, y: centre.y, width: view.width * factor, height: view.height * factor});
  for (const [name, change] of [["Zoom in", zoom(0.5)], ["Zoom out", zoom(2)], ["All", () => all_of_them]]) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = name;
    button.addEventListener("click", () => {
      view = change();
      Chart.getChart(canvas).update("none");
    });
    tools.append(button);
  }
  canvas.parentNode.after(tools);
}

function places() {
  const rows = cells("places");
  const heads = [...document.querySelectorAll("#places thead th")].map((head, i) => [head.textContent, i]).slice(1);
  const chart = sideways("places", rows.map(row => row[0]), [{
    label: "flat", data: data.places.map(place => percent(place.flat.p)),
    marks: data.places.map(place => sampling(place.flat)), bands: data.places.map(place => climate(place.flat)),
    bandColour: colour("b-half"), backgroundColor: colour("a-fill"), borderColor: colour("a"), borderWidth: 1,
  }], "% of stays", heads);
  const reach = Math.max(most(chart.data.datasets), percent(1.2 * data.plan.accept_risk));
  Object.assign(chart.options.scales.x, {suggestedMax: reach, max: reach > 90 ? 100 : undefined});
  chart.plugins.push(dashes(percent(data.plan.accept_risk)));
  return chart;
}

add_tools();
draw_charts({map, places});

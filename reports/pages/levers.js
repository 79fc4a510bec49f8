"use strict";
const help = lever => ["helps", "unclear", "hurts"].indexOf(lever.says);
const levers = [...data.levers].sort((a, b) => help(a) - help(b));  // as in the tables

// What tells bars apart without colour.
const filled_with = (name, paint) => {
  const tile = document.createElement("canvas");
  tile.width = tile.height = 8;
  const c = tile.getContext("2d");
  c.strokeStyle = c.fillStyle = colour(name);
  c.lineWidth = 1.5;
  c.beginPath();
  paint(c);
  return c.createPattern(tile, "repeat");
};
const hatched = c => {
  for (const x of [-4, 4]) { c.moveTo(x - 1, 9); c.lineTo(x + 9, -1); }
  c.moveTo(-1, 1); c.lineTo(1, -1); c.moveTo(7, 9); c.lineTo(9, 7);
  c.stroke();
};
const dotted = c => { for (const [x, y] of [[2, 2], [6, 6]]) c.fillRect(x - 1, y - 1, 2.5, 2.5); };

function levers_chart() {
  const set = (label, which, fill, name) => {
    const own = levers.map(l => help(l) === which ? l.difference : null);
    return {label, data: own.map(d => d && percent(d.difference)), backgroundColor: fill, borderColor: colour(name),
      borderWidth: 1, marks: own.map(d => d && sampling(d)), bands: own.map(d => d && climate(d)), bandColour: colour("b-pale")};
  };
  const sets = [set("helps", 0, colour("b-half"), "b"), set("no clear difference", 1, filled_with("quiet", hatched), "quiet"),
    set("makes it worse", 2, filled_with("a", dotted), "a")].filter(s => s.data.some(v => v !== null));
  const heads = [["flat", 1], ["points", 2], ["sampling", 3], ["climate", 4]];
  if (data.generator) heads.push(["gen. h", 5], ["gen. h, 95 %", 6]);
  const chart = sideways("levers", levers.map(l => l.change), sets, "points against the plan as it is", [], two_lines);
  const tens = (share, round) => 10 * round(share / 10);
  Object.assign(chart.options.scales.x, {min: tens(Math.min(0, ...ends(sets, 0)), Math.floor), max: tens(Math.max(0, most(sets)), Math.ceil)});
  chart.options.plugins.legend.display = true;
  chart.options.interaction = whole_row;
  chart.options.plugins.tooltip = {...quote("levers", heads, 1), filter: item => item.raw !== null};
  return chart;
}

function after() {
  const flats = [data.flat_home, ...levers.map(l => l.flat)];
  const accepted = percent(data.plan.accept_risk);
  const sets = [{label: "flat", data: flats.map(f => percent(f.p)), backgroundColor: colour("a-fill"),
    borderColor: colour("a"), borderWidth: 1, marks: flats.map(sampling)}];
  const chart = sideways("after", ["the plan as it is", ...levers.map(l => l.change)], sets, "% of stays",
    [["flat", 1], ["sampling", 2], ["stands", 3]], two_lines);
  chart.options.scales.x.suggestedMax = Math.max(most(sets), 1.2 * accepted);
  chart.options.interaction = whole_row;
  chart.plugins.push(dashes(accepted));
  return chart;
}

draw_charts({levers: levers_chart, after});

"use strict";
function readings() {
  const chart = sideways("readings", cells("readings").map(row => row[0]), [{
    label: "off by", data: data.readings.map(reading => reading.off_by),
    backgroundColor: colour("a-fill"), borderColor: colour("a"), borderWidth: 1,
  }], "standard errors", [["by the list", 1], ["on the display", 2], ["corrected", 3], ["off by", 4]], two_lines);
  const wrong = 3;
  Object.assign(chart.options.scales.x, {suggestedMin: -wrong - 1, suggestedMax: wrong + 1});
  chart.options.interaction = whole_row;
  chart.plugins.push(dashes(-wrong), dashes(wrong));
  return chart;
}

function figures() {
  const added = data.figures.some(figure => figure.spread_is === "added");
  const sets = [{
    label: "corrected by", data: data.changes.map(change => percent(change.corrected)),
    marks: data.changes.map(change => sampling(change.now)),
    bands: data.changes.map(change => sampling(change.before)), bandColour: colour("b-half"),
    backgroundColor: colour("a-fill"), borderColor: colour("a"), borderWidth: 1,
  }];
  const chart = sideways("figures", data.figures.map(figure => figure.name), sets,
    "% of what the plan states" + (added ? ", or points" : ""),
    [["stated", 2], ["range before", 3], ["corrected", 4], ["range now", 5]], two_lines);
  chart.options.interaction = whole_row;
  return chart;
}

draw_charts({readings, figures});

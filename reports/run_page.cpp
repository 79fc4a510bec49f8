#include "reports/run_page.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <ostream>
#include <stdexcept>
#include <vector>

#include <fmt/format.h>

#include "reports/cautions.hpp"
#include "reports/hindcast_report.hpp"
#include "reports/json_report.hpp"
#include "reports/number_text.hpp"
#include "reports/risk_summary_parts.hpp"
#include "reports/text_report.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

using Rows = std::vector<std::vector<std::string>>;

std::string valid_utf8(std::string_view text) {
  const std::string quoted = Json(text).dump(-1, ' ', false, Json::error_handler_t::replace);
  return Json::parse(quoted).get<std::string>();
}

/// Up to `most` characters, with a sign of what is left out.
std::string cut(std::string_view text, std::size_t most) {
  std::size_t characters = 0, at = 0;
  for (; at < text.size(); ++at) {
    const bool begins = (static_cast<unsigned char>(text[at]) & 0xC0) != 0x80;
    if (begins && ++characters > most) return std::string(text.substr(0, at)) + "…";
  }
  return std::string(text);
}

std::string table(std::string_view id, std::string_view caption,
                  const std::vector<std::string>& heads, const Rows& rows) {
  std::string out = fmt::format(
      "<div class=\"scroll\" role=\"region\" tabindex=\"0\" aria-labelledby=\"{0}-caption\">"
      "<table id=\"{0}\"><caption id=\"{0}-caption\">{1}</caption>\n<thead><tr>",
      id, caption);
  for (const auto& head : heads) out += fmt::format("<th scope=\"col\">{}</th>", head);
  out += "</tr></thead>\n<tbody>\n";
  for (const auto& row : rows) {
    out += fmt::format("<tr><th scope=\"row\">{}</th>", row.front());
    for (std::size_t i = 1; i < row.size(); ++i) out += fmt::format("<td>{}</td>", row[i]);
    out += "</tr>\n";
  }
  return out + "</tbody></table></div>\n";
}

struct Part {
  std::string id, heading, says;  ///< `says`: how to read the chart, and its label for who cannot
  std::string table;
  std::string after = {};
  bool table_open = false;
};

std::string section(const Part& part) {
  return fmt::format(
      "<section aria-labelledby=\"{0}-heading\"><h3 id=\"{0}-heading\">{1}</h3>\n"
      "<figure><div class=\"chart\"><canvas id=\"{0}-chart\" role=\"img\" "
      "aria-labelledby=\"{0}-heading\" aria-describedby=\"{0}-says\"></canvas></div>"
      "<figcaption id=\"{0}-says\">{2}</figcaption></figure>\n"
      "<details{3}><summary>Table: {1}</summary>\n{4}</details>\n{5}</section>\n",
      part.id, part.heading, part.says, part.table_open ? " open" : "", part.table, part.after);
}

// Text in which a number and its per cent sign stay on one line.
std::string prose(std::string_view text) {
  constexpr std::string_view kNoBreakSpace = "\u00A0";
  std::string out = html_text(text);
  for (auto at = out.find(" %"); at != std::string::npos; at = out.find(" %", at)) {
    out.replace(at, 1, kNoBreakSpace);
  }
  return out;
}

std::string paragraph(std::string_view text) {
  return fmt::format("<p>{}</p>\n", prose(text));
}

std::string list(const std::vector<std::string>& html_items) {
  std::string out = "<ul>\n";
  for (const auto& item : html_items) out += fmt::format("<li>{}</li>\n", item);
  return out + "</ul>\n";
}

std::string text_list(std::vector<std::string> items) {
  for (auto& item : items) item = prose(item);
  return list(items);
}

std::string risk_section(const RunReport& report) {
  Rows rows;
  for (const DayRisk& day : report.result.home.days) {
    const auto low = [&](double ChargeQuantiles::*q) {
      return day.morning_low ? whole_percent((*day.morning_low).*q) : std::string("–");
    };
    rows.push_back({short_date(day.date), percent(day.flat_on_day),
                    percent_interval(day.flat_on_day), percent(day.flat_by_day),
                    percent_interval(day.flat_by_day), climate_cell(day.flat_by_day_climate),
                    low(&ChargeQuantiles::p50), low(&ChargeQuantiles::p05)});
  }
  const char* heading =
      report.result.generator ? "Risk by day, generator left at home" : "Risk by day";
  return section(
      {"risk", heading,
       "Bars: share of stays that are flat at some time of that day. Line: share that have been "
       "flat by then. Thin marks: 95 % interval of sampling; broad pale bands: the same with what "
       "the weather record cannot tell (climate). Dashes: the risk that you accept.",
       table("risk", heading,
             {"date", "flat that day", "sampling", "flat by then", "sampling", "climate",
              "morning low, middle stay", "morning low, 1 stay in 20"},
             rows),
       "", true});
}

// The chart and its table show so many hours at most; longer stays every second, third ... one.
std::size_t hours_apart(std::size_t hours) {
  constexpr std::size_t kMost = 250;
  for (const std::size_t step : {1u, 2u, 3u, 4u, 6u, 8u, 12u}) {
    if (hours <= step * kMost) return step;
  }
  return 24;
}

std::string charge_section(const RunReport& report) {
  Rows rows;
  const auto& hours = report.result.home.hours;
  const std::size_t step = hours_apart(hours.size());
  for (std::size_t i = 0; i < hours.size(); i += step) {
    const HourSlot& slot = report.prepared.hours[hours[i].hour];
    const ChargeQuantiles& q = hours[i].charge;
    rows.push_back(
        {fmt::format("{} {:02}:00",
                     short_date(report.prepared.dates[static_cast<std::size_t>(slot.day)]),
                     slot.hour_of_day),
         whole_percent(q.p05), whole_percent(q.p25), whole_percent(q.p50), whole_percent(q.p75),
         whole_percent(q.p95)});
  }
  const char* heading =
      report.result.generator ? "State of charge, generator left at home" : "State of charge";
  return section({"charge", heading,
                  "Line: the middle stay. Dark band: half of all stays; pale band: nine in ten. "
                  "Shaded: sun below the horizon.",
                  table("charge",
                        std::string(heading) + ": what 5, 25, 50, 75 and 95 of 100 "
                                               "stays are below, at the end of the hour",
                        {"hour from", "5 %", "25 %", "50 %", "75 %", "95 %"}, rows)});
}

// Entries of the histogram of generator hours up to the last that any stay reaches.
std::size_t hours_used(const GeneratorResult& along) {
  std::size_t used = along.hours_histogram.size();
  while (used > 1 && along.hours_histogram[used - 1] == 0.0) --used;
  return used;
}

std::string generator_section(const RunReport& report) {
  if (!report.result.generator) return "";
  const GeneratorResult& g = *report.result.generator;
  const Generator& set = *report.plan.generator;
  const std::size_t used = hours_used(g);
  Rows shares;
  for (std::size_t i = 0; i < used; ++i) {
    const auto stays =
        std::llround(g.hours_histogram[i] * static_cast<double>(report.result.stays));
    const Proportion share(static_cast<std::uint64_t>(stays), report.result.stays);
    shares.push_back({i == 0   ? std::string("none")
                      : i == 1 ? std::string("up to 1 h")
                               : fmt::format("over {} up to {} h", i - 1, i),
                      percent(share), percent_interval(share)});
  }
  Rows rows;
  const auto add = [&](std::string name, const Spread& s, int decimals) {
    const auto cell = [&](double v) { return fmt::format("{:.{}f}", v, decimals); };
    rows.push_back({std::move(name), cell(s.p50), cell(s.p90), cell(s.p99)});
  };
  add("hours it runs by its rule", g.hours, 1);
  add("litres of fuel", g.fuel_l, 1);
  if (set.tank_l) {
    add(fmt::format("tanks of {:g} L", *set.tank_l),
        {0.0, g.fuel_l.p50 / *set.tank_l, g.fuel_l.p90 / *set.tank_l, g.fuel_l.p99 / *set.tank_l},
        1);
  }
  add("starts", g.starts, 0);
  if (g.least_hours) add("least hours, had one known the weather", *g.least_hours, 1);
  std::string after = table("fuel", "A stay with the generator along",
                            {"of a stay", "typical", "1 in 10", "1 in 100"}, rows);
  after +=
      paragraph(fmt::format("Flat even so: {} (sampling {}, climate {}).", percent(g.risk.flat),
                            percent_interval(g.risk.flat), climate_cell(g.risk.flat_climate)));
  if (g.not_enough.count > 0) {
    after += paragraph(fmt::format("No use of the allowed hours would have saved {} ({}).",
                                   percent(g.not_enough), percent_interval(g.not_enough)));
  }
  return section({"generator", "Generator hours",
                  fmt::format("Share of stays by the hours that the generator runs in them, {}. "
                              "Thin marks: 95 % interval of sampling.",
                              html_text(generator_rule(set))),
                  table("generator", "Generator hours of a stay",
                        {"hours", "share of stays", "sampling"}, shares),
                  after});
}

std::string budget_section(const Budget& budget) {
  Rows rows;
  const auto add = [&](std::string_view name, std::string_view kind, double wh) {
    rows.push_back({html_name(name), std::string(kind), energy(wh)});
  };
  for (const auto& line : budget.lines) add(line.name, "use", line.wh_per_day);
  add("all together", "use", budget.draw_wh_per_day);
  if (budget.panels_wh_per_day > 0.0) {
    add("panels, on average", "supply", budget.panels_wh_per_day);
    add("panels, dullest day in ten", "supply", budget.panels_dull_wh_per_day);
    add("panels, clearest day in ten", "supply", budget.panels_clear_wh_per_day);
  }
  if (budget.vehicle_wh_per_day > 0.0) add("vehicle", "supply", budget.vehicle_wh_per_day);
  return section(
      {"budget", "Energy of an average day",
       "What uses energy and what brings it, in Wh a day. Thin mark: panels from the dullest to "
       "the clearest day in ten.",
       table("budget", "Energy of an average day", {"what", "kind", "a day"}, rows),
       paragraph(fmt::format("A full battery gives {}: {:.1f} days of autonomy.",
                             energy(budget.usable_wh), budget.days_of_autonomy))});
}

std::string guesses_section(const GuessDoubt* doubt) {
  if (!doubt) return "";
  Rows rows;
  for (const GuessDoubt::Part& part : doubt->parts) {
    rows.push_back({html_name(part.name),
                    part.is_share ? fmt::format("± {}", whole_percent(part.spread))
                                  : fmt::format("± {:.2f}", part.spread),
                    whole_percent(part.share)});
  }
  rows.push_back({"what they bring only together, and sampling", "–", whole_percent(doubt->rest)});
  return section(
      {"guesses", "What the plan guesses",
       html_text(fmt::format("With its guesses off by their spreads, {} runs of {} stays each put "
                             "the risk at {}, generator left at home. Bars: the share of that "
                             "doubt that each brings by itself.",
                             doubt->runs, grouped(doubt->stays_each),
                             percent_interval(doubt->flat))),
       table("guesses", "What the plan guesses", {"guess", "spread", "share of the doubt"}, rows)});
}

std::string largest_uses(const Budget& budget) {
  std::vector<BudgetLine> lines = budget.lines;
  std::erase_if(lines, [](const BudgetLine& l) { return l.wh_per_day < 1.0; });
  std::stable_sort(lines.begin(), lines.end(),
                   [](const auto& a, const auto& b) { return a.wh_per_day > b.wh_per_day; });
  if (lines.empty()) return "";
  std::string names;
  for (std::size_t i = 0; i < std::min<std::size_t>(3, lines.size()); ++i) {
    names += fmt::format("{}{} ({} a day)", i == 0 ? "" : ", ", html_name(lines[i].name),
                         energy(lines[i].wh_per_day));
  }
  return fmt::format("Save first where most goes: {}.", names);
}

std::string fuel_step(const GeneratorResult& along, const Generator& set) {
  std::string text =
      fmt::format("Bring fuel for {:.1f} L: one stay in 100 burns more.", along.fuel_l.p99);
  if (set.tank_l) {
    text += fmt::format(" That is {:.1f} tanks of {:g} L.", along.fuel_l.p99 / *set.tank_l,
                        *set.tank_l);
  }
  return text;
}

std::vector<std::string> next_steps(const RunReport& report) {
  const StudyResult& result = report.result;
  const double accepted = report.plan.accept_risk;
  const bool holds = standing(result.home.flat, accepted) == RiskStanding::within;
  std::vector<std::string> steps;
  if (holds) {
    steps.push_back(result.generator
                        ? "Leave the generator at home, and keep to the plan's loads and hours: "
                          "the figures hold for them only."
                        : "Go as planned, and keep to the plan's loads and hours: the figures "
                          "hold for them only.");
  } else {
    if (result.generator) {
      constexpr double kHardlyAny_l = 0.05;  // shows as 0.0
      if (result.generator->fuel_l.p99 >= kHardlyAny_l) {
        steps.push_back(fuel_step(*result.generator, *report.plan.generator));
      }
      steps.push_back(
          html_text(fmt::format("Run it as planned: {}.", generator_rule(*report.plan.generator))));
    }
    if (const auto& usual = result.home.usual_failure) {
      steps.push_back(
          html_text(fmt::format("Look at the battery in good time: without a generator it is "
                                "likeliest to run flat for the first time {}.",
                                night_name(report.prepared, usual->day, usual->hour_of_day))));
    }
    const std::string uses = largest_uses(report.budget);
    if (!uses.empty()) steps.push_back(uses);
    steps.push_back(
        "To change the plan: <code>dullspell levers</code> says which single change takes the most "
        "risk off, <code>dullspell size</code> how large a battery it takes.");
  }
  const auto& climate = result.home.flat_climate;
  if (climate && climate->low < accepted && accepted < climate->high) {
    steps.push_back(
        "The weather record leaves the other answer open: look at the forecast before you leave, "
        "and run the plan again with it.");
  }
  if (report.guesses && !report.guesses->parts.empty()) {
    const auto& first = report.guesses->parts.front();
    steps.push_back(
        fmt::format("Measure {} first: of the doubt that the plan's guesses bring, {} "
                    "comes from it.",
                    html_name(first.name), whole_percent(first.share)));
  }
  return steps;
}

// The first sentence says what to decide.
std::array<std::string, 2> headline_and_rest(const std::string& text) {
  const auto end = text.find(". ");
  if (end == std::string::npos) return {text, ""};
  return {text.substr(0, end + 1), text.substr(end + 2)};
}

// A page is read, not computed with. To keep it small: six digits, not every hour of a long stay,
// and no generator hours that none reaches.
Json page_json(const RunReport& report, std::string_view program) {
  Json json = run_json(report, program);
  Json hours = Json::array();
  const std::size_t step = hours_apart(json["hours"].size());
  for (std::size_t i = 0; i < json["hours"].size(); i += step) hours.push_back(json["hours"][i]);
  json["hours"] = hours;
  json["hours_apart"] = step;
  if (report.result.generator) {
    Json& histogram = json["generator"]["hours_histogram"];
    const auto used = static_cast<Json::difference_type>(hours_used(*report.result.generator));
    histogram.erase(histogram.begin() + used, histogram.end());
  }
  const auto shorten = [](auto&& self, Json& value) -> void {
    if (value.is_number_float()) value = std::stod(fmt::format("{:.6g}", value.get<double>()));
    if (value.is_structured()) {
      for (auto& inner : value) self(self, inner);
    }
  };
  shorten(shorten, json);
  return json;
}

const char* standing_class(const RunReport& report) {
  switch (standing(report.result.home.flat, report.plan.accept_risk)) {
    case RiskStanding::within:
      return "holds";
    case RiskStanding::too_close:
      return "close";
    case RiskStanding::exceeded:
      return "fails";
  }
  return "";
}

}  // namespace

std::string html_text(std::string_view text) {
  std::string out;
  for (const char c : valid_utf8(text)) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '&') {
      out += "&amp;";
    } else if (c == '<') {
      out += "&lt;";
    } else if (c == '>') {
      out += "&gt;";
    } else if (c == '"') {
      out += "&quot;";
    } else if (c == '\'') {
      out += "&#39;";
    } else if ((byte < 0x20 && c != '\n' && c != '\t') || byte == 0x7F) {
      out += "�";
    } else {
      out += c;
    }
  }
  return out;
}

std::string html_name(std::string_view name) {
  constexpr std::size_t kMost = 160;
  return fmt::format("<bdi>{}</bdi>", html_text(cut(valid_utf8(name), kMost)));
}

std::string script_json(const Json& json) {
  std::string out;
  // Outside strings JSON has none of these characters.
  for (const char c : json.dump(-1, ' ', false, Json::error_handler_t::replace)) {
    if (c == '<' || c == '>' || c == '&') {
      out += fmt::format("\\u{:04x}", static_cast<int>(c));
    } else {
      out += c;
    }
  }
  return out;
}

std::string filled(std::string_view text, const std::map<std::string, std::string>& parts) {
  std::string out;
  std::size_t at = 0;
  for (std::size_t open; (open = text.find("{{", at)) != std::string_view::npos;) {
    const std::size_t close = text.find("}}", open);
    const std::string name(text.substr(open + 2, close - open - 2));
    const auto part = parts.find(name);
    if (close == std::string_view::npos || part == parts.end()) {
      throw std::logic_error(fmt::format("the page has no part `{}`", name));
    }
    out.append(text.substr(at, open - at)).append(part->second);
    at = close + 2;
  }
  return out.append(text.substr(at));
}

void write_run_page(std::ostream& out, const RunReport& report, std::string_view program) {
  const Plan& plan = report.plan;
  const std::string title = plan.title.empty() ? "A stay" : plan.title;
  const auto [headline, rest] = headline_and_rest(verdict(report));
  std::vector<std::string> summary = plan_summary(plan, report.prepared);
  for (auto& line : summary) line = fmt::format("<bdi>{}</bdi>", html_text(cut(line, 500)));

  out << filled(
      run_page_template(),
      {{"tab_title", html_text(cut(valid_utf8(title), 80))},
       {"title", html_name(title)},
       {"summary", list(summary)},
       {"standing", standing_class(report)},
       {"headline", html_text(headline)},
       {"verdict", paragraph(rest) + (report.past ? paragraph(past_years_sentence(*report.past))
                                                  : std::string())},
       {"steps", list(next_steps(report))},
       {"charts", risk_section(report) + charge_section(report) + generator_section(report) +
                      budget_section(report.budget) + guesses_section(report.guesses)},
       {"notes", text_list(report_notes(report))},
       {"cautions", text_list(report_cautions(plan))},
       {"footer",
        html_text(fmt::format("{}: {} stays, seed {}, {} instructions. Intervals are 95 %.",
                              program, grouped(report.result.stays), report.result.seed,
                              to_string(report.result.instruction_set)))},
       {"chart_script", std::string(chart_script())},
       {"data", script_json(page_json(report, program))}});
}

}  // namespace dullspell

#include "reports/run_tables.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "engine/study/budget.hpp"
#include "reports/number_text.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

using Align = Column::Align;

std::string signed_energy(double wh) {
  return (wh < 0.0 ? "−" : "") + energy(std::abs(wh));
}

}  // namespace

Tone tone_of(const Proportion& risk, double accepted) {
  switch (standing(risk, accepted)) {
    case RiskStanding::within:
      return Tone::holds;
    case RiskStanding::too_close:
      return Tone::close;
    case RiskStanding::exceeded:
      return Tone::fails;
  }
  return Tone::plain;
}

std::string climate_cell(const std::optional<Interval>& climate) {
  return climate ? percent_interval(*climate) : "–";
}

const TrackRisk& risk_on(const RunReport& report, Track track) {
  return track == Track::along ? report.result.generator->risk : report.result.home;
}

std::string on_track(const RunReport& report, Track track) {
  if (!report.result.generator) return "";
  return ", " +
         (track == Track::along ? generator_used(report.plan) : generator_unused(report.plan));
}

Table stay_table(const RunReport& report) {
  Table table{
      "stay",
      "What goes flat in one stay",
      {{"of a stay", Align::left},
       {"typical"},
       {"1\u00A0in\u00A010"},
       {"1\u00A0in\u00A0100", Align::right, 1},
       {"mean", Align::right, 2}},
      {},
      "Flat: the battery gives no more, and all that runs on it goes off. 1 in 10, 1 in 100: one "
      "stay in so many has more. Nights count from noon to noon."};
  const auto add = [&](std::string name, const Spread& s, const auto& whole, const auto& mean) {
    table.rows.push_back(
        {{std::move(name), whole(s.p50), whole(s.p90), whole(s.p99), mean(s.mean)}});
  };
  const auto whole = [](double v) { return fmt::format("{:.0f}", v); };
  const auto tenths = [](double v) { return fmt::format("{:.1f}", v); };
  const auto add_track = [&](Track track) {
    const TrackRisk& risk = risk_on(report, track);
    add("nights that go flat", risk.flat_nights, whole, tenths);
    add("hours flat", risk.flat_h, whole, tenths);
    add("energy missing", risk.missing_wh, energy, energy);
  };
  if (report.result.generator) {
    table.rows.push_back({{generator_unused(report.plan) + ":"}});
  }
  add_track(Track::home);
  if (report.result.generator) {
    table.rows.push_back({{generator_used(report.plan) + ":"}});
    add_track(Track::along);
  }
  return table;
}

std::string flat_hours_text(const TrackRisk& risk) {
  if (risk.flat_h.mean == 0.0) return "";
  constexpr double kMost = 0.8;
  const auto& share = risk.flat_hour_of_day;
  for (int length = 1; length <= 12; ++length) {
    for (int begin = 0; begin < 24; ++begin) {
      double held = 0.0;
      for (int h = begin; h < begin + length; ++h) held += share[static_cast<std::size_t>(h % 24)];
      if (held >= kMost) {
        return fmt::format("mostly between {:02}:00 and {:02}:00", begin, (begin + length) % 24);
      }
    }
  }
  return "at all hours";
}

Table days_table(const RunReport& report, Track track) {
  Table table{
      track == Track::along ? "risk-along" : "risk",
      "Day by day" + on_track(report, track),
      {{"date", Align::left},
       {"flat that day", Align::right, 1},
       {"sampling", Align::left, 6},
       {report.plan.accept_flat_h > 0 ? fmt::format("over {} h by then", report.plan.accept_flat_h)
                                      : std::string("flat by then")},
       {"sampling", Align::left},
       {"climate", Align::left, 2},
       {"morning low", Align::right, 3},
       {"1\u00A0in\u00A020", Align::right, 5}},
      {},
      "",
      4,
      "Bars: flat by then, and in light how far the climate interval reaches."};
  if (track == Track::home) {
    table.legend = fmt::format(
        "{}sampling: 95 % interval for this number of stays, of `flat by then` where it stands "
        "once; climate: the same with what the place's record cannot tell. Morning low: least "
        "state of charge between midnight and noon in a typical stay, and in the worst stay of "
        "twenty.",
        report.plan.accept_flat_h > 0 ? fmt::format("flat by then:{}; ", beyond_text(report.plan))
                                      : "");
  }
  for (const DayRisk& day : risk_on(report, track).days) {
    const auto low = [&](double ChargeQuantiles::*q) {
      return day.morning_low ? whole_percent((*day.morning_low).*q) : std::string("–");
    };
    const Interval reach = day.flat_by_day_climate.value_or(day.flat_by_day.interval);
    table.rows.push_back({{short_date(day.date), percent(day.flat_on_day),
                           percent_interval(day.flat_on_day), percent(day.flat_by_day),
                           percent_interval(day.flat_by_day), climate_cell(day.flat_by_day_climate),
                           low(&ChargeQuantiles::p50), low(&ChargeQuantiles::p05)},
                          ShareBar{day.flat_by_day.p, reach.high},
                          tone_of(day.flat_by_day, report.plan.accept_risk)});
  }
  return table;
}

std::size_t hours_apart(std::size_t hours) {
  constexpr std::size_t kMost = 250;
  for (const std::size_t step : {1u, 2u, 3u, 4u, 6u, 8u, 12u}) {
    if (hours <= step * kMost) return step;
  }
  return 24;
}

Table charge_table(const RunReport& report, Track track) {
  Table table{track == Track::along ? "charge-along" : "charge",
              "",
              {{"hour from", Align::left}, {"5 %"}, {"25 %"}, {"50 %"}, {"75 %"}, {"95 %"}},
              {}};
  const auto& hours = risk_on(report, track).hours;
  const std::size_t step = hours_apart(hours.size());
  for (std::size_t i = 0; i < hours.size(); i += step) {
    const HourSlot& slot = report.prepared.hours[hours[i].hour];
    const ChargeQuantiles& q = hours[i].charge;
    table.rows.push_back(
        {{fmt::format("{} {:02}:00", short_date(report.prepared.dates[slot.day]), slot.hour_of_day),
          whole_percent(q.p05), whole_percent(q.p25), whole_percent(q.p50), whole_percent(q.p75),
          whole_percent(q.p95)}});
  }
  return table;
}

std::size_t hours_used(const GeneratorResult& along) {
  std::size_t used = along.hours_histogram.size();
  while (used > 1 && along.hours_histogram[used - 1] == 0.0) --used;
  return used;
}

Table generator_hours_table(const RunReport& report) {
  const GeneratorResult& g = *report.result.generator;
  Table table{"generator",
              "Generator hours of a stay",
              {{"hours", Align::left}, {"share of stays"}, {"sampling"}},
              {}};
  const std::size_t used = hours_used(g);
  for (std::size_t i = 0; i < used; ++i) {
    const auto stays =
        std::llround(g.hours_histogram[i] * static_cast<double>(report.result.stays));
    const Proportion share(static_cast<std::uint64_t>(stays), report.result.stays);
    table.rows.push_back({{i == 0   ? std::string("none")
                           : i == 1 ? std::string("up to 1 h")
                                    : fmt::format("over {} up to {} h", i - 1, i),
                           percent(share), percent_interval(share)}});
  }
  return table;
}

Table generator_table(const RunReport& report) {
  const GeneratorResult& g = *report.result.generator;
  Table table{
      "fuel",
      "A stay with the generator along",
      {{"of a stay", Align::left}, {"typical"}, {"1\u00A0in\u00A010"}, {"1\u00A0in\u00A0100"}},
      {}};
  const auto add = [&](std::string name, const Spread& s, const auto& number) {
    table.rows.push_back({{std::move(name), number(s.p50), number(s.p90), number(s.p99)}});
  };
  const auto one = [](double v) { return fmt::format("{:.1f}", v); };
  add("hours it runs as planned", g.hours, one);
  const Fuel kind = report.plan.generator->fuel;
  add(fuel_name(kind, report.units), g.fuel_l,
      [&](double l) { return fuel_number(l, kind, report.units); });
  if (const auto& tank_l = report.plan.generator->tank_l) {
    add(fmt::format("tanks of {}", tank(*tank_l, kind, report.units)), g.fuel_l,
        [&](double l) { return one(l / *tank_l); });
  }
  add("starts", g.starts, [](double v) { return fmt::format("{:.0f}", v); });
  if (g.least_hours) add("fewest hours, with perfect foresight", *g.least_hours, one);
  return table;
}

std::string generator_leaves(const RunReport& report) {
  const GeneratorResult& g = *report.result.generator;
  std::string text =
      fmt::format("Flat even so: {} (sampling {}, climate {}).", percent(g.risk.flat),
                  percent_interval(g.risk.flat), climate_cell(g.risk.flat_climate));
  if (g.not_enough.count > 0) {
    text += fmt::format(" No use of the allowed hours would have saved {} ({}).",
                        percent(g.not_enough), percent_interval(g.not_enough));
  }
  return text;
}

Table budget_table(const Budget& budget) {
  Table table{
      "budget", "Energy of an average day", {{"what", Align::left}, {"a day"}}, {{{"uses:"}}}};
  const auto add = [&](std::string name, double wh) {
    table.rows.push_back({{std::move(name), energy(wh)}});
  };
  for (const auto& line : budget.lines) add(line.name, line.wh_per_day);
  add("total", budget.draw_wh_per_day);
  if (budget.panels_wh_per_day > 0.0 || budget.vehicle_wh_per_day > 0.0) {
    table.rows.push_back({{"comes in:"}});
  }
  if (budget.panels_wh_per_day > 0.0) {
    add("panels, on average", budget.panels_wh_per_day);
    add("panels, dullest day in ten", budget.panels_dull_wh_per_day);
    add("panels, clearest day in ten", budget.panels_clear_wh_per_day);
    if (budget.shade_wh_per_day > 0.0) {
      const double open_wh = budget.panels_wh_per_day + budget.shade_wh_per_day;
      add("panels in the open, on average", open_wh);
      table.legend = fmt::format(
          "Shade leaves the panels {} of what they would give in the open: the sun comes in "
          "aslant, "
          "through more crowns than stand overhead.",
          whole_percent(budget.panels_wh_per_day / open_wh));
    }
  }
  if (budget.vehicle_wh_per_day > 0.0) add("vehicle", budget.vehicle_wh_per_day);
  return table;
}

Table camps_table(const Plan& plan, const Budget& budget) {
  Table table{"camps",
              "An average day at each camp",
              {{"camp", Align::left}, {"uses"}, {"comes in"}, {"left over"}},
              {}};
  for (const CampBalance& camp : budget.camps) {
    const double in_wh = camp.panels_wh_per_day + camp.vehicle_wh_per_day;
    const double left_wh = in_wh - camp.draw_wh_per_day;
    table.rows.push_back({{plan.camps[camp.camp].place.name, energy(camp.draw_wh_per_day),
                           energy(in_wh), signed_energy(left_wh)}});
  }
  return table;
}

Table forecast_table(const Budget& budget) {
  Table table{"forecast",
              "What the forecast days should bring",
              {{"date", Align::left},
               {"panels"},
               {"two times in three", Align::left, 1},
               {"vehicle", Align::right, 2},
               {"uses"},
               {"left over"}},
              {},
              "To hold against the display: panels, as long as the battery is not full. A first or "
              "last day, or today, counts from the first hour of the stay to the last."};
  const auto& days = budget.forecast;
  const bool drives =
      std::any_of(days.begin(), days.end(), [](const auto& day) { return day.vehicle_wh > 0.0; });
  if (!drives) table.columns.erase(table.columns.begin() + 3);
  for (const ForecastBalance& day : days) {
    TableRow row{{short_date(day.date), energy(day.panels_wh),
                  fmt::format("{:.0f}–{}", day.panels_low_wh, energy(day.panels_high_wh))}};
    if (drives) row.cells.push_back(energy(day.vehicle_wh));
    row.cells.push_back(energy(day.draw_wh));
    row.cells.push_back(signed_energy(day.panels_wh + day.vehicle_wh - day.draw_wh));
    table.rows.push_back(std::move(row));
  }
  return table;
}

std::string autonomy_text(const Budget& budget) {
  return fmt::format("A full battery gives {}: {:.1f} days of autonomy.", energy(budget.usable_wh),
                     budget.days_of_autonomy);
}

Table guesses_table(const GuessDoubt& doubt) {
  Table table{"guesses",
              "What the plan guesses",
              {{"guess", Align::left}, {"spread"}, {"share of the doubt"}},
              {}};
  for (const GuessDoubt::Part& part : doubt.parts) {
    table.rows.push_back({{part.name,
                           part.is_share ? fmt::format("± {}", whole_percent(part.spread))
                                         : fmt::format("± {:.2f}", part.spread),
                           whole_percent(part.share)},
                          ShareBar{part.share, part.share}});
  }
  table.rows.push_back({{"acting together, plus chance", "–", whole_percent(doubt.rest)},
                        ShareBar{doubt.rest, doubt.rest}});
  return table;
}

std::string guesses_sentence(const Plan& plan, const GuessDoubt& doubt) {
  return fmt::format(
      "Letting the guesses vary ({} runs of {} stays each), the risk lies between {}{}.",
      doubt.runs, grouped(doubt.stays_each), replaced(percent_interval(doubt.flat), "–", " and "),
      plan.generator ? ", " + generator_unused(plan) : "");
}

}  // namespace dullspell

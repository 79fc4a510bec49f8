#include "reports/shade_tables.hpp"

#include <fmt/format.h>

#include "reports/plan_summary.hpp"
#include "reports/reading_text.hpp"

namespace dullspell {
namespace {

using Align = Column::Align;

std::string table_id(const char* what, const ShadeTable& shade) {
  return fmt::format("{}-{}", what, shade.camp + 1);
}

// A column for each sky; the darkest make way first.
void add_skies(Table& table) {
  for (const SkyWord sky : kSkyWords) {
    table.columns.push_back({to_string(sky), Align::right, static_cast<int>(sky)});
  }
}

std::string whole(double watts) {
  return fmt::format("{:.0f}", watts);
}

const Camp& camp_of(const ShadeReport& report, const ShadeTable& shade) {
  return report.plan.camps[shade.camp];
}

}  // namespace

bool is_shaded(const Camp& camp) {
  return camp.canopy > 0.0 || !camp.skyline.empty();
}

std::string under_what(const Camp& camp) {
  if (!is_shaded(camp)) return "in the open";
  if (camp.canopy <= 0.0) return "behind its skyline";
  return fmt::format("under a canopy of {}{}", canopy_text(camp.canopy),
                     camp.skyline.empty() ? "" : " and behind its skyline");
}

std::string when_and_where(const Plan& plan, const ShadeTable& shade) {
  const std::string date = short_date(shade.date);
  if (plan.camps.size() == 1) return date;
  return fmt::format("camp {}, {}, {}", shade.camp + 1, plan.camps[shade.camp].place.name, date);
}

std::string canopy_text(double canopy) {
  const std::string two = figure_number(canopy, "");
  return two.ends_with('0') ? two.substr(0, two.size() - 1) : two;
}

std::string hour_text(int hour) {
  return clock_text(60 * hour) + "–" + clock_text(60 * (hour + 1));
}

Table hours_table(const ShadeReport& report, const ShadeTable& shade) {
  const bool shaded = is_shaded(camp_of(report, shade));
  Table table{table_id("hours", shade),
              fmt::format("Watts by the hour, {} ({})", when_and_where(report.plan, shade),
                          clock_name(shade.clock_offset_h, shade.summer_time)),
              {{"hour", Align::left}},
              {}};
  add_skies(table);
  for (const int hour : shade.hours) {
    const auto h = static_cast<std::size_t>(hour);
    TableRow row{{hour_text(hour)}};
    for (const ShadedDay& day : shade.days) {
      row.cells.push_back(shaded ? whole(day.here.watts[h]) + " of " + whole(day.open.watts[h])
                                 : whole(day.here.watts[h]));
    }
    table.rows.push_back(std::move(row));
  }
  if (shaded) {
    const auto best = static_cast<std::size_t>(shade.best_hour);
    const ShadedDay& clear = shade.day(SkyWord::clear);
    table.legend = fmt::format(
        "{0} of {1}: {0} W {2}, where it would be {1} W in the open. Averages over each hour.",
        whole(clear.here.watts[best]), whole(clear.open.watts[best]),
        under_what(camp_of(report, shade)));
  } else {
    table.legend = "W in the open: the plan states no shade here. Averages over each hour.";
  }
  return table;
}

Table days_energy_table(const ShadeReport& report, const ShadeTable& shade) {
  Table table{table_id("energy", shade),
              "What the panels bring, " + when_and_where(report.plan, shade),
              {{"sky", Align::left}, {"at the camp"}},
              {}};
  const bool shaded = is_shaded(camp_of(report, shade));
  if (shaded) {
    table.columns.insert(table.columns.end(), {{"in the open", Align::right, 1}, {"shade takes"}});
  }
  for (const ShadedDay& day : shade.days) {
    TableRow row{{to_string(day.sky), energy(day.here.energy_wh())}};
    if (shaded) {
      row.cells.insert(row.cells.end(),
                       {energy(day.open.energy_wh()),
                        energy(day.taken_wh()) + ", " + whole_percent(day.taken_share())});
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

Table canopies_table(const ShadeReport& report, const ShadeTable& shade) {
  const Camp& camp = camp_of(report, shade);
  Table table{table_id("canopy", shade),
              fmt::format("Watts by canopy, {} {}", when_and_where(report.plan, shade),
                          hour_text(shade.best_hour)),
              {{"canopy", Align::left}},
              {}};
  add_skies(table);
  for (const CanopyWatts& canopy : shade.by_canopy) {
    const bool own = canopy.canopy == camp.canopy;
    TableRow row{{canopy_text(canopy.canopy) + (own ? " (plan)" : "")}};
    for (const double watts : canopy.watts) row.cells.push_back(whole(watts));
    table.rows.push_back(std::move(row));
  }
  std::string doubts;
  for (const SkyWord sky : kSkyWords) {
    doubts += fmt::format("{}{} ± {} W", doubts.empty() ? "" : ", ", to_string(sky),
                          whole(shade.doubt_w[static_cast<std::size_t>(sky)]));
  }
  table.legend =
      fmt::format("{}Two times in three a display should come this close to the plan's row: {}.",
                  camp.skyline.empty() ? "" : "With the plan's skyline in all rows. ", doubts);
  return table;
}

}  // namespace dullspell

#include "engine/guesses/display_log.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>

#include <fmt/format.h>

#include "engine/kit/key_ranges.hpp"
#include "engine/plan/plan_edit.hpp"
#include "engine/stay/stay_calendar.hpp"
#include "weather/input/csv_table.hpp"
#include "weather/input/input_error.hpp"
#include "weather/input/quantity_text.hpp"
#include "weather/solar_day.hpp"
#include "weather/sun_position.hpp"

namespace dullspell {
namespace {

constexpr int kDay_min = 1440;
constexpr int kFarFromSun_min = 240;  // a row further from sunrise or sunset does not stand for it
constexpr int kShortestCharge_min = 120, kShortestRun_min = 60;
constexpr double kNearlyFull = 0.95;  // from here on a charger may turn panels down

enum Column : std::size_t { time, charge, charge_percent, panels_w, draw_w };
const std::vector<std::string> kRequired{"time"};
const std::vector<std::string> kOptional{"charge", "charge_percent", "panels_w", "draw_w"};

struct Row {
  double at_min = 0.0;  // since 1970, by the log's clock
  std::optional<double> charge, panels_w, draw_w;
};

double minutes_of(const LocalTime& at) {
  return static_cast<double>(at.date.time_since_epoch().count()) * kDay_min + at.minute_of_day;
}

LocalTime time_of(double at_min) {
  const auto minute = static_cast<std::int64_t>(std::floor(at_min));
  const auto days = static_cast<int>(minute / kDay_min);
  return {Date{std::chrono::days{days}}, static_cast<int>(minute % kDay_min)};
}

class LogReader {
 public:
  explicit LogReader(const SourceText& source)
      : source_(source), table_(source, CsvDelimiter::comma, kRequired, kOptional) {
    if (table_.has_column(charge) && table_.has_column(charge_percent)) {
      table_.fail(charge_percent, "stands besides `charge`", "one of the two",
                  "Leave one of them out.");
    }
    if (!table_.has_column(charge) && !table_.has_column(charge_percent) && !has_watts()) {
      refuse_line(source_, table_.line(), "", "has nothing besides the time",
                  "charge, charge_percent, panels_w or draw_w",
                  "Name the columns in the first row; cells are separated by commas.");
    }
  }

  std::vector<Row> read(LogFindings& findings) {
    std::vector<Row> rows;
    bool any_charge = false, any_fraction = false;
    while (table_.next()) {
      Row row;
      row.at_min = time_of_row();
      row.charge = charge_of_row();
      row.panels_w = watts(panels_w);
      row.draw_w = watts(draw_w);
      any_charge |= row.charge.has_value();
      any_fraction |= row.charge && std::abs(std::remainder(100.0 * *row.charge, 1.0)) > 1e-6;
      if (!rows.empty()) note_step(rows.back(), row, findings);
      rows.push_back(row);
    }
    if (rows.empty()) refuse_line(source_, 0, "", "has no rows below its header", "", "");
    findings.whole_percents = any_charge && !any_fraction;
    return rows;
  }

 private:
  bool has_watts() const { return table_.has_column(panels_w) || table_.has_column(draw_w); }

  double time_of_row() const {
    const std::string_view text = table_.text(time);
    const auto pair_at = [&](std::size_t at) {
      return text.size() >= at + 2 ? whole_number(text.substr(at, 2)) : std::nullopt;
    };
    const auto day = parse_iso_date(text.substr(0, 10));
    const auto hour = pair_at(11), minute = pair_at(14);
    const bool has_seconds = text.size() >= 19 && text[16] == ':';
    const auto second = has_seconds ? pair_at(17) : std::optional<unsigned>(0);
    // Fractions of a second may follow.
    const bool ends =
        text.size() == 16 ||
        (has_seconds &&
         (text.size() == 19 ||
          (text[19] == '.' && text.find_first_not_of("0123456789", 20) == std::string_view::npos)));
    if (!day || !hour || !minute || !second || *hour > 23 || *minute > 59 || *second > 59 ||
        !ends || (text[10] != ' ' && text[10] != 'T') || text[13] != ':') {
      table_.fail(time, fmt::format("is `{}`", shortened(text)),
                  "a local date and time such as 2027-05-22 21:30", "");
    }
    if (!almanac_holds(*day)) {
      table_.fail(time, fmt::format("is in {}", iso_date(*day)), "1950 to 2049",
                  "The sun's formulas hold for those years.");
    }
    return minutes_of({*day, static_cast<int>(60 * *hour + *minute)}) + *second / 60.0;
  }

  std::optional<double> charge_of_row() const {
    if (table_.has_column(charge_percent)) {
      const auto value = table_.number(charge_percent);
      if (value && (*value < 0.0 || *value > 100.0)) {
        table_.fail(charge_percent, fmt::format("is {:g}", *value), "0 to 100 (%)", "");
      }
      return value ? std::optional(*value / 100.0) : std::nullopt;
    }
    const std::string_view text = table_.text(charge);
    if (text.ends_with('%')) {
      const auto percent = percent_in(text);
      if (percent && *percent >= 0.0 && *percent <= 100.0) return *percent / 100.0;
      table_.fail(charge, fmt::format("is `{}`", shortened(text)), "0 % to 100 %", "");
    }
    const auto value = table_.number(charge);
    if (value && (*value < 0.0 || *value > 1.0)) {
      table_.fail(charge, fmt::format("is {:g}", *value), "0 to 1, or 0 % to 100 %",
                  "If the column holds percents, name it charge_percent.");
    }
    return value;
  }

  std::optional<double> watts(Column column) const {
    const auto value = table_.number(column);
    if (value && (*value < 0.0 || *value > kWattsRange.high)) {
      table_.fail(column, fmt::format("is {:g}", *value),
                  fmt::format("0 to {} (W)", kWattsRange.high),
                  *value < 0.0 ? "What comes in and what is drawn are columns of their own." : "");
    }
    return value;
  }

  void note_step(const Row& before, const Row& row, LogFindings& findings) const {
    const double step_min = row.at_min - before.at_min;
    if (step_min < 0.0) findings.backwards.add(table_.line());
    if (step_min <= (has_watts() ? kLongestStep_min : kDay_min)) return;
    findings.gaps.add(table_.line());
    findings.longest_gap_min = std::max(findings.longest_gap_min, static_cast<int>(step_min));
  }

  const SourceText& source_;
  CsvTable table_;
};

// Sunrise or sunset: what lies after it is day or night.
struct SunTurn {
  double at_min;
  bool rises;
};

class ReadingsOfLog {
 public:
  ReadingsOfLog(const Plan& plan, const LogTaken& taken) : plan_(plan), taken_(taken) {}

  // Rows in order of time.
  void add(const std::vector<Row>& rows) {
    const std::vector<SunTurn> turns =
        sun_turns(time_of(rows.front().at_min).date, time_of(rows.back().at_min).date);
    const bool logs_panels =
        std::any_of(rows.begin(), rows.end(), [](const Row& row) { return row.panels_w; });
    add_charges(rows, turns, logs_panels);
    for (std::size_t i = 0; i + 1 < turns.size(); ++i) {
      const auto from = std::partition_point(
          rows.begin(), rows.end(), [&](const Row& r) { return r.at_min < turns[i].at_min; });
      const auto to = std::partition_point(
          from, rows.end(), [&](const Row& r) { return r.at_min <= turns[i + 1].at_min; });
      const std::vector<Row> between(from, to);
      if (turns[i].rises && !plan_.panels.empty()) add_energy(between, ReadingKind::panels_wh);
      add_energy(between, ReadingKind::used_wh);
    }
  }

  std::vector<Reading> in_order() {
    std::stable_sort(readings_.begin(), readings_.end(), [](const Reading& a, const Reading& b) {
      return minutes_of(a.from) < minutes_of(b.from);
    });
    return std::move(readings_);
  }

 private:
  std::size_t camp_on(Date date) const {
    if (taken_.camp) return *taken_.camp;
    if (date < plan_.arrive || date >= plan_.departure()) return 0;
    const int day = static_cast<int>((date - plan_.arrive).count());
    return static_cast<std::size_t>(camp_at(plan_, {day, 23}).value);
  }

  // Of these dates, the day before and the day after.
  std::vector<SunTurn> sun_turns(Date first, Date last) const {
    std::vector<SunTurn> out;
    constexpr std::chrono::days kOne{1};
    for (Date date = first - kOne; date <= last + kOne; date += kOne) {
      const SolarDay sun = solar_day(date, plan_.camps[camp_on(date)].where,
                                     arriving_on(plan_, date).clock_offset_h);
      // Where the sun does not set, or rise, days begin in the middle of the morning.
      const double half_day_h =
          sun.sunset_hour_angle_deg <= 0.0 || sun.sunset_hour_angle_deg >= 180.0
              ? 6.0
              : sun.sunset_hour_angle_deg / 15.0;
      const double noon_min = minutes_of({date, 0}) + 60.0 * (12.0 - sun.solar_minus_clock_h);
      out.push_back({noon_min - 60.0 * half_day_h, true});
      out.push_back({noon_min + 60.0 * half_day_h, false});
    }
    return out;
  }

  Reading reading_of(ReadingKind kind, double from_min, double to_min) const {
    Reading out;
    out.kind = kind;
    out.logged = true;
    out.from = time_of(from_min);
    out.to = time_of(to_min);
    out.camp = camp_on(out.from.date);
    out.in_the_open = taken_.in_the_open;
    out.counted_at = taken_.counted_at;
    return out;
  }

  void add_charges(const std::vector<Row>& rows, const std::vector<SunTurn>& turns,
                   bool logs_panels) {
    std::vector<const Row*> charged;
    for (const Row& row : rows) {
      if (row.charge) charged.push_back(&row);
    }
    if (charged.empty()) return;
    const Row* before = nullptr;
    for (const SunTurn& turn : turns) {
      const auto far = [&](const Row* row) { return std::abs(row->at_min - turn.at_min); };
      const Row* nearest = *std::min_element(charged.begin(), charged.end(),
                                             [&](auto* a, auto* b) { return far(a) < far(b); });
      if (far(nearest) > kFarFromSun_min) {
        before = nullptr;
        continue;
      }
      // Days are told by the panels' energy, if that is there.
      if (before && (turn.rises || !logs_panels) &&
          nearest->at_min - before->at_min >= kShortestCharge_min) {
        Reading reading = reading_of(ReadingKind::charge, before->at_min, nearest->at_min);
        reading.charge_from = *before->charge;
        reading.shown = *nearest->charge;
        readings_.push_back(reading);
      }
      before = nearest;
    }
  }

  void add_energy(const std::vector<Row>& rows, ReadingKind kind) {
    const bool of_panels = kind == ReadingKind::panels_wh;
    const auto watts = [&](const Row& row) { return of_panels ? row.panels_w : row.draw_w; };
    const auto counts = [&](const Row& row) {
      return watts(row) && (!of_panels || (row.charge && *row.charge < kNearlyFull));
    };
    struct Run {
      double from_min = 0.0, to_min = 0.0, wh = 0.0;
      double length_min() const { return to_min - from_min; }
    };
    Run longest, run;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      if (!counts(rows[i])) continue;
      const bool goes_on =
          i > 0 && counts(rows[i - 1]) && rows[i].at_min - rows[i - 1].at_min <= kLongestStep_min;
      if (!goes_on) {
        run = {rows[i].at_min, rows[i].at_min, 0.0};
        continue;
      }
      run.wh += 0.5 * (*watts(rows[i]) + *watts(rows[i - 1])) *
                (rows[i].at_min - rows[i - 1].at_min) / 60.0;
      run.to_min = rows[i].at_min;
      if (run.length_min() > longest.length_min()) longest = run;
    }
    if (longest.length_min() < kShortestRun_min) return;
    Reading reading = reading_of(kind, longest.from_min, longest.to_min);
    reading.shown = longest.wh;
    readings_.push_back(reading);
  }

  const Plan& plan_;
  const LogTaken& taken_;
  std::vector<Reading> readings_;
};

}  // namespace

DisplayLog read_display_log(const SourceText& source, const Plan& plan, const LogTaken& taken) {
  DisplayLog out;
  std::vector<Row> rows = LogReader(source).read(out.findings);
  const auto earlier = [](const Row& a, const Row& b) { return a.at_min < b.at_min; };
  const auto [first, last] = std::minmax_element(rows.begin(), rows.end(), earlier);
  const double begins = last->at_min - kMostLogged_days * kDay_min;
  out.findings.cut = first->at_min < begins;
  out.findings.first = time_of(std::max(first->at_min, begins));
  out.findings.last = time_of(last->at_min);
  std::erase_if(rows, [&](const Row& row) { return row.at_min < begins; });
  out.findings.rows = rows.size();

  ReadingsOfLog readings(plan, taken);
  for (auto from = rows.begin(); from != rows.end();) {
    const auto to = std::is_sorted_until(from, rows.end(), earlier);
    readings.add({from, to});
    from = to;
  }
  out.readings = readings.in_order();
  const auto has = [&](auto member) {
    return std::any_of(rows.begin(), rows.end(), [&](const Row& row) { return row.*member; });
  };
  out.findings.panels_unjudged = has(&Row::panels_w) && !has(&Row::charge);
  if (out.readings.empty()) {
    refuse_line(source, 0, "", "holds nothing that the plan can be held against",
                "charge within 4 hours of sunset and of sunrise, or watts for an hour at least "
                "every 30 minutes",
                "Watts of the panels need the charge beside them: a full battery turns them down.");
  }
  return out;
}

}  // namespace dullspell

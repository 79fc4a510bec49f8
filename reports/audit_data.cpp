#include "reports/audit_data.hpp"

#include "reports/data_parts.hpp"
#include "reports/reading_text.hpp"

namespace dullspell {
namespace {

Data balance_data(const DailyBalance& balance) {
  return {{"in", balance.in_wh}, {"out", balance.out_wh}, {"spread", balance.spread_wh}};
}

Data interval_data(const Interval& interval) {
  return {{"low", interval.low}, {"high", interval.high}};
}

const char* slip_word(Slip slip) {
  switch (slip) {
    case Slip::ends_swapped:
      return "ends-swapped";
    case Slip::other_side_of_inverter:
      return "other-side-of-inverter";
    case Slip::half_a_day:
      return "half-a-day";
    case Slip::other_shade:
      return "other-shade";
    case Slip::kilowatt_hours:
      return "kilowatt-hours";
  }
  return "";
}

Data readings_data(const AuditReport& report) {
  Data out = Data::list();
  for (std::size_t i = 0; i < report.listed.readings.size(); ++i) {
    const Reading& reading = report.listed.readings[i];
    const ReadingFit& fit = report.posterior.readings[i];
    Data slip;
    for (const Misfit& misfit : report.audit.misfits) {
      if (misfit.reading == i && misfit.slip) slip = slip_word(*misfit.slip);
    }
    out.push_back({{"name", reading_name(reading, report.listed)},
                   {"by_list", fit.listed},
                   {"shown", reading.shown},
                   {"corrected", fit.corrected},
                   {"error", fit.error},
                   {"off_by", fit.off_by},
                   {"slip", slip}});
  }
  return out;
}

Data figures_data(const AuditReport& report) {
  Data out = Data::list();
  for (std::size_t i = 0; i < report.posterior.guesses.size(); ++i) {
    const Guess& guess = report.posterior.guesses[i];
    const GuessRanges ranges = ranges_of(report, i);
    out.push_back({{"name", guess.name},
                   {"key", guess.key},
                   {"stated", guess.value(report.listed)},
                   {"corrected", guess.value(report.corrected)},
                   {"spread", guess.spread},
                   {"spread_is", guess.is_share ? "share" : "added"},
                   {"spread_left", report.posterior.left(i)},
                   {"range_by_list", interval_data(ranges.before)},
                   {"range_corrected", interval_data(ranges.now)}});
  }
  return out;
}

Data next_data(const AuditReport& report) {
  Data out = Data::list();
  for (const ReadingToTake& next : report.audit.next) {
    out.push_back({{"how", how_to_take(next.reading, report.listed)}, {"doubt_left", next.left}});
  }
  return out;
}

}  // namespace

Data audit_head(const AuditReport& report, std::string_view program) {
  return {{"format", "dullspell.audit/1"},
          {"program", program},
          {"seed", report.seed},
          {"stays", report.stays}};
}

Data audit_results(const AuditReport& report) {
  return {{"flat_by_list", share(report.listed_flat)},
          {"flat_corrected", share(report.corrected_flat)},
          {"balance_wh_per_day",
           {{"by_list", balance_data(report.audit.listed)},
            {"corrected", balance_data(report.audit.corrected)}}},
          {"readings", readings_data(report)},
          {"figures", figures_data(report)},
          {"converged", report.posterior.converged},
          {"next", next_data(report)}};
}

Data audit_chart_data(const AuditReport& report) {
  Data changes = Data::list();
  for (std::size_t i = 0; i < report.posterior.guesses.size(); ++i) {
    const Guess& guess = report.posterior.guesses[i];
    const double stated = guess.value(report.listed);
    const auto change = [&](double value) {
      return guess.is_share ? value / stated - 1.0 : value - stated;
    };
    const auto changes_of = [&](const Interval& range) {
      return interval_data({change(range.low), change(range.high)});
    };
    const GuessRanges ranges = ranges_of(report, i);
    changes.push_back({{"corrected", change(guess.value(report.corrected))},
                       {"before", changes_of(ranges.before)},
                       {"now", changes_of(ranges.now)}});
  }
  return {{"changes", std::move(changes)}};
}

}  // namespace dullspell

#include "reports/levers_data.hpp"

#include <ostream>

#include "reports/csv_writer.hpp"
#include "reports/data_parts.hpp"
#include "reports/difference_text.hpp"
#include "reports/levers_tables.hpp"
#include "reports/plan_data.hpp"

namespace dullspell {
namespace {

Data generator_data(const StudyResult& base) {
  if (!base.generator) return nullptr;
  return {{"flat", share(base.generator->risk.flat, base.generator->risk.flat_climate)},
          {"hours", spread(base.generator->hours)}};
}

const char* help_name(const LeverEffect& effect) {
  switch (help_of(effect)) {
    case Help::helps:
      return "helps";
    case Help::unclear:
      return "unclear";
    case Help::hurts:
      return "hurts";
  }
  return "";
}

Data lever_data(const LeverEffect& effect) {
  Data difference = difference_data(effect.difference);
  difference["climate_low"] = effect.difference_climate.low;
  difference["climate_high"] = effect.difference_climate.high;
  return {{"kind", to_string(effect.lever.kind)},
          {"subject", or_null(effect.lever.subject)},
          {"change", effect.lever.change},
          {"flat", share(effect.flat)},
          {"says", help_name(effect)},
          {"flat_h", effect.flat_h},
          {"with_generator", effect.lever.with_generator()},
          {"difference", std::move(difference)},
          {"generator_h", effect.generator_h ? difference_data(*effect.generator_h) : Data()}};
}

}  // namespace

Data levers_data(const LeversReport& report, std::string_view program) {
  const StudyResult& base = report.study.base;
  Data levers = Data::list();
  for (const LeverEffect& effect : report.study.effects) levers.push_back(lever_data(effect));
  return {{"format", "dullspell.levers/1"},
          {"program", program},
          {"seed", base.seed},
          {"stays", base.stays},
          {"instruction_set", to_string(base.instruction_set)},
          {"plan", plan_data(report.plan, report.prepared)},
          {"flat_home", share(base.home.flat, base.home.flat_climate)},
          {"flat_h_home", base.home.flat_h.mean},
          {"generator", generator_data(base)},
          {"levers", std::move(levers)}};
}

void write_levers_csv(std::ostream& out, const LeversReport& report) {
  CsvWriter csv(out,
                "kind,subject,change,flat,flat_low,flat_high,difference,difference_low,"
                "difference_high,difference_climate_low,difference_climate_high,is_clear,"
                "generator_h_difference,generator_h_difference_low,generator_h_difference_high");
  for (const LeverEffect& effect : report.study.effects) {
    const PairedDifference& d = effect.difference;
    csv.cells(to_string(effect.lever.kind), effect.lever.subject, effect.lever.change,
              effect.flat.p, effect.flat.interval.low, effect.flat.interval.high, d.difference,
              d.interval.low, d.interval.high, effect.difference_climate.low,
              effect.difference_climate.high, d.is_clear());
    if (const auto& h = effect.generator_h) {
      csv.cells(h->difference, h->interval.low, h->interval.high);
    } else {
      csv.empty(3);
    }
    csv.end_row();
  }
}

}  // namespace dullspell

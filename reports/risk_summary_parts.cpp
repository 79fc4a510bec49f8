#include "reports/risk_summary_parts.hpp"

#include <fmt/format.h>

#include "reports/data_parts.hpp"
#include "reports/number_text.hpp"
#include "reports/plan_data.hpp"

namespace dullspell {
namespace {

void add_share(CsvWriter& csv, const Proportion& share, const std::optional<Interval>& climate) {
  csv.cells(share.p, share.interval.low, share.interval.high);
  climate ? csv.cells(climate->low, climate->high) : csv.empty(2);
}

}  // namespace

std::string holds_word(RiskStanding standing) {
  switch (standing) {
    case RiskStanding::within:
      return "yes";
    case RiskStanding::too_close:
      return "close";
    case RiskStanding::exceeded:
      return "no";
  }
  return {};
}

Data risk_summary_data(const RiskSummary& risk, double accepted) {
  Data out = {{"flat", share(risk.flat, risk.flat_climate)},
              {"holds", holds_word(standing(risk.flat, accepted))},
              {"flat_h", risk.flat_h},
              {"generator", nullptr}};
  if (risk.generator) {
    const GeneratorSummary& along = *risk.generator;
    out["generator"] = {{"flat", share(along.flat, along.flat_climate)},
                        {"holds", holds_word(standing(along.flat, accepted))},
                        {"flat_h", along.flat_h},
                        {"hours_mean", along.hours_mean},
                        {"hours_p90", along.hours_p90}};
  }
  return out;
}

bool tells_nothing(const Proportion& flat) {
  return flat.p < 0.002 || flat.p > 0.998;
}

std::string widest_along_text(double half_width) {
  return fmt::format("sampling within ± {:.{}f} points", 100.0 * half_width,
                     half_width < 0.00095 ? 2 : 1);
}

std::string risk_summary_columns() {
  return ",flat,flat_low,flat_high,flat_climate_low,flat_climate_high,holds"
         ",generator_flat,generator_flat_low,generator_flat_high"
         ",generator_flat_climate_low,generator_flat_climate_high,generator_holds"
         ",generator_hours_mean,generator_hours_p90";
}

void add_risk_summary_cells(CsvWriter& csv, const RiskSummary& risk, double accepted) {
  add_share(csv, risk.flat, risk.flat_climate);
  csv.cells(holds_word(standing(risk.flat, accepted)));
  if (!risk.generator) {
    csv.empty(8);
    return;
  }
  const GeneratorSummary& along = *risk.generator;
  add_share(csv, along.flat, along.flat_climate);
  csv.cells(holds_word(standing(along.flat, accepted)), along.hours_mean, along.hours_p90);
}

std::vector<std::string> survey_notes(Snow snow) {
  std::vector<std::string> notes{
      "The sampling interval shrinks with more stays (--stays). The climate interval does not: it "
      "holds what a place's record leaves open. Neither holds errors in the plan's watts and "
      "hours."};
  if (snow == Snow::possible) {
    notes.push_back(
        "Snow on panels is not modeled: where it is cold enough, covered panels give nothing "
        "until they are swept.");
  }
  return notes;
}

Data survey_head(std::string_view format, std::string_view program, const OutcomeOptions& options,
                 const Plan& plan) {
  Data out = {{"format", format},
              {"program", program},
              {"seed", options.seed},
              {"stays", options.stays},
              {"instruction_set", to_string(options.instruction_set)},
              {"plan", plan_data(plan)}};
  out["plan"]["set"] = plan.settings;
  return out;
}

std::string survey_footer(const OutcomeOptions& options) {
  return fmt::format("{} stays each, seed {}. Intervals are 95 %.", grouped(options.stays),
                     options.seed);
}

}  // namespace dullspell

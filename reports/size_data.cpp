#include "reports/size_data.hpp"

#include <ostream>

#include "engine/plan/plan_edit.hpp"
#include "reports/csv_writer.hpp"
#include "reports/data_parts.hpp"
#include "reports/plan_data.hpp"
#include "reports/size_tables.hpp"
#include "reports/size_verdict.hpp"

namespace dullspell {
namespace {

Data interval_data(const Interval& interval) {
  return {{"low", interval.low}, {"high", limit(interval.high)}};
}

Data risk_data(const SizeStudy& study, const SizeRisk& risk) {
  Data out = {{sizes_battery(study) ? "battery_wh" : "panels_w", risk.size}};
  out["flat_stays"] = risk.flat.count;
  out["flat"] = share(risk.flat);
  return out;
}

const char* reason_word(NoSizeReason reason) {
  switch (reason) {
    case NoSizeReason::balance:
      return "balance";
    case NoSizeReason::empty_at_first:
      return "empty_at_first";
    case NoSizeReason::cold_store:
      return "cold_store";
    case NoSizeReason::cold_charge:
      return "cold_charge";
    case NoSizeReason::charge_limit:
      return "charge_limit";
    case NoSizeReason::controllers:
      return "controllers";
    case NoSizeReason::night:
      return "night";
    case NoSizeReason::dull_days:
      return "dull_days";
  }
  return "";
}

Data no_size_data(const SizeStudy& study) {
  if (!study.no_size) return nullptr;
  Data reasons = Data::list();
  for (const NoSizeReason reason : study.no_size->reasons) {
    reasons.push_back({{"reason", reason_word(reason)}, {"text", reason_text(study, reason)}});
  }
  return {{"largest", risk_data(study, study.answer.largest)},
          {"panels_wh_per_day", study.no_size->budget.panels_wh_per_day},
          {"vehicle_wh_per_day", study.no_size->budget.vehicle_wh_per_day},
          {"draw_wh_per_day", study.no_size->budget.draw_wh_per_day},
          {"reasons", reasons}};
}

Data least_data(const SizeStudy& study) {
  if (!study.answer.least) return nullptr;
  Data out = risk_data(study, *study.answer.least);
  out["sampling"] = interval_data(study.answer.sampling);
  out["climate"] = study.answer.climate ? interval_data(*study.answer.climate) : Data();
  if (sizes_battery(study)) {
    out["nominal_v"] = study.nominal_v();
    out["capacity_ah"] = study.answer.least->size / study.nominal_v();
  }
  out["days_of_autonomy"] = study.budget.days_of_autonomy;
  out["panels_wh_per_day"] = study.budget.panels_wh_per_day;
  out["draw_wh_per_day"] = study.budget.draw_wh_per_day;
  return out;
}

Data frontier_data(const SizeStudy& study) {
  Data out = Data::list();
  for (const FrontierPoint& point : study.frontier) {
    const LeastSize& battery = point.battery;
    Data least = nullptr;
    if (battery.least) {
      least = risk_data(study, *battery.least);
      least["sampling"] = interval_data(battery.sampling);
      least["climate"] = battery.climate ? interval_data(*battery.climate) : Data();
      least["days_of_autonomy"] = point.days_of_autonomy;
    }
    out.push_back({{"panels_w", point.panels_w}, {"least", least}});
  }
  return out;
}

Data options_data(const SizeStudy& study) {
  Data out = Data::list();
  for (const OptionRisk& o : study.options) {
    out.push_back({{"name", o.option.name},
                   {"battery_wh", or_null(o.option.battery_wh)},
                   {"panels_w", or_null(o.option.panels_w)},
                   {"weight_kg", or_null(o.option.weight_kg)},
                   {"price", or_null(o.option.price)},
                   {"flat_stays", o.flat.count},
                   {"flat", share(o.flat, o.climate)},
                   {"meets_target", o.meets}});
  }
  return out;
}

Data best_data(const SizeStudy& study, std::optional<double> KitOption::*figure) {
  const auto best = least_of(study.options, figure);
  return best ? Data(study.options[*best].option.name) : Data();
}

const char* varied(const SizeStudy& study) {
  if (!study.frontier.empty()) return "both";
  return sizes_battery(study) ? "battery" : "panels";
}

}  // namespace

Data size_head(const Plan& plan, const SizeStudy& study, std::string_view program) {
  return {{"format", "dullspell.size/1"},
          {"program", program},
          {"seed", study.run.seed},
          {"stays", study.run.stays},
          {"instruction_set", to_string(study.run.instruction_set)},
          {"plan", plan_data(plan, study.prepared)},
          {"places", places_data(plan)},
          {"vary", varied(study)},
          {"confidence", 1.0 - study.question.accept_risk},
          {"with_generator", study.question.with_generator}};
}

Data size_results(const SizeStudy& study) {
  Data curve = Data::list();
  for (const SizeRisk& risk : study.answer.curve) curve.push_back(risk_data(study, risk));
  return {{"least", least_data(study)},
          {"next_common", study.next_common ? risk_data(study, *study.next_common) : Data()},
          {"stated", risk_data(study, study.answer.stated)},
          {"no_size", no_size_data(study)},
          {"curve", std::move(curve)},
          {"frontier", frontier_data(study)},
          {"options", options_data(study)},
          {"cheapest", best_data(study, &KitOption::price)},
          {"lightest", best_data(study, &KitOption::weight_kg)}};
}

void write_size_csv(std::ostream& out, const SizeStudy& study) {
  CsvWriter csv(
      out, "row,name,battery_wh,panels_w,stays,flat_stays,flat,flat_low,flat_high,meets_target");
  const auto row = [&](std::string_view kind, const std::string& name, double battery_wh,
                       double panels_w, const Proportion& flat) {
    csv.cells(kind, name, battery_wh, panels_w, flat.trials, flat.count, flat.p, flat.interval.low,
              flat.interval.high, flat.count <= study.allowed ? "yes" : "no")
        .end_row();
  };
  const LeastSize& answer = study.answer;
  const bool battery = sizes_battery(study);
  const double battery_wh = battery ? answer.stated.size : study.plan.battery.capacity_wh;
  const double panels_w = battery ? rated_panels_w(study.plan) : answer.stated.size;
  const auto sized = [&](std::string_view kind, const SizeRisk& risk) {
    row(kind, "", battery ? risk.size : battery_wh, battery ? panels_w : risk.size, risk.flat);
  };
  if (answer.least) sized("least", *answer.least);
  sized("stated", answer.stated);
  for (const SizeRisk& risk : answer.curve) sized("tried", risk);
  for (const FrontierPoint& point : study.frontier) {
    const LeastSize& found = point.battery;
    if (found.least) row("frontier", "", found.least->size, point.panels_w, found.least->flat);
  }
  for (const OptionRisk& o : study.options) {
    row("option", o.option.name, o.option.battery_wh.value_or(battery_wh),
        o.option.panels_w.value_or(panels_w), o.flat);
  }
}

}  // namespace dullspell

#include "reports/verdict.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "reports/number_text.hpp"

namespace dullspell {

std::string accepted_text(double accepted) {
  const double percent = 100.0 * accepted;
  return std::abs(percent - std::round(percent)) < 1e-6 ? fmt::format("{:.0f} in 100", percent)
                                                        : fmt::format("{:.1f} in 100", percent);
}

bool may_turn(const TrackRisk& risk, double accepted) {
  return risk.flat_climate && risk.flat_climate->low < accepted &&
         accepted < risk.flat_climate->high;
}

namespace {

std::string flat_share(const TrackRisk& risk) {
  return fmt::format("{} ({})", in_words(risk.flat), percent_interval(risk.flat));
}

// What the interval of the stays leaves out, and whether it could turn the decision.
std::string climate_sentence(const TrackRisk& risk, double accepted) {
  if (!risk.flat_climate) return "";
  const Interval& climate = *risk.flat_climate;
  constexpr double kNoDoubt = 0.003;
  if (climate.low > 1.0 - kNoDoubt || climate.high < kNoDoubt) return "";
  return fmt::format(" Allowing for gaps in the weather record, anywhere from {}{}.",
                     replaced(percent_interval(climate), "–", " to "),
                     may_turn(risk, accepted) ? ": on either side of what you accept" : "");
}

// The day by which half of those that ever fail have done so, where it is not the likeliest.
std::string half_by_text(const RunReport& report, const TrackRisk& risk) {
  const auto by_then = [&](const DayRisk& day) {
    return 2 * day.flat_by_day.count >= risk.flat.count;
  };
  const auto half = std::find_if(risk.days.begin(), risk.days.end(), by_then);
  if (half == risk.days.end() || half - risk.days.begin() == risk.usual_failure->day) return "";
  return fmt::format(
      "; half of them by {}",
      short_date(report.prepared.dates[static_cast<std::size_t>(half - risk.days.begin())]));
}

std::string about_hours(double hours) {
  return hours < 1.5 ? "about an hour" : fmt::format("about {:.0f} hours", hours);
}

std::string when_text(const RunReport& report, const TrackRisk& risk) {
  if (!risk.usual_failure) return "";
  const UsualFailure& usual = *risk.usual_failure;
  return fmt::format(
      " When it does, the likeliest first time is {}, around {:02}:00 ({} of those stays{}).",
      night_name(report.prepared, usual.day, usual.hour_of_day), usual.hour_of_day,
      whole_percent(usual.day_share), half_by_text(report, risk));
}

// How much goes flat: whether a stay is a hopeless one or has a gap of an hour.
std::string how_much_text(const TrackRisk& risk) {
  if (!risk.usual_failure) return "";
  const double typical_h = risk.usual_failure->flat_h;
  std::string text =
      fmt::format(" A stay that runs flat is flat for {} in all", about_hours(typical_h));
  if (risk.flat_nights.p50 >= 1.0) {
    text += fmt::format(", on {} in a typical stay",
                        counted(static_cast<std::uint64_t>(risk.flat_nights.p50), "night"));
  }
  return text + fmt::format("; average shortfall {} a stay.", energy(risk.missing_wh.mean));
}

std::string with_generator_text(const RunReport& report) {
  const GeneratorResult& along = *report.result.generator;
  std::string text = fmt::format(" With it, run as planned, the battery runs flat{} in {}",
                                 beyond_text(report.plan), flat_share(along.risk));
  if (along.risk.usual_failure) {
    text += fmt::format(", then for {} in all", about_hours(along.risk.usual_failure->flat_h));
  }
  return text + fmt::format("; the generator {}.",
                            runs_and_burns(along, report.plan.generator->fuel, report.units));
}

}  // namespace

std::string runs_and_burns(const GeneratorResult& along, Fuel kind, Units units) {
  return fmt::format(
      "runs {:.1f} h and burns {} in a typical stay, {:.1f} h and {} in one stay of ten",
      along.hours.p50, fuel(along.fuel_l.p50, kind, units), along.hours.p90,
      fuel(along.fuel_l.p90, kind, units));
}

std::string beyond_text(const Plan& plan) {
  if (plan.accept_flat_h == 0) return "";
  return fmt::format(" for more than {} in all",
                     counted(static_cast<std::uint64_t>(plan.accept_flat_h), "hour"));
}

std::string generator_unused(const Plan& plan) {
  return plan.now ? "generator not run" : "generator left at home";
}

std::string generator_used(const Plan& plan) {
  return plan.now ? "generator run as planned" : "generator along";
}

RiskStanding standing(const Proportion& risk, double accepted) {
  if (risk.interval.low > accepted) return RiskStanding::exceeded;
  if (risk.interval.high < accepted) return RiskStanding::within;
  // A risk of nothing cannot be shown by any number of stays: none flat is then the best there is.
  if (risk.count == 0 && accepted == 0.0) return RiskStanding::within;
  if (risk.count == risk.trials && accepted >= 1.0) return RiskStanding::within;
  return RiskStanding::too_close;
}

const TrackRisk& risk_as_planned(const StudyResult& result) {
  return result.generator ? result.generator->risk : result.home;
}

std::string night_name(const PreparedPlan& prepared, int day, int hour_of_day) {
  const std::string date = short_date(prepared.dates[static_cast<std::size_t>(day)]);
  const int of_plan = prepared.first_day + day;
  if (hour_of_day < 12 && of_plan > 0) {
    const char* part = hour_of_day < 5 ? "in the small hours" : "in the morning";
    return fmt::format("{} of {}, after the {} night", part, date, ordinal(of_plan));
  }
  const char* part = hour_of_day < 12   ? "in the morning"
                     : hour_of_day < 17 ? "in the afternoon"
                     : hour_of_day < 21 ? "in the evening"
                                        : "late in the evening";
  const std::string night = hour_of_day >= 17 && day + 1 < prepared.days()
                                ? fmt::format(", in the {} night", ordinal(of_plan + 1))
                                : "";
  return fmt::format("{} of {}{}", part, date, night);
}

namespace {

// Whether what the weather record cannot tell could turn the answer.
enum class Answer { settled, open };

// Where less comes in than is used no battery helps for long.
std::string balance_text(const RunReport& report, RiskStanding home) {
  const Budget& budget = report.budget;
  const double in_wh = budget.panels_wh_per_day + budget.vehicle_wh_per_day;
  constexpr double kCovered = 0.95;
  if (home == RiskStanding::within || in_wh >= kCovered * budget.draw_wh_per_day) return "";
  return fmt::format(" On an average day {} are used and {} come in.",
                     energy(budget.draw_wh_per_day), energy(in_wh));
}

// What the kit of a plan without a generator is worth.
std::string kit_sentence(RiskStanding home, Answer answer) {
  const bool open = answer == Answer::open;
  switch (home) {
    case RiskStanding::within:
      return open ? "This kit will probably hold." : "This kit should hold.";
    case RiskStanding::too_close:
      return "Too close to call.";
    case RiskStanding::exceeded:
      return open ? "This kit is probably too small for the stay."
                  : "This kit is too small for the stay.";
  }
  return {};
}

// Whether the generator is needed; on the way it is there already.
std::string generator_sentence(const Plan& plan, RiskStanding home, RiskStanding along,
                               Answer answer) {
  const std::string bring = plan.now ? "Run" : "Bring";
  switch (home) {
    case RiskStanding::within:
      return fmt::format("You can {}{}.", answer == Answer::open ? "probably " : "",
                         plan.now ? "do without the generator" : "leave the generator at home");
    case RiskStanding::too_close:
      return fmt::format("Generator or not: too close to call; {} it if a flat battery would hurt.",
                         plan.now ? "run" : "bring");
    case RiskStanding::exceeded:
      return along == RiskStanding::exceeded
                 ? fmt::format(
                       "{} the generator; it helps, but does not keep every stay from going "
                       "flat.",
                       bring)
                 : fmt::format("{} the generator.", bring);
  }
  return {};
}

}  // namespace

std::string verdict(const RunReport& report) {
  const StudyResult& result = report.result;
  const double accepted = report.plan.accept_risk;
  const RiskStanding home = standing(result.home.flat, accepted);
  const Answer answer = may_turn(result.home, accepted) ? Answer::open : Answer::settled;
  const bool generator = result.generator.has_value();
  const RiskStanding along = standing(risk_as_planned(result).flat, accepted);

  std::string text =
      generator ? generator_sentence(report.plan, home, along, answer) : kit_sentence(home, answer);
  text += fmt::format(" {} battery runs flat{} in {}; you accept {}.",
                      generator ? "Without it the" : "The", beyond_text(report.plan),
                      flat_share(result.home), accepted_text(accepted));
  text += climate_sentence(result.home, accepted);
  text += balance_text(report, home);
  text += how_much_text(result.home);
  text += when_text(report, result.home);
  if (!generator) return text;
  text += with_generator_text(report);
  if (home != RiskStanding::within && along == RiskStanding::exceeded) {
    text += fmt::format(
        " With it the hours flat fall from {:.1f} to {:.1f} a stay on average. To get "
        "within what you accept, {}allow it more hours, {}.",
        result.home.flat_h.mean, result.generator->risk.flat_h.mean,
        report.plan.generator->rule == GeneratorRule::below ? "run it by `rule = \"night\"`, " : "",
        report.plan.now ? "or use less" : "use less, or bring more battery or panels");
  }
  return text;
}

}  // namespace dullspell

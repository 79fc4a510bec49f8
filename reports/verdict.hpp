#pragma once

#include <string>

#include "reports/run_report.hpp"

namespace dullspell {

/// How a risk stands to the one that is accepted.
enum class RiskStanding { within, too_close, exceeded };

/// By the interval: too close to call where it holds the accepted risk.
RiskStanding standing(const Proportion& risk, double accepted);

/// Whether the weather record leaves the other answer open.
bool may_turn(const TrackRisk& risk, double accepted);

/// "10 in 100".
std::string accepted_text(double accepted);

/// " for more than 2 hours in all", where a plan accepts so much; else nothing.
std::string beyond_text(const Plan& plan);

/// "generator left at home"; of a stay under way "generator not run".
std::string generator_unused(const Plan& plan);

/// "generator along"; of a stay under way "generator run as planned".
std::string generator_used(const Plan& plan);

/// "runs 10.5 h and burns 3.7 L in a typical stay, 11.6 h and 4.2 L in one stay of ten".
std::string runs_and_burns(const GeneratorResult& along, Fuel kind, Units units);

/// What the plan itself risks: with the generator if it brings one.
const TrackRisk& risk_as_planned(const StudyResult& result);

/// The answer in sentences that a camper would say: to bring the generator or not, how likely the
/// battery runs flat, in which night and for how long.
std::string verdict(const RunReport& report);

/// "in the small hours of Thu 27 May, after the sixth night".
std::string night_name(const PreparedPlan& prepared, int day, int hour_of_day);

}  // namespace dullspell

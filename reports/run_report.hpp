#pragma once

#include "engine/decisions/guess_doubt.hpp"
#include "engine/plan/plan.hpp"
#include "engine/stay/prepared_plan.hpp"
#include "engine/study/budget.hpp"
#include "engine/study/hindcast.hpp"
#include "engine/study/study.hpp"
#include "reports/number_text.hpp"
#include "weather/weather_record.hpp"

namespace dullspell {

/// What past years would have done to a plan, and the record that says so.
struct PastReport {
  const WeatherRecord& record;
  const HindcastResult& result;
};

/// Everything that a report of a run is made from.
struct RunReport {
  const Plan& plan;
  const PreparedPlan& prepared;
  const StudyResult& result;
  const Budget& budget;
  const PastReport* past = nullptr;     ///< null unless a record was given
  const GuessDoubt* guesses = nullptr;  ///< null unless asked for
  Units units = Units::metric;          ///< of its texts
};

}  // namespace dullspell

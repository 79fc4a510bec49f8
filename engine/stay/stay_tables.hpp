#pragma once

#include <vector>

#include "engine/hour/hour_tables.hpp"
#include "engine/stay/prepared_plan.hpp"

namespace dullspell {

/// A prepared plan in the plain tables that the hours are worked out from. It reads the plan's own
/// tables where they are plain already: the plan must outlive it, unchanged.
class StayTables {
 public:
  explicit StayTables(const PreparedPlan& plan);
  StayTables(const StayTables&) = delete;
  StayTables& operator=(const StayTables&) = delete;

  const HourTables& hours() const { return tables_; }

 private:
  void take_segments(const PreparedPlan& plan);
  void take_loads(const PreparedPlan& plan);
  void take_cabin(const PreparedPlan& plan);
  void rule_out_what_cannot_be(const PreparedPlan& plan);

  HourTables tables_;
  std::vector<SegmentHours> segments_;
  std::vector<LoadModel> loads_;
  std::vector<double> load_w_;
};

/// What loads can ask for in a whole stay, or somewhat more, Wh.
double most_asked_wh(const PreparedPlan& plan);

}  // namespace dullspell

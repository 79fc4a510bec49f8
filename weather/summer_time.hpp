#pragma once

#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "weather/calendar.hpp"

namespace dullspell {

/// A date of every year: the first such weekday on or after a day of a month. The second Sunday of
/// March is the first Sunday from the 8th on, the last one of it the first from the 25th on.
struct YearlyDate {
  std::chrono::month month;
  std::chrono::weekday weekday;
  unsigned first_day;

  Date in(std::chrono::year year) const;
};

/// Summer time as a zone keeps it: by how much clocks are ahead of standard time, and on which
/// dates. Nights and mornings of the change itself count as the date does at noon.
class SummerTime {
 public:
  /// None, all year.
  SummerTime() = default;

  /// "Mar Sun>=8 .. Nov Sun>=1", every year from the one date to before the other, over a new year
  /// too; or spans of dates, "2027-03-27..2027-10-30 2028-03-25..2028-10-28", the last date left
  /// out. Nothing for another form.
  static std::optional<SummerTime> parse(std::string_view text, double ahead_h);

  /// Hours that clocks are ahead of standard time on a date; 0 in winter.
  double ahead_h(Date date) const { return holds_on(date) ? ahead_h_ : 0.0; }

  /// The first date after `first` and up to `last` on which clocks show another time than on the
  /// date before.
  std::optional<Date> change_between(Date first, Date last) const;

  /// Whether it is ever kept.
  bool is_kept() const { return ahead_h_ != 0.0; }

 private:
  bool holds_on(Date date) const;

  double ahead_h_ = 0.0;
  std::optional<std::pair<YearlyDate, YearlyDate>> yearly_;  ///< begin and end
  std::vector<std::pair<Date, Date>> spans_;                 ///< if there is no rule; end left out
};

}  // namespace dullspell

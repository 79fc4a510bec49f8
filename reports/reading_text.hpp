#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/guesses/audit.hpp"

namespace dullspell {

/// "Fri 21 May 21:30".
std::string time_text(const LocalTime& time);

/// "charge, Fri 21 May 21:00 to Sat 22 May 07:00", "panels, Fri 21 May 12:30, in the open".
std::string reading_name(const Reading& reading, const Plan& plan);

/// A value of a reading: "62 %", "88 W", "410 Wh".
std::string reading_value(ReadingKind kind, double value);

/// A figure of the plan without its unit, "" for a share: "0.52", "20.8", "240".
std::string figure_number(double value, std::string_view unit);

/// How to take a reading of Audit::next, and the keys to write it down by.
std::string how_to_take(const Reading& reading, const Plan& plan);

/// One look at the display, of those that such a reading asks for.
struct Look {
  std::string name;  ///< "charge, next morning"
  std::string unit;  ///< of what is shown: "%"
  std::string keys;  ///< that it goes into: "to, charge_to"
};
std::vector<Look> looks_of(const Reading& reading, const Plan& plan);

/// What somebody may have done: "charge_from and charge_to look swapped".
std::string slip_text(Slip slip, const Reading& reading);

}  // namespace dullspell

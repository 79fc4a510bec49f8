#pragma once

#include <optional>

#include "weather/calendar.hpp"
#include "weather/solar_day.hpp"

namespace dullspell {

/// The first date after `first` and up to `last` on which clocks change at a place: in North
/// America the second Sunday of March and the first of November (US Energy Policy Act of 2005,
/// section 110; Canada follows), in Europe the last ones of March and October (Directive
/// 2000/84/EC). States and countries there that keep one time all year are not told apart;
/// elsewhere none is known.
std::optional<Date> clock_change_between(Date first, Date last, const Coordinates& where);

}  // namespace dullspell

#include "engine/kit/load.hpp"

namespace dullspell {

std::vector<ClockWindow> windows_on(const Load& load, const std::vector<ClockWindow>& daylight) {
  if (!load.only) return load.between;
  const std::vector<ClockWindow> dark = windows_without(load.between, daylight);
  return *load.only == DayPart::dark ? dark : windows_without(load.between, dark);
}

}  // namespace dullspell

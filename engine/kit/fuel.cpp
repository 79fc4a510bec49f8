#include "engine/kit/fuel.hpp"

namespace dullspell {

const char* to_string(Fuel fuel) {
  switch (fuel) {
    case Fuel::gasoline:
      return "gasoline";
    case Fuel::diesel:
      return "diesel";
    case Fuel::propane:
      return "propane";
  }
  return "";
}

FuelUse usual_fuel_use(Fuel fuel) {
  switch (fuel) {
    case Fuel::diesel:
      return {0.08415, 0.246};
    case Fuel::propane:
      return {propane_l(0.077), propane_l(0.245)};
    case Fuel::gasoline:
      break;
  }
  return {0.11, 0.35};
}

}  // namespace dullspell

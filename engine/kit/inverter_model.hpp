#pragma once

namespace dullspell {

/// An inverter as the hour's arithmetic takes it. Its loss is standby_w while it is on, and
/// (linear + quadratic_per_w P) P while it gives P.
struct InverterModel {
  bool present;
  double rated_w, standby_w, linear, quadratic_per_w;
  bool may_overload;  ///< loads can ask for more than it gives
};

}  // namespace dullspell

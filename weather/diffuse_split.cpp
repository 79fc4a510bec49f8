#include "weather/diffuse_split.hpp"

#include <algorithm>

namespace dullspell {

double erbs_hourly_diffuse_share(double k) {
  if (k <= 0.22) return 1.0 - 0.09 * k;
  if (k <= 0.80) return 0.9511 + k * (-0.1604 + k * (4.388 + k * (-16.638 + k * 12.336)));
  return 0.165;
}

double erbs_daily_diffuse_share(double k, double sunset_hour_angle_deg) {
  constexpr double kWinterUpTo_deg = 81.4;
  double share = 0.0;
  if (sunset_hour_angle_deg <= kWinterUpTo_deg) {
    share = k < 0.715 ? 1.0 + k * (-0.2727 + k * (2.4495 + k * (-11.9514 + k * 9.3879))) : 0.143;
  } else {
    share = k < 0.722 ? 1.0 + k * (0.2832 + k * (-2.5557 + k * 0.8448)) : 0.175;
  }
  return std::min(1.0, share);
}

}  // namespace dullspell

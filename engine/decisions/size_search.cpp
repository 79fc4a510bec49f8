#include "engine/decisions/size_search.hpp"

#include <algorithm>
#include <cmath>

#include <boost/math/distributions/binomial.hpp>

namespace dullspell {
namespace {

constexpr double kTail = 0.025;

// The least k with P(flat stays <= k) >= `share`.
std::uint64_t binomial_quantile(std::uint64_t stays, double p, double share) {
  const boost::math::binomial_distribution<double> flat(static_cast<double>(stays), p);
  std::uint64_t low = 0, high = stays;
  while (low < high) {
    const std::uint64_t middle = low + (high - low) / 2;
    if (boost::math::cdf(flat, static_cast<double>(middle)) >= share) {
      high = middle;
    } else {
      low = middle + 1;
    }
  }
  return low;
}

}  // namespace

std::vector<double> sizes_to_try(double low, double high) {
  std::vector<double> sizes;
  for (double size = low; size < high; size += std::max(1.0, std::floor(size / 1000.0))) {
    sizes.push_back(size);
  }
  sizes.push_back(high);
  return sizes;
}

FlatTarget flat_target(double accept_risk, std::uint64_t stays) {
  constexpr double kRounding = 1e-6;  // 1 - 0.9 is a little less than 0.1
  const double expected = accept_risk * static_cast<double>(stays);
  FlatTarget target;
  target.allowed = std::min(stays, static_cast<std::uint64_t>(expected + kRounding));
  target.most = std::max(target.allowed, binomial_quantile(stays, accept_risk, 1.0 - kTail));
  // P(flat <= k) < 0.025 up to the one before the quantile.
  const std::uint64_t above = binomial_quantile(stays, accept_risk, kTail);
  if (above > 0) target.fewest = std::min(target.allowed, above - 1);
  if (accept_risk >= 1.0) target.fewest = stays;
  return target;
}

SizeSearch::SizeSearch(std::vector<double> sizes, FlatCount count)
    : sizes_(std::move(sizes)), count_(std::move(count)) {}

std::size_t SizeSearch::index_of(double size) const {
  const auto above = std::upper_bound(sizes_.begin(), sizes_.end(), size);
  return above == sizes_.begin() ? 0 : static_cast<std::size_t>(above - sizes_.begin()) - 1;
}

std::optional<std::size_t> SizeSearch::lasting(std::uint64_t allowed, std::size_t found) {
  for (const double larger : {1.1, 1.25, 1.5, 2.0, 3.0}) count_at(index_of(larger * size(found)));
  const auto fails = [=](const auto& tried) { return tried.second > allowed; };
  const auto worst = std::find_if(counts_.rbegin(), counts_.rend(), fails);
  if (worst == counts_.rend() || worst->first < found) return found;
  std::size_t below = worst->first;
  if (below == last()) return std::nullopt;
  const auto above = counts_.upper_bound(below);
  std::size_t enough = above == counts_.end() ? last() : above->first;
  if (count_at(enough) > allowed) return std::nullopt;
  while (enough - below > 1) {
    const std::size_t middle = (below + enough) / 2;
    (count_at(middle) > allowed ? below : enough) = middle;
  }
  return enough;
}

std::uint64_t SizeSearch::count_at(std::size_t index) {
  const auto known = counts_.find(index);
  if (known != counts_.end()) return known->second;
  return counts_[index] = count_(sizes_[index]);
}

std::optional<std::size_t> SizeSearch::least(std::uint64_t allowed, std::size_t near,
                                             std::size_t step) {
  std::optional<std::size_t> enough, too_small;
  for (const auto& [index, flat] : counts_) {
    if (flat <= allowed) {
      enough = index;
      break;
    }
    too_small = index;
  }
  if (!enough && !too_small) (count_at(near) <= allowed ? enough : too_small) = near;
  for (std::size_t stride = step; !enough; stride *= 2) {
    const std::size_t next = std::min(last(), *too_small + stride);
    if (next == *too_small) return std::nullopt;
    (count_at(next) <= allowed ? enough : too_small) = next;
  }
  for (std::size_t stride = step; !too_small; stride *= 2) {
    if (*enough == 0) return 0;
    const std::size_t next = *enough > stride ? *enough - stride : 0;
    (count_at(next) <= allowed ? enough : too_small) = next;
  }
  while (*enough - *too_small > 1) {
    const std::size_t middle = *too_small + (*enough - *too_small) / 2;
    (count_at(middle) <= allowed ? enough : too_small) = middle;
  }
  return enough;
}

}  // namespace dullspell

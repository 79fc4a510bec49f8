#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>

namespace dullspell {

/// Adds a bit to the plane of each stay in `stays`; leaves there those whose bit carries over.
inline void add_to_plane(std::uint64_t& plane, std::uint64_t& stays) {
  const std::uint64_t carried = plane & stays;
  plane ^= stays;
  stays = carried;
}

/// Counts something of each stay of a block, side by side: bit i of plane p is bit p of stay i's
/// count. Up to 65,535.
class StayCounts {
 public:
  /// One more for each stay whose bit is set.
  void add(std::uint64_t stays) {
    for (std::uint64_t& plane : planes_) {
      add_to_plane(plane, stays);
      if (stays == 0) return;
    }
  }

  unsigned of(int stay) const {
    unsigned count = 0;
    for (std::size_t p = 0; p < planes_.size(); ++p) {
      count |= static_cast<unsigned>(planes_[p] >> stay & 1) << p;
    }
    return count;
  }

 private:
  std::array<std::uint64_t, 16> planes_{};
};

/// Tells which stays of a block something has happened to more often than is accepted, 0..65,535.
class StaysBeyond {
 public:
  // Counts begin so high that one more than is accepted runs over.
  explicit StaysBeyond(int accepted) : planes_(std::bit_width(static_cast<unsigned>(accepted))) {
    const unsigned begin = (1u << planes_) - 1 - static_cast<unsigned>(accepted);
    for (int p = 0; p < planes_; ++p) {
      plane_[static_cast<std::size_t>(p)] = begin >> p & 1 ? ~std::uint64_t{0} : 0;
    }
  }

  /// One more for each stay whose bit is set; returns those that are beyond what is accepted now
  /// and were not before.
  std::uint64_t add(std::uint64_t stays) {
    for (int p = 0; p < planes_ && stays != 0; ++p) {
      add_to_plane(plane_[static_cast<std::size_t>(p)], stays);
    }
    const std::uint64_t newly = stays & ~beyond_;
    beyond_ |= newly;
    return newly;
  }

  std::uint64_t beyond() const { return beyond_; }

 private:
  int planes_;
  std::array<std::uint64_t, 16> plane_{};
  std::uint64_t beyond_ = 0;
};

}  // namespace dullspell

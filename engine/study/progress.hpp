#pragma once

#include <cstdint>
#include <functional>
#include <mutex>
#include <optional>
#include <string_view>

namespace dullspell {

/// How far a long piece of work has come.
struct WorkDone {
  std::string_view what;  ///< what is counted, in the plural: "stays", "weeks"
  std::uint64_t done = 0;
  std::uint64_t planned = 0;                ///< 0: not known
  std::optional<std::uint64_t> flat_stays;  ///< of the stays done, generator left at home
};

/// Called now and then, one call at a time but from any thread. Changes no result.
using Progress = std::function<void(const WorkDone&)>;

/// Counts parts that several threads finish, and tells of each.
class PartsDone {
 public:
  /// `progress`, which may be empty, and `what` must outlive it.
  PartsDone(const Progress& progress, std::string_view what, std::uint64_t planned)
      : progress_(progress), work_{what, 0, planned, {}} {}

  void add(std::uint64_t parts = 1) {
    if (!progress_) return;
    const std::lock_guard lock(telling_);
    work_.done += parts;
    progress_(work_);
  }

 private:
  const Progress& progress_;
  std::mutex telling_;
  WorkDone work_;
};

}  // namespace dullspell

#pragma once

#include <cmath>
#include <sstream>
#include <string>

#include <catch2/catch.hpp>

namespace dullspell {

/// Mean and standard error of units that are drawn independently of each other: whole stays, months
/// or records, never the correlated days within one.
class BatchMean {
 public:
  void operator()(double value) {
    ++count_;
    const double before = value - mean_;
    mean_ += before / count_;
    squares_ += before * (value - mean_);
  }

  double mean() const { return mean_; }
  double standard_error() const { return std::sqrt(squares_ / (count_ - 1.0) / count_); }

  /// How many standard errors the mean lies from `expected`.
  double errors_from(double expected) const {
    return std::abs(mean_ - expected) / standard_error();
  }

 private:
  double count_ = 0.0, mean_ = 0.0, squares_ = 0.0;
};

/// Matches a BatchMean whose distance from `expected` is within some standard errors.
class WithinErrors : public Catch::MatcherBase<BatchMean> {
 public:
  WithinErrors(double expected, double errors) : expected_(expected), errors_(errors) {}

  bool match(const BatchMean& found) const override {
    return found.errors_from(expected_) <= errors_;
  }
  std::string describe() const override {
    std::ostringstream text;
    text << "is within " << errors_ << " standard errors of " << expected_;
    return text.str();
  }

 private:
  double expected_, errors_;
};

inline std::ostream& operator<<(std::ostream& out, const BatchMean& found) {
  return out << found.mean() << " +- " << found.standard_error();
}

}  // namespace dullspell

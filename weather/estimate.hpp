#pragma once

#include <optional>

namespace dullspell {

/// A number found from a record, with its standard error in the same unit. Nothing stands for the
/// error where only the kind of the record tells it (see standard_errors.hpp).
struct Estimate {
  double value;
  std::optional<double> standard_error;

  // NOLINTNEXTLINE(google-explicit-constructor): a number alone is one whose error nobody stated
  Estimate(double number = 0.0, std::optional<double> error = {})
      : value(number), standard_error(error) {}

  bool operator==(const Estimate&) const = default;
};

}  // namespace dullspell

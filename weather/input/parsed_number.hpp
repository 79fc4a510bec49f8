#pragma once

#include <optional>
#include <string_view>

namespace dullspell {

/// The number that the whole of a text is, such as 12, -0.5 or 1e3, whatever the locale; nothing
/// for other texts. What a double cannot hold becomes infinite or 0; `inf` and `nan` are numbers.
std::optional<double> parsed_number(std::string_view text);

}  // namespace dullspell

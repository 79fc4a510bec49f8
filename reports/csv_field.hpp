#pragma once

#include <string>
#include <string_view>

namespace dullspell {

/// Text as one field of a CSV line: in double quotes where it needs them (RFC 4180).
std::string csv_field(std::string_view text);

}  // namespace dullspell

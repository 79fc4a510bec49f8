#pragma once

#include <cstddef>
#include <optional>

#include "reports/text_writer.hpp"

namespace dullspell {

/// Columns of the terminal that a file descriptor is, 32 to 110: COLUMNS where it is set to a whole
/// number from 1 on, else what the terminal says of itself, else 80. None for anything else.
std::optional<std::size_t> terminal_width(int descriptor);

/// Whether the terminal that TERM names follows escape sequences: set, and not `dumb`.
bool terminal_takes_escapes();

/// How a report for people looks on standard output. Colour only on a terminal that takes escape
/// sequences, and not where NO_COLOR is set and not empty (https://no-color.org). What is no
/// terminal gets the usual width without colour, whatever the environment says.
TextStyle standard_output_style();

}  // namespace dullspell

#pragma once

#include <iosfwd>

#include "reports/document.hpp"
#include "reports/text_writer.hpp"

namespace dullspell {

/// The document for people, as plain text.
void write_text(std::ostream& out, const Document& document, TextStyle style = {});

}  // namespace dullspell

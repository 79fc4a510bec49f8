#pragma once

#include <iosfwd>
#include <string>
#include <string_view>

#include "reports/document.hpp"

namespace dullspell {

/// The document for programs: head, verdict, results, what to do, notes, cautions. Indented, with a
/// line end.
void write_json(std::ostream& out, const Document& document);

/// A value as JSON, indented, with a line end. Bytes that are not UTF-8, which a file name may
/// bring, are replaced.
void write_json(std::ostream& out, const Data& data);

/// What the charts of a page are drawn from, for a <script>: as JSON, numbers to six digits, so
/// that no string in it can end the element.
std::string script_json(const Document& document);
std::string script_json(const Data& data);

/// The text with bytes that are not UTF-8 replaced.
std::string valid_utf8(std::string_view text);

}  // namespace dullspell

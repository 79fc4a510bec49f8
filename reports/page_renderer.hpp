#pragma once

#include <iosfwd>
#include <map>
#include <string>
#include <string_view>

#include "reports/document.hpp"

namespace dullspell {

/// The document as one HTML page that loads nothing: verdict, what to do, charts with their tables,
/// notes, cautions. All of it is in the HTML; a script only draws the charts.
void write_page(std::ostream& out, const Document& document);

/// Text as HTML shows it, in elements and quoted attributes: markup and control characters do
/// nothing, bytes that are not UTF-8 are replaced.
std::string html_text(std::string_view text);

/// A name of any length and script: cut after 160 characters, and with a direction of its own, so
/// that it cannot turn the text around it.
std::string html_name(std::string_view name);

/// Prose, or a paragraph of plain text: a number and its per cent sign stay on one line, what
/// stands between backquotes is code.
std::string html_prose(const Prose& prose);
std::string html_paragraph(std::string_view text);

/// The table with its title as caption, in a region of its own that scrolls sideways.
std::string html_table(const Table& table);

/// A template with each {{name}} replaced by its part, as it is; parts are not searched again.
/// Throws std::logic_error for a name without a part.
std::string filled(std::string_view text, const std::map<std::string, std::string>& parts);

}  // namespace dullspell

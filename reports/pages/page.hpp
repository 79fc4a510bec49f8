#pragma once

#include <cstdint>
#include <iosfwd>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "engine/kernel/instruction_set.hpp"
#include "reports/json_parts.hpp"
#include "reports/table.hpp"

namespace dullspell {

/// A chart and the table that says the same. `id` names both to the page's script.
struct PagePart {
  std::string heading;
  std::string says;  ///< how to read the chart, plain text; also its label for who cannot
  Table table;       ///< its id is that of the chart
  std::string after_html = {};  ///< below the table
  bool wide = false;            ///< across the whole page
  bool tall = false;            ///< as high as two others beside it
  bool table_open = false;      ///< shown at once; the table of others opens on demand
};

/// A report as one HTML page that loads nothing: verdict, what to do, charts with their tables,
/// notes, cautions. All of it is in the HTML; a script only draws the charts from `data`.
struct Page {
  std::string title;
  std::vector<std::string> summary;  ///< plain text, a line each
  Tone tone = Tone::plain;
  std::string verdict;                ///< plain text; its first sentence becomes the headline
  std::vector<std::string> said_too;  ///< more paragraphs of the verdict, plain text
  std::vector<std::string> steps_html;
  std::vector<PagePart> parts;
  std::vector<std::string> notes, cautions;  ///< plain text
  std::string footer;                        ///< plain text
  std::string_view script;  ///< calls draw_charts() with what draws each chart, by its id
  Json data;
};

void write_page(std::ostream& out, const Page& page);

/// Text as HTML shows it, in elements and quoted attributes: markup and control characters do
/// nothing, bytes that are not UTF-8 are replaced.
std::string html_text(std::string_view text);

/// A name of any length and script: cut after 160 characters, and with a direction of its own, so
/// that it cannot turn the text around it.
std::string html_name(std::string_view name);

/// A paragraph of plain text: a number and its per cent sign stay on one line, what stands between
/// backquotes is code.
std::string html_paragraph(std::string_view text);

/// The table with its title as caption, in a region of its own that scrolls sideways.
std::string html_table(const Table& table);

/// The step that leads on where a plan does not hold: which commands say what to change.
std::string step_to_change_plan();

/// The last line of a page: the program, and how the figures were made.
std::string page_footer(std::string_view program, std::uint64_t stays, std::uint64_t seed,
                        InstructionSet instructions);

/// JSON inside a <script>: no string in it can end the element.
std::string script_json(const Json& json);

/// JSON that is read, not computed with: every number to six digits.
Json to_six_digits(Json json);

/// A template with each {{name}} replaced by its part, as it is; parts are not searched again.
/// Throws std::logic_error for a name without a part.
std::string filled(std::string_view text, const std::map<std::string, std::string>& parts);

}  // namespace dullspell

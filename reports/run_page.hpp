#pragma once

#include <iosfwd>
#include <map>
#include <string>
#include <string_view>

#include "reports/json_parts.hpp"
#include "reports/run_report.hpp"

namespace dullspell {

/// The report of `dullspell run` as one HTML page that loads nothing: verdict, what to do, charts
/// with their tables, notes, cautions. All of it is in the HTML; a script only draws the charts,
/// from the same data. `program` is the program's name and version.
void write_run_page(std::ostream& out, const RunReport& report, std::string_view program);

/// Text as HTML shows it, in elements and quoted attributes: markup and control characters do
/// nothing, bytes that are not UTF-8 are replaced.
std::string html_text(std::string_view text);

/// A name of any length and script: cut after 160 characters, and with a direction of its own, so
/// that it cannot turn the text around it.
std::string html_name(std::string_view name);

/// JSON inside a <script>: no string in it can end the element.
std::string script_json(const Json& json);

/// A template with each {{name}} replaced by its part, as it is; parts are not searched again.
/// Throws std::logic_error for a name without a part.
std::string filled(std::string_view text, const std::map<std::string, std::string>& parts);

/// The page's template and the chart library, as built in.
std::string_view run_page_template();
std::string_view chart_script();

}  // namespace dullspell

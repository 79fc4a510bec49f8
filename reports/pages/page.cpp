#include "reports/pages/page.hpp"

#include <array>
#include <ostream>
#include <stdexcept>

#include <fmt/format.h>

#include "reports/number_text.hpp"
#include "reports/pages/page_files.hpp"
#include "reports/text_report.hpp"

namespace dullspell {
namespace {

std::string valid_utf8(std::string_view text) {
  const std::string quoted = Json(text).dump(-1, ' ', false, Json::error_handler_t::replace);
  return Json::parse(quoted).get<std::string>();
}

/// Up to `most` characters, with a sign of what is left out.
std::string cut(std::string_view text, std::size_t most) {
  std::size_t characters = 0, at = 0;
  for (; at < text.size(); ++at) {
    const bool begins = (static_cast<unsigned char>(text[at]) & 0xC0) != 0x80;
    if (begins && ++characters > most) return std::string(text.substr(0, at)) + "…";
  }
  return std::string(text);
}

// Text in which a number and its per cent sign stay on one line, and what stands between backquotes
// is code.
std::string prose(std::string_view text) {
  std::string out;
  bool code = false;
  for (const char c : replaced(html_text(text), " %", "\u00A0%")) {
    if (c != '`') {
      out += c;
      continue;
    }
    out += code ? "</code>" : "<code>";
    code = !code;
  }
  return out + (code ? "</code>" : "");
}

std::string list(const std::vector<std::string>& html_items) {
  std::string out = "<ul>\n";
  for (const auto& item : html_items) out += fmt::format("<li>{}</li>\n", item);
  return out + "</ul>\n";
}

std::string text_list(std::vector<std::string> items) {
  for (auto& item : items) item = prose(item);
  return list(items);
}

std::string section(const PagePart& part) {
  return fmt::format(
      "<section class=\"part{6}{7}\" aria-labelledby=\"{0}-heading\"><h3 "
      "id=\"{0}-heading\">{1}</h3>\n"
      "<figure><div class=\"chart\"><canvas id=\"{0}-chart\" role=\"img\" "
      "aria-labelledby=\"{0}-heading\" aria-describedby=\"{0}-says\"></canvas></div>"
      "<figcaption id=\"{0}-says\">{2}</figcaption></figure>\n"
      "<details{3}><summary>Table: {1}</summary>\n{4}</details>\n{5}</section>\n",
      part.table.id, html_text(part.heading), prose(part.says), part.table_open ? " open" : "",
      html_table(part.table), part.after_html, part.wide ? " wide" : "", part.tall ? " tall" : "");
}

// The first sentence says what to decide.
std::array<std::string, 2> headline_and_rest(const std::string& text) {
  const auto end = text.find(". ");
  if (end == std::string::npos) return {text, ""};
  return {text.substr(0, end + 1), text.substr(end + 2)};
}

const char* tone_class(Tone tone) {
  switch (tone) {
    case Tone::plain:
      return "plain";
    case Tone::holds:
      return "holds";
    case Tone::close:
      return "close";
    case Tone::fails:
      return "fails";
  }
  return "";
}

}  // namespace

std::string html_text(std::string_view text) {
  std::string out;
  for (const char c : valid_utf8(text)) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '&') {
      out += "&amp;";
    } else if (c == '<') {
      out += "&lt;";
    } else if (c == '>') {
      out += "&gt;";
    } else if (c == '"') {
      out += "&quot;";
    } else if (c == '\'') {
      out += "&#39;";
    } else if ((byte < 0x20 && c != '\n' && c != '\t') || byte == 0x7F) {
      out += "�";
    } else {
      out += c;
    }
  }
  return out;
}

std::string html_name(std::string_view name) {
  constexpr std::size_t kMost = 160;
  return fmt::format("<bdi>{}</bdi>", html_text(cut(valid_utf8(name), kMost)));
}

std::string html_paragraph(std::string_view text) {
  return fmt::format("<p>{}</p>\n", prose(text));
}

std::string html_table(const Table& table) {
  std::string out = fmt::format(
      "<div class=\"scroll\" role=\"group\" tabindex=\"0\" aria-labelledby=\"{0}-caption\">"
      "<table id=\"{0}\"><caption id=\"{0}-caption\"><span>{1}</span></caption>\n<thead><tr>",
      table.id, html_text(table.title));
  const auto words = [&](std::size_t column) {
    return column > 0 && table.columns[column].align == Column::Align::left ? " class=\"words\""
                                                                            : "";
  };
  for (std::size_t c = 0; c < table.columns.size(); ++c) {
    out += fmt::format("<th scope=\"col\"{}>{}</th>", words(c), html_text(table.columns[c].head));
  }
  out += "</tr></thead>\n<tbody>\n";
  for (const TableRow& row : table.rows) {
    if (heads_a_group(row)) {
      out += fmt::format("<tr class=\"group\"><th scope=\"rowgroup\" colspan=\"{}\">{}</th></tr>\n",
                         table.columns.size(), html_text(row.cells.front()));
      continue;
    }
    out += fmt::format("<tr><th scope=\"row\">{}</th>", html_name(row.cells.front()));
    for (std::size_t c = 1; c < table.columns.size(); ++c) {
      out += fmt::format("<td{}>{}</td>", words(c),
                         c < row.cells.size() ? html_text(row.cells[c]) : "");
    }
    out += "</tr>\n";
  }
  return out + "</tbody></table></div>\n";
}

std::string step_to_change_plan() {
  return "To change the plan: <code>dullspell levers</code> says which single change takes the "
         "most "
         "risk off, <code>dullspell size</code> how large a battery it takes.";
}

std::string page_footer(std::string_view program, std::uint64_t stays, std::uint64_t seed,
                        InstructionSet instructions) {
  return fmt::format("{}: {}", program, study_footer(stays, seed, instructions));
}

std::string script_json(const Json& json) {
  std::string out;
  // Outside strings JSON has none of these characters.
  for (const char c : json.dump(-1, ' ', false, Json::error_handler_t::replace)) {
    if (c == '<' || c == '>' || c == '&') {
      out += fmt::format("\\u{:04x}", static_cast<int>(c));
    } else {
      out += c;
    }
  }
  return out;
}

Json to_six_digits(Json json) {
  const auto shorten = [](auto&& self, Json& value) -> void {
    if (value.is_number_float()) value = Json::parse(fmt::format("{:.6g}", value.get<double>()));
    if (value.is_structured()) {
      for (auto& inner : value) self(self, inner);
    }
  };
  shorten(shorten, json);
  return json;
}

std::string filled(std::string_view text, const std::map<std::string, std::string>& parts) {
  std::string out;
  std::size_t at = 0;
  for (std::size_t open; (open = text.find("{{", at)) != std::string_view::npos;) {
    const std::size_t close = text.find("}}", open);
    const std::string name(text.substr(open + 2, close - open - 2));
    const auto part = parts.find(name);
    if (close == std::string_view::npos || part == parts.end()) {
      throw std::logic_error(fmt::format("the page has no part `{}`", name));
    }
    out.append(text.substr(at, open - at)).append(part->second);
    at = close + 2;
  }
  return out.append(text.substr(at));
}

void write_page(std::ostream& out, const Page& page) {
  const std::string title = page.title.empty() ? "A stay" : page.title;
  const auto [headline, rest] = headline_and_rest(page.verdict);
  std::vector<std::string> summary = page.summary;
  for (auto& line : summary) line = fmt::format("<bdi>{}</bdi>", html_text(cut(line, 500)));
  std::string said = html_paragraph(rest), charts;
  for (const auto& more : page.said_too) said += html_paragraph(more);
  for (const PagePart& part : page.parts) charts += section(part);

  out << filled(page_frame(), {{"tab_title", html_text(cut(valid_utf8(title), 80))},
                               {"title", html_name(title)},
                               {"summary", list(summary)},
                               {"tone", tone_class(page.tone)},
                               {"headline", html_text(headline)},
                               {"verdict", said},
                               {"steps", list(page.steps_html)},
                               {"charts", charts},
                               {"notes", text_list(page.notes)},
                               {"cautions", text_list(page.cautions)},
                               {"footer", html_text(page.footer)},
                               {"chart_library", std::string(chart_library())},
                               {"charts_script", std::string(charts_script())},
                               {"page_script", std::string(page.script)},
                               {"data", script_json(page.data)}});
}

}  // namespace dullspell

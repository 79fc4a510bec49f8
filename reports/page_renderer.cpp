#include "reports/page_renderer.hpp"

#include <algorithm>
#include <array>
#include <ostream>
#include <stdexcept>

#include <fmt/format.h>

#include "reports/json_renderer.hpp"
#include "reports/number_text.hpp"
#include "reports/pages/page_files.hpp"

namespace dullspell {
namespace {

constexpr std::string_view kOfStays =
    "Each share is a share of simulated stays. Its sampling interval says how far chance may have "
    "moved it, its climate interval how far the weather record may: each holds the true share in "
    "95 of 100 cases, if the plan's watts and hours are right.";

// Up to `most` characters, with a sign of what is left out.
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

std::string step_item(const Step& step) {
  if (step.items.empty()) return html_prose(step.text);
  std::vector<std::string> items;
  for (const Prose& item : step.items) items.push_back(html_prose(item));
  std::string inner = list(items);
  inner.pop_back();
  return html_prose(step.text) + "\n" + inner;
}

std::string summaries(const std::vector<PlanSummary>& plans) {
  std::string out = "<div class=\"beside\">\n";
  for (const PlanSummary& plan : plans) {
    out += fmt::format("<div><h4>{}: {}</h4>\n<ul>\n<li>{}</li>\n", plan.letter,
                       html_name(plan.name()), html_name(plan.file));
    for (const auto& line : plan.lines) out += fmt::format("<li>{}</li>\n", html_name(line));
    out += "</ul></div>\n";
  }
  return out + "</div>\n";
}

std::string block_html(const Block& block, const Document& document) {
  if (const auto* text = std::get_if<std::string>(&block.what)) return html_paragraph(*text);
  if (const auto* table = std::get_if<Table>(&block.what)) return html_table(*table);
  return summaries(document.plans);
}

const char* class_of(ChartSize size) {
  switch (size) {
    case ChartSize::usual:
      return "";
    case ChartSize::tall:
      return " tall";
    case ChartSize::none:
    case ChartSize::wide:
      return " wide";
  }
  return "";
}

std::string blocks_html(const Part& part, const Document& document) {
  std::string out;
  for (const Block& block : part.blocks) {
    if (block.shown != Shown::in_text) out += block_html(block, document);
  }
  return out;
}

// The chart of a part, which says the same as a table.
std::string chart_html(const Part& part, const Table& table) {
  return fmt::format(
      "<figure><div class=\"chart\"><canvas id=\"{0}-chart\" role=\"img\" "
      "aria-labelledby=\"{0}-heading\" aria-describedby=\"{0}-says\"></canvas></div>"
      "<figcaption id=\"{0}-says\">{2}</figcaption></figure>\n"
      "<details{3}><summary>Table: {1}</summary>\n{4}</details>\n",
      table.id, html_text(part.heading), prose(part.how_to_read),
      part.table == ChartTable::shown ? " open" : "", html_table(table));
}

// Empty for a part that has no heading.
std::string section(const Part& part, const Document& document) {
  if (part.heading.empty()) return "";
  const Table* first = nullptr;
  std::string rest;
  for (const Block& block : part.blocks) {
    if (block.shown == Shown::in_text) continue;
    const auto* table = std::get_if<Table>(&block.what);
    if (table && !first) {
      first = table;
    } else {
      rest += block_html(block, document);
    }
  }
  if (!first) throw std::logic_error("a part without a table: " + part.heading);
  return fmt::format(
      "<section class=\"part{4}\" aria-labelledby=\"{0}-heading\"><h3 "
      "id=\"{0}-heading\">{1}</h3>\n{2}{3}</section>\n",
      first->id, html_text(part.heading),
      part.size == ChartSize::none ? html_table(*first) : chart_html(part, *first), rest,
      class_of(part.size));
}

std::string figures_html(const std::vector<KeyFigure>& figures) {
  std::string out = "<div class=\"figures\">\n";
  for (const KeyFigure& figure : figures) {
    out += fmt::format("<div><h3>{}</h3>\n", html_text(figure.says));
    for (const auto& [value, name] : figure.cases) {
      out += fmt::format("<p><b>{}</b>{}{}</p>", html_text(value), name.empty() ? "" : " ",
                         html_text(name));
    }
    out += "</div>\n";
  }
  return out + "</div>\n";
}

// All of the verdict but its headline.
std::string verdict_html(const Document& document, const std::string& rest) {
  std::string out = html_paragraph(rest);
  for (const auto& more : document.said_too) out += html_paragraph(more);
  for (const Part& part : document.parts) {
    if (part.place == PartPlace::under_verdict) out += blocks_html(part, document);
  }
  if (document.figures.empty()) return out;
  return figures_html(document.figures) +
         fmt::format("<details><summary>Details</summary>\n{}</details>\n", out);
}

// What there is to do, and what belongs below it.
std::string steps_html(const Document& document) {
  std::vector<std::string> steps;
  for (const Step& step : document.steps) steps.push_back(step_item(step));
  std::string out = list(steps);
  for (const Part& part : document.parts) {
    if (part.place != PartPlace::under_steps) continue;
    out += fmt::format("<div class=\"card\">\n{}</div>\n", blocks_html(part, document));
  }
  return out;
}

std::string_view script_of(Charts charts) {
  switch (charts) {
    case Charts::none:
      break;
    case Charts::run:
      return run_script();
    case Charts::size:
      return size_script();
    case Charts::compare:
      return compare_script();
    case Charts::generator:
      return generator_script();
    case Charts::levers:
      return levers_script();
    case Charts::calendar:
      return calendar_script();
    case Charts::where:
      return where_script();
    case Charts::hindcast:
      return hindcast_script();
    case Charts::audit:
      return audit_script();
    case Charts::shade:
      return shade_script();
  }
  throw std::logic_error("this report has no page");
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

std::string html_prose(const Prose& text) {
  std::string out;
  for (const Prose::Run& run : text.runs()) {
    out += run.kind == Prose::Kind::name ? html_name(run.text) : prose(run.text);
  }
  return out;
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

void write_page(std::ostream& out, const Document& document) {
  const std::string title = document.title.empty() ? "A stay" : document.title;
  const std::string& first = document.page_headline;
  const auto [headline, rest] =
      headline_and_rest(first.empty() ? document.verdict : first + " " + document.verdict);
  std::vector<std::string> summary = document.summary;
  for (auto& line : summary) line = fmt::format("<bdi>{}</bdi>", html_text(cut(line, 500)));
  std::string charts;
  for (const Part& part : document.parts) charts += section(part, document);

  out << filled(
      page_frame(),
      {{"tab_title", html_text(cut(valid_utf8(title), 80))},
       {"title", html_name(title)},
       {"summary", list(summary)},
       {"tone", tone_class(document.tone)},
       {"headline", prose(headline)},
       {"verdict", verdict_html(document, rest)},
       {"steps", steps_html(document)},
       {"charts", charts},
       {"notes", (document.of_stays ? html_paragraph(kOfStays) : "") + text_list(document.notes)},
       {"cautions", text_list(document.cautions)},
       {"footer", html_text(fmt::format("{}: {}", document.program, document.footer))},
       {"chart_library", std::string(chart_library())},
       {"charts_script", std::string(charts_script())},
       {"page_script", std::string(script_of(document.charts))},
       {"data", script_json(document)}});
}

}  // namespace dullspell

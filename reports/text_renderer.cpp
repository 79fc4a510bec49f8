#include "reports/text_renderer.hpp"

#include <fmt/format.h>

namespace dullspell {
namespace {

void write_summary(TextWriter& writer, const std::string& title,
                   const std::vector<std::string>& lines) {
  if (!title.empty()) writer.title(title);
  for (std::size_t i = 0; i < lines.size(); ++i) writer.paragraph(lines[i], i == 0 ? 0 : 2);
}

void write_head(TextWriter& writer, const Document& document) {
  if (document.plans.empty()) {
    write_summary(writer, document.title, document.summary);
    return;
  }
  for (const PlanSummary& plan : document.plans) {
    const std::string name = fmt::format("{}: {}", plan.letter, plan.file);
    &plan == &document.plans.front() ? writer.title(name) : writer.heading(name);
    write_summary(writer, plan.title, plan.lines);
  }
}

void write_steps(TextWriter& writer, const std::vector<Step>& steps) {
  if (steps.empty()) return;
  writer.heading("What to do");
  for (const Step& step : steps) {
    writer.item(step.text.plain());
    for (const Prose& inner : step.items) writer.inner_item(inner.plain());
  }
}

void write_part(TextWriter& writer, const Part& part) {
  if (!part.text_heading.empty()) writer.heading(part.text_heading);
  for (const Block& block : part.blocks) {
    if (block.shown == Shown::on_page) continue;
    if (const auto* text = std::get_if<std::string>(&block.what)) writer.paragraph(*text, 2);
    if (const auto* table = std::get_if<Table>(&block.what)) {
      if (part.text_heading.empty()) {
        writer.table(*table);
      } else {
        Table untitled = *table;
        untitled.title.clear();
        writer.table(untitled);
      }
    }
  }
}

}  // namespace

void write_text(std::ostream& out, const Document& document, TextStyle style) {
  TextWriter writer(out, style);
  write_head(writer, document);
  if (!document.verdict.empty()) writer.verdict(document.verdict, document.tone);
  for (const auto& more : document.said_too) writer.paragraph(more);
  write_steps(writer, document.steps);
  for (const Part& part : document.parts) write_part(writer, part);
  if (!document.notes.empty()) writer.list("What the figures rest on", document.notes);
  if (!document.cautions.empty()) writer.list("Cautions", document.cautions);
  if (!document.footer.empty()) writer.footer(document.footer);
  for (const auto& more : document.fine_print) writer.paragraph(more);
}

}  // namespace dullspell

#include "cli/help_page.hpp"

#include <unistd.h>

#include <algorithm>

#include <fmt/format.h>

#include "cli/command_parts.hpp"
#include "cli/terminal.hpp"
#include "reports/number_text.hpp"

namespace dullspell {
namespace {

constexpr std::size_t kPipeWidth = 80;
constexpr std::size_t kLeastForTwoColumns = 64;
constexpr std::size_t kOptions = 28, kCommands = 14, kNarrowIndent = 6;

class HelpPage {
 public:
  HelpPage()
      : width_(
            std::min(terminal_width(STDOUT_FILENO).value_or(kPipeWidth), TextStyle::kUsualWidth)) {}

  void head(const std::string& question, const std::string& usage) {
    text_ += wrapped(question, width_) + "Usage: " + usage + "\n";
  }

  void options(const std::string& title, const std::vector<Option>& options) {
    if (options.empty()) return;
    text_ += "\n" + title + ":\n";
    for (const Option& option : options) {
      row(joined(dashed_names(option), ",") + value_text(option), option.help, kOptions);
    }
  }

  void commands(const std::vector<const Command*>& commands) {
    text_ += "\nSubcommands:\n";
    for (const Command* command : commands) row(command->name, command->question, kCommands);
  }

  void footer(const std::string& footer) {
    text_ += "\n";
    for (const FooterPart& part : footer_parts(footer)) {
      text_ += part.examples ? part.text : wrapped(part.text, width_);
    }
  }

  void paragraph(std::string_view text) { text_ += wrapped(text, width_); }

  void keys(const PlanTable& table) {
    if (!text_.empty()) text_ += "\n";
    text_ += wrapped(fmt::format("{}: {}", table.title, table.says), width_);
    for (const PlanKey& key : table.keys) {
      row(std::string(key.name), std::string(key.says), kOptions);
    }
  }

  const std::string& text() const { return text_; }

 private:
  // A name that reaches into the column of texts has its text below it.
  void row(const std::string& name, const std::string& text, std::size_t column) {
    const bool two_columns = width_ >= kLeastForTwoColumns;
    const std::size_t indent = two_columns ? column : kNarrowIndent;
    const std::string first = "  " + name, texts = wrapped(text, width_, indent);
    if (!two_columns || display_width(first) >= indent) {
      text_ += first + "\n" + texts;
    } else {
      text_ += left_aligned(first, indent) + texts.substr(std::min(indent, texts.size()));
    }
  }

  std::size_t width_;
  std::string text_;
};

}  // namespace

std::string help_page(const Program& program, const Command* command) {
  HelpPage page;
  if (!command) {
    page.head(program.question, program.name + " [OPTIONS] [SUBCOMMAND]");
    page.options("Options", shown_options(program));
    page.commands(shown_commands(program));
    page.footer(program.footer);
    return page.text();
  }
  const std::vector<Option> positionals = shown_positionals(*command);
  std::string usage = program.name + " " + command->name + " [OPTIONS]";
  for (const Option& positional : positionals) usage += " " + usage_text(positional);
  page.head(command->question, usage);
  page.options("Positionals", positionals);
  page.options("Options", shown_options(*command));
  // A command without words of its own ends with those of the program.
  page.footer(command->footer.empty() ? program.footer : command->footer);
  return page.text();
}

std::string keys_page(std::span<const PlanTable> tables, std::string_view introduction) {
  HelpPage page;
  page.paragraph(introduction);
  for (const PlanTable& table : tables) page.keys(table);
  return page.text();
}

}  // namespace dullspell

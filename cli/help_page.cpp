#include "cli/help_page.hpp"

#include <unistd.h>

#include <algorithm>

#include "cli/command_parts.hpp"
#include "cli/terminal.hpp"
#include "reports/number_text.hpp"

namespace dullspell {
namespace {

constexpr std::size_t kPipeWidth = 80;
constexpr std::size_t kLeastForTwoColumns = 64;
constexpr std::size_t kOptions = 28, kCommands = 14, kNarrowIndent = 6;

}  // namespace

HelpPage::HelpPage()
    : width_(std::min(terminal_width(STDOUT_FILENO).value_or(kPipeWidth), TextStyle::kUsualWidth)) {
}

std::string HelpPage::make_help(const CLI::App* app, std::string name,
                                CLI::AppFormatMode mode) const {
  // A group of hidden options leaves an empty line.
  return replaced(CLI::Formatter::make_help(app, std::move(name), mode), "\n\n\n", "\n\n");
}

std::string HelpPage::make_description(const CLI::App* app) const {
  return wrapped(app->get_description(), width_);
}

std::string HelpPage::make_option(const CLI::Option* option, bool is_positional) const {
  return row(make_option_name(option, is_positional) + make_option_opts(option),
             make_option_desc(option), kOptions);
}

std::string HelpPage::make_subcommand(const CLI::App* command) const {
  return row(command->get_name(), command->get_description(), kCommands);
}

std::string HelpPage::make_footer(const CLI::App* app) const {
  std::string out;
  for (const FooterPart& part : footer_parts(app->get_footer())) {
    out += part.examples ? part.text : wrapped(part.text, width_);
  }
  return out;
}

// A name that reaches into the column of texts has its text below it.
std::string HelpPage::row(const std::string& name, const std::string& text,
                          std::size_t column) const {
  const bool two_columns = width_ >= kLeastForTwoColumns;
  const std::size_t indent = two_columns ? column : kNarrowIndent;
  const std::string first = "  " + name, texts = wrapped(text, width_, indent);
  if (!two_columns || display_width(first) >= indent) return first + "\n" + texts;
  return left_aligned(first, indent) + texts.substr(std::min(indent, texts.size()));
}

}  // namespace dullspell

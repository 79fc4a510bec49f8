#include "cli/command_parts.hpp"

#include <algorithm>
#include <sstream>

namespace dullspell {
namespace {

bool goes_by_place(const Option& option) {
  return !option.name.starts_with('-');
}

const Option kHelp{.name = "-h,--help", .help = "Print this help message and exit"};
const Option kVersion{.name = "--version", .help = "Display program version information and exit"};

// Parts between separators; no part where the text is empty.
std::vector<std::string> split(const std::string& text, char separator) {
  std::vector<std::string> parts;
  std::istringstream in(text);
  for (std::string part; std::getline(in, part, separator);) parts.push_back(part);
  return parts;
}

}  // namespace

std::vector<const Command*> shown_commands(const Program& program) {
  std::vector<const Command*> shown;
  for (const Command& command : program.commands) {
    if (command.presence != Presence::hidden) shown.push_back(&command);
  }
  return shown;
}

std::vector<Option> shown_options(const Program&) {
  return {kHelp, kVersion};
}

std::vector<Option> shown_options(const Command& command) {
  std::vector<Option> shown{kHelp};
  for (const Option& option : command.options) {
    if (!goes_by_place(option) && option.presence != Presence::hidden) shown.push_back(option);
  }
  return shown;
}

std::vector<Option> shown_positionals(const Command& command) {
  std::vector<Option> shown;
  std::copy_if(command.options.begin(), command.options.end(), std::back_inserter(shown),
               goes_by_place);
  return shown;
}

void Command::hide(const std::string& option) {
  for (Option& own : options) {
    if (own.name == option) own.presence = Presence::hidden;
  }
}

std::vector<std::string> dashed_names(const Option& option) {
  return split(option.name, ',');
}

ValueKind value_kind(const Option& option) {
  ValueKind kind;
  kind.taken = !std::holds_alternative<bool*>(option.kept);
  if (!kind.taken) return kind;
  kind.repeats = std::holds_alternative<std::vector<std::string>*>(option.kept);
  kind.file = option.name == "FILE";
  for (const auto& word : split(option.takes, '|')) {
    if (word == "FILE") kind.file = true;
    if (!word.empty() && word.front() >= 'a' && word.front() <= 'z') kind.choices.push_back(word);
  }
  return kind;
}

std::string value_text(const Option& option) {
  const ValueKind kind = value_kind(option);
  if (!kind.taken) return "";
  std::string text;
  if (!option.takes.empty()) text += " " + option.takes;
  if (!option.shown_default.empty()) text += "=" + option.shown_default;
  if (kind.repeats) text += " ...";
  if (option.presence == Presence::required) text += " REQUIRED";
  return text;
}

std::string usage_text(const Option& positional) {
  const std::string text = positional.name + (value_kind(positional).repeats ? "..." : "");
  return positional.presence == Presence::required ? text : "[" + text + "]";
}

std::string joined(const std::vector<std::string>& words, const std::string& between) {
  std::string out;
  for (const auto& word : words) out += (out.empty() ? "" : between) + word;
  return out;
}

std::vector<FooterPart> footer_parts(const std::string& footer) {
  std::vector<FooterPart> parts;
  std::istringstream lines(footer);
  for (std::string line; std::getline(lines, line);) {
    const bool example = line.starts_with("  ");
    const bool begins =
        parts.empty() || parts.back().examples != example ||
        (!example && (line.starts_with("Example") || parts.back().text.ends_with('.')));
    if (begins) parts.push_back({example, ""});
    std::string& text = parts.back().text;
    text += example ? line + "\n" : (text.empty() ? "" : " ") + line;
  }
  return parts;
}

}  // namespace dullspell

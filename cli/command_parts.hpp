#pragma once

#include <string>
#include <vector>

#include "cli/command_line.hpp"

namespace dullspell {

/// What `--help` shows of the program or a command, in its order, `--help` itself included.
std::vector<const Command*> shown_commands(const Program& program);
std::vector<Option> shown_options(const Program& program);
std::vector<Option> shown_options(const Command& command);
std::vector<Option> shown_positionals(const Command& command);

/// `--json` and its like, dashes included, short names first.
std::vector<std::string> dashed_names(const Option& option);

/// What may be typed for an option's value or a positional.
struct ValueKind {
  bool taken = false;  ///< False for a flag.
  bool file = false;
  std::vector<std::string> choices;
  bool repeats = false;  ///< May be given several times.
};
ValueKind value_kind(const Option& option);

/// What stands behind an option's name on its help page: " FILE ... REQUIRED".
std::string value_text(const Option& option);

/// A word by its place as the line of usage shows it: "PLAN", "[TEXT]", "FILE...".
std::string usage_text(const Option& positional);

/// A part of a footer: a paragraph of prose in one line, to be broken anew, or examples, whose
/// lines begin with two blanks and end as they are.
struct FooterPart {
  bool examples = false;
  std::string text;
};
std::vector<FooterPart> footer_parts(const std::string& footer);

std::string joined(const std::vector<std::string>& words, const std::string& between);

}  // namespace dullspell

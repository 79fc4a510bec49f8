#pragma once

#include <string>
#include <vector>

#include <CLI/CLI.hpp>

namespace dullspell {

/// What `--help` shows of a program or a command, in its order; hidden ones (group "") left out.
std::vector<const CLI::App*> shown_commands(const CLI::App& app);
std::vector<const CLI::Option*> shown_options(const CLI::App& command);
std::vector<const CLI::Option*> shown_positionals(const CLI::App& command);

/// `--json` and its like, dashes included, short names first.
std::vector<std::string> dashed_names(const CLI::Option& option);

/// What may be typed for an option's value or a positional, by the words of its type name between
/// `|`: FILE is a file, words in small letters are choices, other words in capitals are free text.
struct ValueKind {
  bool taken = false;  ///< False for a flag.
  bool file = false;
  std::vector<std::string> choices;
  bool repeats = false;  ///< May be given several times.
};
ValueKind value_kind(const CLI::Option& option);

/// A part of a footer: a paragraph of prose in one line, to be broken anew, or examples, whose
/// lines begin with two blanks and end as they are.
struct FooterPart {
  bool examples = false;
  std::string text;
};
std::vector<FooterPart> footer_parts(const std::string& footer);

}  // namespace dullspell

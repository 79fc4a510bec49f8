#pragma once

#include <functional>
#include <string>
#include <variant>
#include <vector>

#include "cli/exit_code.hpp"

namespace dullspell {

enum class Presence { optional, required, hidden };  ///< hidden: understood, but shown nowhere

/// How many words an option of several values takes each time that it is given.
enum class WordsEachTime { one, many };

/// An option of a command, or a word that goes by its place.
struct Option {
  /// Where what is typed is kept, as typed: whether a flag was given, the value, or all values.
  using Kept = std::variant<bool*, std::string*, std::vector<std::string>*>;

  /// `--json`, short names first as in `-h,--help`; or `PLAN` for a word by its place.
  std::string name = {};
  Kept kept = static_cast<bool*>(nullptr);
  std::string help = {};
  /// What a value may be, in words between `|`: FILE is a file, words in small letters are choices,
  /// other words in capitals are free text. Empty: not said.
  std::string takes = "TEXT";
  Presence presence = Presence::optional;
  WordsEachTime words = WordsEachTime::many;
  std::string shown_default = {};  ///< as the help page says it; empty: not said
};

/// A command of the program: a question that it answers.
struct Command {
  std::string name = {};
  std::string question = {};
  std::string footer = {};  ///< of its help page; lines that begin with two blanks are examples
  std::vector<Option> options = {};  ///< in the order of its help page
  std::function<ExitCode()> run = {};
  Presence presence = Presence::optional;

  /// Understood from now on, so that it can be refused with a reason, but shown nowhere.
  void hide(const std::string& option);
};

struct Program {
  std::string name;
  std::string version;  ///< name and version, as --version says them
  std::string question;
  std::string footer;
  std::vector<Command> commands;
};

/// Does what the command line says and tells what is wrong with it. Errors of the command itself
/// pass through.
ExitCode run_command_line(const Program& program, int argc, char** argv);

}  // namespace dullspell

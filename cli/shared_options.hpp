#pragma once

#include <string>
#include <vector>

#include "cli/command_line.hpp"
#include "engine/plan/plan.hpp"
#include "engine/study/study.hpp"
#include "reports/number_text.hpp"
#include "weather/input/source_text.hpp"

namespace dullspell {

/// Options of every command that runs stays. They are kept as typed and checked by options(), so
/// that messages can say what was typed and what is allowed.
struct StudyOptionTexts {
  std::string stays, seed, threads, precision, cpu;

  void add_to(Command& command);

  /// Throws InputError.
  StudyOptions options() const;
};

/// The plan that a command reads, and the changes to it that the command line makes.
struct PlanOption {
  std::string path;
  std::vector<std::string> settings;

  void add_to(Command& command);

  /// Throws InputError.
  Plan read() const;

  /// The same in two steps, for those who need the text as well.
  SourceText source() const;
  Plan read(SourceText source) const;
};

/// The whole study, with a line of progress on a terminal.
StudyResult run_with_progress(const PreparedPlan& plan, const StudyOptions& options);

/// `--json FILE`, in the words of every command that runs stays.
Option json_option(std::string& path);

/// `--html FILE`, likewise.
Option html_option(std::string& path);

/// A file for comma-separated values, `--csv FILE`; `help` says what is in it.
Option csv_option(std::string& path, std::string help);

/// `--set KEY=VALUE`, a change of a plan; may be given several times.
Option set_option(std::vector<std::string>& settings, std::string help);

/// `--units`, of what people read; what programs read, and what is typed, keeps its own.
struct UnitsOption {
  std::string word;

  void add_to(Command& command);

  /// Metric unless another is asked for. Throws InputError; to be called before any long work.
  Units units() const;
};

}  // namespace dullspell

#pragma once

#include <memory>
#include <optional>
#include <ostream>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>

#include "cli/output_file.hpp"
#include "cli/shared_options.hpp"
#include "engine/stay_outcomes.hpp"

namespace dullspell {

/// Options of the commands that ask of one plan what it would risk at many dates or places.
struct SurveyOptionTexts {
  PlanOption plan;
  StudyOptionTexts study;
  std::string json, csv;

  void add_to(CLI::App& command);

  /// Throws InputError, too, for --precision.
  OutcomeOptions options() const;

  /// A plan that can be moved: one under way is refused, days that it knows are dropped, which its
  /// last note then says. Throws InputError.
  Plan read() const;
};

/// Files that a command writes besides its report, opened before the work begins.
class SurveyFiles {
 public:
  /// Throws InputError, too, where two of them are standard output.
  void open(const std::string& option, const std::string& path);

  /// Where to write what `option` asked for; null if it was not given.
  std::ostream* stream(const std::string& option);

  /// Whether the report for people has standard output to itself.
  bool leave_standard_output() const { return !on_standard_output_; }

  void commit();

 private:
  struct Opened {
    std::string option;
    std::unique_ptr<OutputFile> file;
  };
  std::vector<Opened> files_;
  std::optional<std::string> on_standard_output_;
};

}  // namespace dullspell

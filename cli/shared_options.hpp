#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>

#include "engine/plan.hpp"
#include "engine/study.hpp"
#include "reports/number_text.hpp"
#include "weather/calendar.hpp"
#include "weather/place.hpp"
#include "weather/solar_day.hpp"

namespace dullspell {

/// Options of every command that runs stays. They are kept as typed and checked by options(), so
/// that messages can say what was typed and what is allowed.
struct StudyOptionTexts {
  std::string stays, seed, threads, precision, cpu;

  void add_to(CLI::App& command);

  /// Throws InputError.
  StudyOptions options() const;
};

/// The plan that a command reads, and the changes to it that the command line makes.
struct PlanOption {
  std::string path;
  std::vector<std::string> settings;

  void add_to(CLI::App& command);

  /// Throws InputError.
  Plan read() const;
};

/// The whole study, with a line of progress on a terminal.
StudyResult run_with_progress(const PreparedPlan& plan, const StudyOptions& options);

/// `--json FILE`, in the words of every command that runs stays.
void add_json_option(CLI::App& command, std::string& path);

/// `--html FILE`, likewise.
void add_html_option(CLI::App& command, std::string& path);

/// `--units`, of what people read; what programs read, and what is typed, keeps its own.
struct UnitsOption {
  std::string word;

  void add_to(CLI::App& command);

  /// Metric unless another is asked for. Throws InputError; to be called before any long work.
  Units units() const;
};

/// The text with A to Z in small letters, whatever the locale.
std::string in_small_letters(std::string text);

/// Reads one value of the command line. Throws InputError that names the option and its bounds.
std::uint64_t whole_number(const std::string& option, const std::string& text, std::uint64_t low,
                           std::uint64_t high);
double real_number(const std::string& option, const std::string& text, double low, double high);
Date calendar_date(const std::string& option, const std::string& text);
Coordinates coordinates(const std::string& option, const std::string& text);
RecordKind kind_of_record(const std::string& option, const std::string& text);

/// Reports a wrong value or combination on the command line.
[[noreturn]] void refuse_option(const std::string& option, std::string problem, std::string allowed,
                                std::string fix = "");

}  // namespace dullspell

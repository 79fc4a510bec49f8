#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "weather/calendar.hpp"
#include "weather/clock.hpp"
#include "weather/input/range.hpp"
#include "weather/input/source_text.hpp"

namespace dullspell {

/// A parsed TOML text together with its source lines, and with changes made on the command line.
class TomlDocument {
 public:
  /// Applies `settings` in their order, see apply_setting().
  /// Throws InputError with line and column for text that is not TOML.
  explicit TomlDocument(SourceText source, const std::vector<std::string>& settings = {});

  ~TomlDocument();

  const SourceText& source() const { return source_; }

  struct Root;  ///< the parsed table
  const Root& root() const { return *root_; }

 private:
  SourceText source_;
  std::unique_ptr<const Root> root_;
};

struct TomlTable;

/// Typed, ranged reader over one table. Every look-up notes its key as known; finish() then reports
/// keys that nobody asked for. Every error points at the value (or key, or table) that caused it.
///
/// Numbers are metric whatever was typed: a key whose range is in a unit of unit_twin.hpp may stand
/// in the text as its twin in a US unit, in which messages then speak, though not as both. What a
/// setting says in one of the two units stands in place of what the text says in the other.
class TomlSection {
 public:
  static TomlSection root_of(std::shared_ptr<const TomlDocument> document);

  TomlSection(TomlSection&&) noexcept;
  TomlSection& operator=(TomlSection&&) noexcept;
  ~TomlSection();

  const std::string& path() const;
  const TomlDocument& document() const;

  bool has(std::string_view key) const;
  /// By a setting, whatever the text says.
  bool set_on_command_line(std::string_view key) const;
  bool is_table(std::string_view key) const;
  bool is_array(std::string_view key) const;
  bool is_text(std::string_view key) const;
  bool holds_lists(std::string_view key) const;  ///< a list whose first entry is a list

  /// The name under which a key in a metric unit is given: its own, or that of its twin in a US
  /// unit; its own if neither is there. Throws InputError if both are.
  std::string typed_key(std::string_view key, std::string_view unit);

  std::optional<double> number(std::string_view key, const Range& range, std::string_view fix = "");
  double number_or(std::string_view key, double otherwise, const Range& range,
                   std::string_view fix = "");
  double required_number(std::string_view key, const Range& range, std::string_view fix = "");

  /// A whole number.
  std::optional<int> integer(std::string_view key, int low, int high, std::string_view fix = "");

  std::optional<bool> flag(std::string_view key);
  std::optional<std::string> text(std::string_view key);
  std::string required_text(std::string_view key, std::string_view fix = "");

  /// One of a set of words, with "did you mean".
  std::optional<std::string> choice(std::string_view key, const std::vector<std::string>& words);

  /// A list of words of a set.
  std::optional<std::vector<std::string>> choices(std::string_view key,
                                                  const std::vector<std::string>& words);

  /// Exactly `count` numbers.
  std::optional<std::vector<double>> numbers(std::string_view key, std::size_t count,
                                             const Range& range, std::string_view fix = "");

  /// Rows of numbers, each within the range of its column. The first column's unit is that of a
  /// twin.
  std::optional<std::vector<std::vector<double>>> number_rows(std::string_view key,
                                                              const std::vector<Range>& columns,
                                                              std::string_view fix = "");

  std::optional<Date> date(std::string_view key, std::string_view fix = "");
  /// A date and time of TOML, or text: "2027-05-21 3 pm".
  std::optional<LocalTime> local_time(std::string_view key, std::string_view fix = "");
  /// Minutes after midnight of a time of TOML, or of text as minute_of_day_in() reads it.
  std::optional<int> clock_time(std::string_view key, std::string_view fix = "");
  std::optional<std::vector<int>> clock_times(std::string_view key);
  std::optional<ClockWindow> window(std::string_view key);
  std::vector<ClockWindow> windows(std::string_view key);

  std::optional<TomlSection> section(std::string_view key);
  std::vector<TomlSection> sections(std::string_view key);

  /// Reports a key that is known but must not stand here, if it does.
  void refuse(std::string_view key, std::string problem, std::string allowed = "",
              std::string fix = "");

  /// Reports the first key that nobody looked up.
  void finish() const;

  /// Reports a problem at a key's value, or at the table if the key is absent.
  [[noreturn]] void fail(std::string_view key, std::string problem, std::string allowed = "",
                         std::string fix = "") const;

  /// The same about the table as a whole.
  [[noreturn]] void fail_here(std::string problem, std::string allowed = "",
                              std::string fix = "") const;

 private:
  explicit TomlSection(std::unique_ptr<TomlTable> table);
  static TomlSection section_of(TomlTable table);

  std::unique_ptr<TomlTable> table_;
};

}  // namespace dullspell

#pragma once

#include <string>
#include <vector>

#include "cli/command_line.hpp"
#include "engine/plan/plan.hpp"
#include "engine/study/hindcast.hpp"
#include "weather/weather_record.hpp"

namespace dullspell {

/// Reads weather files and picks one site's record, all files joined. `site` may be empty where
/// they hold a single one. Throws InputError.
WeatherRecord read_record(const std::vector<std::string>& files, const std::string& site);

/// A measured record that a plan is replayed on.
struct PastRecordOptionTexts {
  std::vector<std::string> files;
  std::string site, at, window;
  bool typical_year = false;

  /// `presence` of `--record`: required where the command cannot do without one.
  void add_to(Command& command, Presence presence);

  bool given() const { return !files.empty(); }

  /// Refuses options that say how to use a record where none is given, and a wrong window. Throws
  /// InputError; to be called before any long work.
  void check() const;

  /// The record after quality control. Where a file does not say where it was measured, the plan's
  /// first place is taken. Throws InputError.
  WeatherRecord record(const Plan& plan) const;

  /// Throws InputError, too, where the record holds no period of the plan.
  HindcastResult hindcast(const Plan& plan, const PreparedPlan& prepared,
                          const WeatherRecord& record, const StudyOptions& study) const;
};

}  // namespace dullspell

#pragma once

#include <string>
#include <vector>

#include "reports/run_report.hpp"
#include "reports/table.hpp"

namespace dullspell {

/// The tables of a run, as its text and its page show them.

/// Which stay is meant, of a plan with a generator.
enum class Track { home, along };

const TrackRisk& risk_on(const RunReport& report, Track track);

/// ", generator along", ", generator left at home"; nothing where a plan has none.
std::string on_track(const RunReport& report, Track track);

/// Nights and hours that go flat in one stay and the energy missing, on every track.
Table stay_table(const RunReport& report);

/// When flat hours are: "mostly between 02:00 and 09:00", the shortest span that holds four in
/// five; "at all hours", or nothing without a flat hour.
std::string flat_hours_text(const TrackRisk& risk);

/// Risk and morning charge by date.
Table days_table(const RunReport& report, Track track);

/// What the generator does in a stay, if there is one in the plan; and what it leaves flat.
Table generator_table(const RunReport& report);
std::string generator_leaves(const RunReport& report);

/// What uses energy, what brings it, on an average day; and how long a full battery lasts.
Table budget_table(const Budget& budget);
std::string autonomy_text(const Budget& budget);

/// The balance of each camp's average day; of a stay with several.
Table camps_table(const Plan& plan, const Budget& budget);

/// What the days that are forecast should bring and use. None may be forecast.
Table forecast_table(const Budget& budget);

/// How far off the plan's guesses may put the risk, and what each brings of that doubt.
Table guesses_table(const GuessDoubt& doubt);
std::string guesses_sentence(const Plan& plan, const GuessDoubt& doubt);

/// Where the risk stands to what the plan accepts, generator left at home.
Tone tone_of(const Proportion& risk, double accepted);

/// An interval of a table, "–" where there is none.
std::string climate_cell(const std::optional<Interval>& climate);

/// A chart of hours and its table show so many at most; longer stays every second, third ... one.
std::size_t hours_apart(std::size_t hours);

/// The state of charge by hour; it has no title yet.
Table charge_table(const RunReport& report, Track track);

/// Entries of the histogram of generator hours up to the last that any stay reaches.
std::size_t hours_used(const GeneratorResult& along);
Table generator_hours_table(const RunReport& report);

}  // namespace dullspell

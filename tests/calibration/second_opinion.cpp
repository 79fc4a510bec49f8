// Writes how dull several days in a row can be by the record, by the engine and by the Markov
// library, as Markdown.

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <functional>

#include <fmt/format.h>

#include "tests/calibration/dull_days_study.hpp"

namespace dullspell::calibration {
namespace {

using StationMonths = std::vector<StationMonth>;

struct Group {
  const char* name;
  double from, to;

  bool holds(const StationMonth& m) const { return m.k_mean >= from && m.k_mean < to; }
};

constexpr std::array<Group, 5> kGroups{{{"below 0.35", 0.0, 0.35},
                                        {"0.35 to 0.45", 0.35, 0.45},
                                        {"0.45 to 0.55", 0.45, 0.55},
                                        {"above 0.55", 0.55, 1.0},
                                        {"all", 0.0, 1.0}}};

constexpr const char* kKnowledgeNames =
    " place | mean and spread | mean, spread by latitude | mean alone | library |";

using Counts = std::function<bool(const StationMonth&)>;

struct Error {
  int months = 0;
  double bias = 0.0, rms = 0.0;
};

Error error_of(const StationMonths& all, const Counts& counts,
               const std::function<double(const StationMonth&)>& difference) {
  Error out;
  for (const StationMonth& m : all) {
    if (!counts(m)) continue;
    const double e = 100.0 * difference(m);
    ++out.months;
    out.bias += e;
    out.rms += e * e;
  }
  if (out.months == 0) return out;
  out.bias /= out.months;
  out.rms = std::sqrt(out.rms / out.months);
  return out;
}

// One row: the measured quantile, its noise, and the errors of all generators.
void print_row(const StationMonths& all, const Counts& counts, const std::string& name,
               std::size_t run, std::size_t tail) {
  const Error measured =
      error_of(all, counts, [=](const StationMonth& m) { return m.measured[run][tail]; });
  const Error noise =
      error_of(all, counts, [=](const StationMonth& m) { return m.noise[run][tail]; });
  fmt::print("| {} ({}) | {:.0f} % | {:.1f} | {:.1f} |", name, measured.months,
             100.0 * kTails[tail], measured.bias, noise.rms);
  for (const Knowledge knowledge : kKnowledge) {
    const Error e = error_of(all, counts, [=](const StationMonth& m) {
      return m.by(knowledge)[run][tail] - m.measured[run][tail];
    });
    fmt::print(" {:+.1f}, {:.1f} |", e.bias, e.rms);
  }
  fmt::print("\n");
}

void print_head(const char* first) {
  fmt::print("| {} (months) | quantile | measured | its noise |{}\n", first, kKnowledgeNames);
  fmt::print("| --- | --- | --- | --- | --- | --- | --- | --- | --- |\n");
}

void print_errors(const StationMonths& all, std::size_t run) {
  print_head("mean clearness");
  for (const Group& group : kGroups) {
    for (std::size_t tail = 0; tail < kTails.size(); ++tail) {
      print_row(
          all, [&](const StationMonth& m) { return group.holds(m); }, group.name, run, tail);
    }
  }
}

void print_by_station(const StationMonths& all, const std::vector<Station>& stations) {
  print_head("station");
  for (std::size_t s = 0; s < stations.size(); ++s) {
    print_row(
        all, [=](const StationMonth& m) { return m.station == s; }, stations[s].name, 0, 1);
  }
}

void print_spreads(const StationMonths& all) {
  fmt::print("| mean clearness | measured |{}\n", kKnowledgeNames);
  fmt::print("| --- | --- | --- | --- | --- | --- | --- |\n");
  for (const Group& group : kGroups) {
    const auto here = [&](const StationMonth& m) { return group.holds(m); };
    fmt::print("| {} | {:.1f} |", group.name,
               error_of(all, here, [](const StationMonth& m) { return m.measured_sd; }).bias);
    for (std::size_t k = 0; k < kKnowledge.size(); ++k) {
      fmt::print(" {:.1f} |",
                 error_of(all, here, [=](const StationMonth& m) { return m.drawn_sd[k]; }).bias);
    }
    fmt::print("\n");
  }
}

struct Decisions {
  int differ = 0;
  int nearer = 0;  ///< the engine is
};

// Where the engine and the library differ by more than the record's noise.
Decisions decisions_of(const StationMonths& all, const Counts& counts, Knowledge knowledge) {
  Decisions out;
  for (const StationMonth& m : all) {
    if (!counts(m)) continue;
    for (std::size_t run = 0; run < kRuns_d.size(); ++run) {
      for (std::size_t tail = 0; tail < kTails.size(); ++tail) {
        const double ours = m.by(knowledge)[run][tail];
        const double theirs = m.by(Knowledge::library)[run][tail];
        if (std::abs(ours - theirs) <= m.noise[run][tail]) continue;
        const double truth = m.measured[run][tail];
        ++out.differ;
        out.nearer += std::abs(ours - truth) < std::abs(theirs - truth);
      }
    }
  }
  return out;
}

void print_decision_row(const StationMonths& all, const Counts& counts, const char* name) {
  fmt::print("| {} |", name);
  for (const Knowledge knowledge : kKnowledge) {
    if (knowledge == Knowledge::library) continue;
    const Decisions decisions = decisions_of(all, counts, knowledge);
    fmt::print(" {} of {} |", decisions.nearer, decisions.differ);
  }
  fmt::print("\n");
}

void print_decisions(const StationMonths& all, const std::vector<Station>& stations) {
  fmt::print(
      "| mean clearness | place | mean and spread | mean, spread by latitude | mean alone |\n"
      "| --- | --- | --- | --- | --- |\n");
  for (const Group& group : kGroups) {
    print_decision_row(
        all, [&](const StationMonth& m) { return group.holds(m); }, group.name);
  }
  const auto is_irish = [&](const StationMonth& m) {
    return stations[m.station].name.ends_with(" IE");
  };
  print_decision_row(all, is_irish, "the Irish stations");
  print_decision_row(
      all, [&](const StationMonth& m) { return !is_irish(m); }, "the others");
}

std::size_t least_years(const StationMonths& all) {
  return std::min_element(all.begin(), all.end(),
                          [](const auto& a, const auto& b) { return a.years < b.years; })
      ->years;
}

std::size_t most_years(const StationMonths& all) {
  return std::max_element(all.begin(), all.end(),
                          [](const auto& a, const auto& b) { return a.years < b.years; })
      ->years;
}

double largest_rescaling(const StationMonths& all, const MarkovLibrary& library) {
  double largest = 0.0;
  for (const StationMonth& m : all) {
    const double scale = m.k_mean / library.month_of(m.k_mean).mean();
    largest = std::max(largest, std::abs(scale - 1.0));
  }
  return largest;
}

void write(const std::string& records, const std::string& table) {
  constexpr std::uint32_t kRecords = 300;
  const auto stations = load_stations(records);
  const MarkovLibrary library(read_source(table, "table", 1024 * 1024));
  const StationMonths months = dull_days(stations, library, kRecords);
  fmt::print(R"(# A second opinion on dull spells

Made by `build/bin/dullspell_second_opinion datasets/records tests/reference/tables/markov_library.csv > tests/calibration/SECOND_OPINION.md`.

## Question and method

How dull can 5 or 7 days in a row be? The engine's chain of days answers by what it knows of a month; the Markov library of Aguiar, Collares-Pereira & Conde 1988 (Solar Energy 40:269) is a generator of another kind that needs the month's mean only. The judges are {} stations, measured over {} to {} years, month by month: the 1, 5 and 10 % quantiles of the mean clearness of successive days within the month.

- Place: fitted to the record itself (quantiles, persistence, year share). Mean and spread: the month's mean and standard deviation (beta distribution), persistence 0.29, no year share. Mean, spread by latitude: the same with the regression of datasets/README.md for the standard deviation. Mean alone: the distribution of Hollands & Huget, persistence 0.29. All know the mean of the record that judges them, and the place all of it; tests of places on years that they have not seen are the calibration study's.
- Library: the matrix of the month's mean, first day from its stationary distribution. A matrix has the mean of its class of months (here up to {:.0f} % from the month's own), so its days are multiplied by the month's mean over the matrix's.
- Generated records are as long as the measured one ({} of each), since the extremes of a short record lie inward of the true quantiles.
- Figures are % of the month's mean clearness. "Its noise" is the standard error of the measured quantile, years drawn with replacement. Each generator has bias, rms error; the rms holds the noise. Negative means too dull, which is the safe side.
)",
             stations.size(), least_years(months), most_years(months),
             100.0 * largest_rescaling(months, library), kRecords);
  for (std::size_t run = 0; run < kRuns_d.size(); ++run) {
    fmt::print("\n## Means of {} days\n\n", kRuns_d[run]);
    print_errors(months, run);
  }
  fmt::print("\n## By station, 5 days\n\n");
  print_by_station(months, stations);
  fmt::print("\n## Standard deviation of the means of 5 days\n\n");
  print_spreads(months);
  fmt::print(R"(
## Decided by the record

Of the quantiles in which the engine and the library differ by more than the record's noise, those in which the engine is nearer to the record:

)");
  print_decisions(months, stations);
  fmt::print(R"(
## What follows

- What a place knows of its spread and persistence matters more than the kind of generator: by station, mean alone and library err alike, by -13 to +10, mean alone being the duller by 5 on average.
- A place with a record stands: it is nearer than the library in seven of ten differences, its rms error little more than the record's noise. The spread of its 5-day means is right in every group, yet their lower tail is 2 to 3 too dull at nearly every station: so it is the shape and not the spread, as if dull days held together a little less than a Gaussian chain says. That errs on the safe side and is left alone.
- Mean and spread stand too: nearer in two of three. Above 0.55, and at Davis and Graz, they are 2 to 6 too bright; at Davis the days of a month of one year share a third of their variance, of which they know nothing.
- Mean alone: the record sides with the library in nine of ten differences at the Irish stations, in dull oceanic months where Hollands & Huget's spread is too large and the answer 5 to 13 too dull; at the other six stations it sides with the engine in three of five, the library being 8 to 10 too bright at Davis, Bern and Graz. Below 0.35, where batteries run flat, the library is 1 to 6 too bright. Its small bias over all is the weight of eight Irish stations. The engine's default stays: it errs on the safe side in dull oceanic months, and by 3 to 5 on the other above 0.55.
- The regression by latitude takes a third off the excess below 0.35 and changes little above: no reason to replace the default. A plan of monthly means that also states `k_sd` halves its error in dull months.
)");
}

}  // namespace
}  // namespace dullspell::calibration

int main(int argc, char** argv) {
  if (argc != 3) {
    fmt::print(stderr, "usage: dullspell_second_opinion FOLDER_OF_RECORDS MARKOV_LIBRARY_CSV\n");
    return 2;
  }
  dullspell::calibration::write(argv[1], argv[2]);
}

// Do the probabilities come true? Writes CALIBRATION.md and reliability.svg into the folder named
// second from the records in the folder named first; fails if a target is missed.

#include <algorithm>
#include <exception>
#include <fstream>
#include <iostream>
#include <string>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "tests/calibration/calibration_study.hpp"
#include "tests/calibration/reliability_plot.hpp"

namespace dullspell::calibration {
namespace {

struct Target {
  std::string what;
  double value;
  double low, high;

  bool met() const { return value >= low && value <= high; }
};

std::vector<Target> targets_of(const CalibrationResult& result) {
  const Score half = score_of(result.by_halves), five = score_of(result.by_five_years),
              typical = score_of(result.typical_like);
  return {
      {"fitted on one half, judged by the other: bias, points", 100.0 * half.bias, -1.5, 1.5},
      {"... rms error over the judging half's own noise", half.ratio(), 0.0, 1.35},
      {"five years left out, pooled: rms error over the record's noise", five.ratio(), 0.0, 1.0},
      {"one typical-like year: bias, points", 100.0 * typical.bias, -2.0, 2.0},
      {"... rms error over the record's noise", typical.ratio(), 0.0, 1.6},
      {"combined 90 % interval, odd and even years: covered", result.odd_even.share(), 0.85, 0.95},
      {"... random halves: covered", result.random.share(), 0.85, 0.95}};
}

void write_targets(std::ostream& out, const std::vector<Target>& targets) {
  fmt::print(out, "| what | found | wanted | met |\n| --- | --- | --- | --- |\n");
  for (const Target& t : targets) {
    fmt::print(out, "| {} | {:.2f} | {:g} to {:g} | {} |\n", t.what, t.value, t.low, t.high,
               t.met() ? "yes" : "no");
  }
}

std::string cells(const Score& s) {
  return fmt::format("{:+.1f} | {:.1f} | {:.1f} | {:.2f}", 100.0 * s.bias, 100.0 * s.rms,
                     100.0 * s.noise, s.ratio());
}

// One row a group, the two ways of fitting side by side.
void write_groups(
    std::ostream& out, std::string_view title, const CalibrationResult& result,
    const std::vector<std::pair<std::string, std::function<bool(const Verdict&)>>>& groups) {
  fmt::print(
      out,
      "\n| {} | halves: bias | rms | noise | ratio | typical-like year: bias | rms | noise | "
      "ratio |\n| --- | --- | --- | --- | --- | --- | --- | --- | --- |\n",
      title);
  for (const auto& [name, belongs] : groups) {
    fmt::print(out, "| {} | {} | {} |\n", name, cells(score_of(result.by_halves, belongs)),
               cells(score_of(result.typical_like, belongs)));
  }
}

void write_reliability(std::ostream& out, const std::vector<ReliabilityPoint>& points) {
  fmt::print(out,
             "| predicted, mean | measured, mean | record's noise | rms distance of single cases | "
             "cases |\n| --- | --- | --- | --- | --- |\n");
  for (const ReliabilityPoint& p : points) {
    fmt::print(out, "| {:.1f} % | {:.1f} % | {:.1f} | {:.1f} | {} |\n", 100.0 * p.predicted,
               100.0 * p.measured, 100.0 * p.noise, 100.0 * p.spread, p.verdicts);
  }
}

void write_coverage(std::ostream& out, const CalibrationResult& result) {
  fmt::print(out,
             "| split of the years | cases | inside | measured below | measured above |\n"
             "| --- | --- | --- | --- | --- |\n");
  const auto row = [&](std::string_view name, const Coverage& c) {
    const double n = static_cast<double>(c.cases);
    fmt::print(out, "| {} | {} | {:.1f} % | {:.1f} % | {:.1f} % |\n", name, c.cases,
               100.0 * c.share(), 100.0 * static_cast<double>(c.below) / n,
               100.0 * static_cast<double>(c.above) / n);
  };
  row("odd and even, both ways", result.odd_even);
  row("random halves, twice, both ways", result.random);
  row("first and last half, both ways", result.early_late);
  row("none: a blend of what is known around it", result.covered_around);
}

void write_page(std::ostream& out, const std::vector<Station>& stations,
                const CalibrationResult& result) {
  fmt::print(
      out,
      "# Do the probabilities come true?\n\n"
      "Made by `tests/run-all --deep`, or alone by\n\n"
      "```\nninja -C build dullspell_calibration\n"
      "build/bin/dullspell_calibration datasets/records tests/calibration\n```\n\n"
      "{} stations with measured daily irradiation of several years (provenance in "
      "[datasets/README.md](../../datasets/README.md)), every month, six invented kits from "
      "tight to generous, stays of 5, 7, 10 and 14 days. A place is fitted to some years of "
      "a station; the engine's share of stays that run flat is compared with the share of "
      "the other years' periods that did, each run through the same engine. Periods begin "
      "on every day of the month and overlap, so the noise of a measured share is taken "
      "from whole years. All figures are percentage points but the ratios; a perfect "
      "forecast has a ratio of 1, and two equal halves of a perfect world differ by 1.41.\n\n"
      "## Targets\n\n",
      stations.size());
  write_targets(out, targets_of(result));
  fmt::print(out,
             "\n## In and out of sample\n\n"
             "| place fitted to | judged by | cases | bias | rms | noise | ratio |\n"
             "| --- | --- | --- | --- | --- | --- | --- |\n");
  const auto row = [&](std::string_view fitted, std::string_view judged,
                       const std::vector<Verdict>& verdicts) {
    const Score s = score_of(verdicts);
    fmt::print(out, "| {} | {} | {} | {} |\n", fitted, judged, s.verdicts, cells(s));
  };
  row("odd years, and even years", "the other half", result.by_halves);
  row("all but five years, pooled", "the whole record", result.by_five_years);
  row("one typical-like year", "the whole record", result.typical_like);
  row("one measured year, every tenth", "the whole record", result.single_year);
  row("nothing: the nearest other built-in station", "the whole record", result.nearest);
  row("nothing: a blend of what is known around it", "the whole record", result.around);
  fmt::print(out,
             "\nA typical-like year is put together from the month of all years whose days "
             "are distributed most like those of all of them; real typical years weigh other "
             "things too and are further off. Built-in places within 3 km, which were made from "
             "the record "
             "itself, take no part where nothing is fitted to it.\n\n## Reliability\n\n"
             "![Measured against predicted shares](reliability.svg)\n\n"
             "Fitted on one half of the years, judged by the other:\n\n");
  write_reliability(out, reliability(result.by_halves));
  fmt::print(out,
             "\n## Coverage of the climate interval\n\n"
             "The measured share should fall into the combined 90 % interval (what the fitted "
             "years leave open, and what as many years as judge would scatter) in 90 of 100 "
             "cases. Cases in which nothing ever runs flat, drawn or measured, are left out. "
             "First and last halves differ by more than chance where a climate or an "
             "instrument drifts; no interval made from one half can know that.\n\n");
  write_coverage(out, result);
  fmt::print(out, "\n## Where the errors are\n");
  std::vector<std::pair<std::string, std::function<bool(const Verdict&)>>> groups;
  for (std::size_t s = 0; s < stations.size(); ++s) {
    groups.emplace_back(stations[s].name, [s](const Verdict& v) { return v.station == s; });
  }
  write_groups(out, "station", result, groups);
  groups.clear();
  for (std::size_t k = 0; k < kKits.size(); ++k) {
    groups.emplace_back(kKits[k].name, [k](const Verdict& v) { return v.kit == k; });
  }
  write_groups(out, "kit", result, groups);
  groups.clear();
  for (std::size_t l = 0; l < kLengths.size(); ++l) {
    groups.emplace_back(fmt::format("{} days", kLengths[l]),
                        [l](const Verdict& v) { return v.length == l; });
  }
  write_groups(out, "length", result, groups);
  groups.clear();
  for (const auto& [name, first] : {std::pair{"December to February", 11},
                                    {"March to May", 2},
                                    {"June to August", 5},
                                    {"September to November", 8}}) {
    groups.emplace_back(
        name, [first = first](const Verdict& v) { return (v.month - first + 12) % 12 < 3; });
  }
  write_groups(out, "season", result, groups);
}

int run(const std::string& records, const std::string& folder) {
  const auto stations = load_stations(records);
  const CalibrationResult result = run_calibration(stations, {});
  std::ofstream page(folder + "/CALIBRATION.md"), plot(folder + "/reliability.svg");
  page.exceptions(std::ios::failbit | std::ios::badbit);
  plot.exceptions(std::ios::failbit | std::ios::badbit);
  write_page(page, stations, result);
  write_reliability_plot(plot, reliability(result.by_halves));
  const auto targets = targets_of(result);
  write_targets(std::cout, targets);
  return std::all_of(targets.begin(), targets.end(), [](const auto& t) { return t.met(); }) ? 0 : 1;
}

}  // namespace
}  // namespace dullspell::calibration

int main(int argc, char** argv) {
  if (argc != 3) {
    std::cerr << "usage: dullspell_calibration FOLDER_OF_RECORDS FOLDER_TO_WRITE\n";
    return 2;
  }
  try {
    return dullspell::calibration::run(argv[1], argv[2]);
  } catch (const std::exception& error) {
    std::cerr << "dullspell_calibration: " << error.what() << '\n';
    return 1;
  }
}

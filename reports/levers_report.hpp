#pragma once

#include <cstddef>
#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

#include "engine/decisions/levers.hpp"
#include "reports/json_parts.hpp"
#include "reports/number_text.hpp"
#include "reports/run_report.hpp"
#include "reports/text_writer.hpp"

namespace dullspell {

/// Everything that a report of levers is made from.
struct LeversReport {
  const Plan& plan;
  const PreparedPlan& prepared;
  const LeverStudy& study;
  const Budget& budget;
  Units units = Units::metric;  ///< of its texts
};

/// The report of `dullspell levers` for people; at most `top` levers in its table.
void write_levers_text(std::ostream& out, const LeversReport& report, std::size_t top,
                       TextStyle style = {});

/// The same for programs, format "dullspell.levers/1", all levers. Numbers are metric.
Json levers_json(const LeversReport& report, std::string_view program);
void write_levers_json(std::ostream& out, const LeversReport& report, std::string_view program);

/// One line a lever, all of them.
void write_levers_csv(std::ostream& out, const LeversReport& report);

/// The change that helps most, by how much, and whether it is enough.
std::string levers_verdict(const LeversReport& report);

std::vector<std::string> levers_notes(const LeversReport& report);
std::vector<std::string> levers_cautions(const LeversReport& report);

}  // namespace dullspell

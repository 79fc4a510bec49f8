#pragma once

#include <iosfwd>
#include <string_view>

#include "reports/data.hpp"
#include "reports/levers_report.hpp"

namespace dullspell {

/// The result of `dullspell levers` for programs, format "dullspell.levers/1", all levers: what
/// stands before the verdict, which is all.
Data levers_data(const LeversReport& report, std::string_view program);

/// One line a lever, all of them.
void write_levers_csv(std::ostream& out, const LeversReport& report);

}  // namespace dullspell

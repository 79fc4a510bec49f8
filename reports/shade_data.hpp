#pragma once

#include <iosfwd>
#include <string_view>

#include "reports/data.hpp"
#include "reports/shade_report.hpp"

namespace dullspell {

/// Members of the JSON of `dullspell shade`, format "dullspell.shade/1", before the verdict, and
/// after it.
Data shade_head(const ShadeReport& report, std::string_view program);
Data shade_results(const ShadeReport& report);

/// One line for each camp, hour in which the sun is up, and sky.
void write_shade_csv(std::ostream& out, const ShadeReport& report);

}  // namespace dullspell

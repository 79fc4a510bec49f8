#pragma once

#include "cli/output/output_file.hpp"
#include "reports/document.hpp"

namespace dullspell {

/// Writes a report as it was asked for: as JSON, as a page, and as text where standard output is
/// left to it. Commits all files: what else goes into them must be there already.
void write_report(OutputFiles& files, const Document& document);

}  // namespace dullspell

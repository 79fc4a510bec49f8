#include "cli/report_output.hpp"

#include "cli/output/standard_output.hpp"
#include "cli/terminal.hpp"
#include "reports/json_renderer.hpp"
#include "reports/page_renderer.hpp"
#include "reports/text_renderer.hpp"

namespace dullspell {

void write_report(OutputFiles& files, const Document& document) {
  if (auto* out = files.stream("--json")) write_json(*out, document);
  if (auto* out = files.stream("--html")) write_page(*out, document);
  files.commit();
  if (files.leave_standard_output())
    write_text(standard_output(), document, standard_output_style());
}

}  // namespace dullspell

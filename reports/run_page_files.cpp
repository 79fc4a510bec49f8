#include "reports/run_page.hpp"
#include "weather/embedded_file.hpp"

DULLSPELL_EMBED(dullspell_run_page, DULLSPELL_RUN_PAGE);
DULLSPELL_EMBED(dullspell_chart_script, DULLSPELL_CHART_SCRIPT);

namespace dullspell {

std::string_view run_page_template() {
  return {dullspell_run_page_begin, dullspell_run_page_end};
}

std::string_view chart_script() {
  return {dullspell_chart_script_begin, dullspell_chart_script_end};
}

}  // namespace dullspell

#include "reports/pages/page_files.hpp"
#include "weather/embedded_file.hpp"

// A function that returns the bytes of a file, which stands beside this one.
#define DULLSPELL_PAGE_FILE(function, path)                            \
  DULLSPELL_EMBED(dullspell_##function, path);                         \
  namespace dullspell {                                                \
  std::string_view function() {                                        \
    return {dullspell_##function##_begin, dullspell_##function##_end}; \
  }                                                                    \
  }

DULLSPELL_PAGE_FILE(chart_library, DULLSPELL_CHART_LIBRARY)
DULLSPELL_PAGE_FILE(page_frame, DULLSPELL_PAGES "page.html")
DULLSPELL_PAGE_FILE(charts_script, DULLSPELL_PAGES "charts.js")
DULLSPELL_PAGE_FILE(run_script, DULLSPELL_PAGES "run.js")
DULLSPELL_PAGE_FILE(calendar_script, DULLSPELL_PAGES "calendar.js")
DULLSPELL_PAGE_FILE(where_script, DULLSPELL_PAGES "where.js")
DULLSPELL_PAGE_FILE(hindcast_script, DULLSPELL_PAGES "hindcast.js")
DULLSPELL_PAGE_FILE(size_script, DULLSPELL_PAGES "size.js")
DULLSPELL_PAGE_FILE(compare_script, DULLSPELL_PAGES "compare.js")
DULLSPELL_PAGE_FILE(generator_script, DULLSPELL_PAGES "generator.js")
DULLSPELL_PAGE_FILE(shade_script, DULLSPELL_PAGES "shade.js")
DULLSPELL_PAGE_FILE(levers_script, DULLSPELL_PAGES "levers.js")
DULLSPELL_PAGE_FILE(audit_script, DULLSPELL_PAGES "audit.js")

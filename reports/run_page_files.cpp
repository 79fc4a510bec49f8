#include "reports/run_page.hpp"

// A file's own bytes, put into the read-only data of the program by the assembler.
#define EMBED(symbol, file)                                                                    \
  __asm__(".section .rodata\n.balign 16\n.global " #symbol "_begin, " #symbol "_end\n" #symbol \
          "_begin:\n.incbin \"" file "\"\n" #symbol                                            \
          "_end:\n"                                                                            \
          ".previous\n");                                                                      \
  extern "C" const char symbol##_begin[], symbol##_end[]

EMBED(dullspell_run_page, DULLSPELL_RUN_PAGE);
EMBED(dullspell_chart_script, DULLSPELL_CHART_SCRIPT);

namespace dullspell {

std::string_view run_page_template() {
  return {dullspell_run_page_begin, dullspell_run_page_end};
}

std::string_view chart_script() {
  return {dullspell_chart_script_begin, dullspell_chart_script_end};
}

}  // namespace dullspell

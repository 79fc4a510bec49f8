# Linked PRIVATE by every target of ours, so that no warning flag reaches a user of the libraries.
add_library(dullspell_warnings INTERFACE)
target_compile_options(dullspell_warnings INTERFACE
  -Wall -Wextra -Wpedantic -Wconversion -Wshadow
  $<$<CXX_COMPILER_ID:Clang>:-Wno-sign-conversion>  # which GCC leaves out of -Wconversion
  $<$<BOOL:${DULLSPELL_WARNINGS_AS_ERRORS}>:-Werror>)

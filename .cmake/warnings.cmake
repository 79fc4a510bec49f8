# Linked PRIVATE by every target of ours, so that no warning flag reaches a user of the libraries.
add_library(dullspell_warnings INTERFACE)
target_compile_options(dullspell_warnings INTERFACE
  -Wall -Wextra -Wpedantic -Wconversion -Wshadow
  $<$<CXX_COMPILER_ID:Clang>:-Wno-sign-conversion>  # which GCC leaves out of -Wconversion
  $<$<BOOL:${DULLSPELL_WARNINGS_AS_ERRORS}>:-Werror>)
# What GCC 12 guesses of the standard library's code once that is inlined, wrongly for some strings and
# variants and differently at each level of optimization, is shown and stops nothing.
foreach(guess array-bounds maybe-uninitialized restrict stringop-overflow stringop-overread)
  target_compile_options(dullspell_warnings INTERFACE
    $<$<AND:$<BOOL:${DULLSPELL_WARNINGS_AS_ERRORS}>,$<CXX_COMPILER_ID:GNU>>:-Wno-error=${guess}>)
endforeach()
# Where sources are read together, names without linkage in all but the first look like a header's.
if(CMAKE_UNITY_BUILD)
  target_compile_options(dullspell_warnings INTERFACE
    $<$<CXX_COMPILER_ID:GNU>:-Wno-subobject-linkage>)
endif()

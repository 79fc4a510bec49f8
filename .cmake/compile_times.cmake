# What keeps a build from nothing short.

# Headers that most sources of a target include, read once. Sources include what they use all the same.
# Targets after the first of the same options share its file: target_precompile_headers(... REUSE_FROM).
function(dullspell_precompile target)
  if(DULLSPELL_PRECOMPILE)
    target_precompile_headers(${target} PRIVATE ${ARGN})
  endif()
endfunction()

function(dullspell_precompiled_by target other)
  if(DULLSPELL_PRECOMPILE)
    target_precompile_headers(${target} REUSE_FROM ${other})
  endif()
endfunction()

# For code in which a run spends no time, or whose time is spent in libraries.
function(dullspell_optimise_little target)
  target_compile_options(${target} PRIVATE $<$<CONFIG:Release>:-O1>)
endfunction()

# What keeps a build from nothing short.

# The program's own code is also read without, by clang-tidy, so that each source, and with it each
# header, is known to stand alone.
function(dullspell_precompile target)
  if(DULLSPELL_PRECOMPILE)
    target_precompile_headers(${target} PRIVATE ${ARGN})
  endif()
endfunction()

# The same headers as those of another target of the same options.
function(dullspell_precompile_as target other)
  if(DULLSPELL_PRECOMPILE)
    target_precompile_headers(${target} REUSE_FROM ${other})
  endif()
endfunction()

# For code in which a run spends no time, or whose time is spent in libraries.
function(dullspell_optimise_little target)
  target_compile_options(${target} PRIVATE $<$<CONFIG:Release>:-O1>)
endfunction()

# For code that prepares what the kernel runs, which alone asks for all that a compiler can do.
function(dullspell_optimise_usually target)
  target_compile_options(${target} PRIVATE $<$<CONFIG:Release>:-O2>)
endfunction()

# As little for single sources: those that solve small systems, where the library's templates take most
# of the compiler's time and hardly any of a run.
function(dullspell_optimise_sources_little)
  set_source_files_properties(${ARGN} PROPERTIES COMPILE_OPTIONS $<$<CONFIG:Release>:-O1>)
endfunction()

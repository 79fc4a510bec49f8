# What keeps a build from nothing short.

# A build from nothing reads several sources as one (CMAKE_UNITY_BUILD), which takes a third of the
# time. Sources that have names of their own which others have as well stay apart.
function(dullspell_apart)
  set_source_files_properties(${ARGN} PROPERTIES SKIP_UNITY_BUILD_INCLUSION ON)
endfunction()

# For code in which a run spends no time, or whose time is spent in libraries.
function(dullspell_optimise_little target)
  target_compile_options(${target} PRIVATE
    $<$<CONFIG:Release>:-O1> $<$<CONFIG:RelWithDebInfo>:-O0>)
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

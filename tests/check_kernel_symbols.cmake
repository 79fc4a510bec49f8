# Objects built for one instruction set may define the kernel's own functions and nothing else: an
# inline function in one of them could end up serving machines that cannot run it.
execute_process(COMMAND ${NM} --defined-only --extern-only ${OBJECT}
  OUTPUT_VARIABLE symbols RESULT_VARIABLE failed)
if(failed)
  message(FATAL_ERROR "cannot read the symbols of ${OBJECT}")
endif()
string(REGEX MATCHALL "[^\n]+" lines "${symbols}")
list(LENGTH lines count)
if(NOT count EQUAL 3)
  message(FATAL_ERROR "expected the three functions of the kernel, found:\n${symbols}")
endif()
foreach(line IN LISTS lines)
  if(NOT line MATCHES " T _ZN9dullspell(9run_block|10draw_block|13block_normals|[0-9]+(run_block|draw_block|block_normals)_)")
    message(FATAL_ERROR "not a function of the kernel: ${line}")
  endif()
endforeach()

# Objects built for one instruction set may define the kernel's own functions and nothing else: an
# inline function in one of them could end up serving machines that cannot run it. OBJECTS is a list
# joined by commas.
string(REPLACE "," ";" objects "${OBJECTS}")
set(functions block_normals draw_block least_hours needed_energy run_block)
set(found)
foreach(object IN LISTS objects)
  execute_process(COMMAND ${NM} --defined-only --extern-only ${object}
    OUTPUT_VARIABLE symbols RESULT_VARIABLE failed)
  if(failed)
    message(FATAL_ERROR "cannot read the symbols of ${object}")
  endif()
  string(REGEX MATCHALL "[^\n]+" lines "${symbols}")
  foreach(line IN LISTS lines)
    if(NOT line MATCHES " T _ZN9dullspell[0-9]+(block_normals|draw_block|least_hours|needed_energy|run_block)_")
      message(FATAL_ERROR "not a function of the kernel, in ${object}: ${line}")
    endif()
    list(APPEND found ${CMAKE_MATCH_1})
  endforeach()
endforeach()
list(SORT found)
if(NOT found STREQUAL functions)
  message(FATAL_ERROR "expected ${functions}, each once; found ${found}")
endif()

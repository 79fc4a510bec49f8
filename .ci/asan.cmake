# Initial cache for a build that stops at memory errors and undefined behaviour.
set(CMAKE_BUILD_TYPE RelWithDebInfo CACHE STRING "")
set(CMAKE_CXX_FLAGS "-fsanitize=address,undefined -fno-sanitize-recover=all -O1" CACHE STRING "")

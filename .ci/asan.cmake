# Initial cache for a build that stops at memory errors, undefined behaviour, broken invariants of ours,
# of the standard library and of Eigen; by a second compiler, so that no code leans on one of them.
set(CMAKE_BUILD_TYPE RelWithDebInfo CACHE STRING "" FORCE)
set(CMAKE_CXX_COMPILER clang++-14 CACHE STRING "")
set(CMAKE_CXX_FLAGS "-fsanitize=address,undefined -fno-sanitize-recover=all -D_GLIBCXX_ASSERTIONS" CACHE STRING "")
set(CMAKE_CXX_FLAGS_RELWITHDEBINFO "-O1 -gline-tables-only" CACHE STRING "")
set(CMAKE_EXPORT_COMPILE_COMMANDS ON CACHE BOOL "")  # for clang-tidy
set(CMAKE_DISABLE_FIND_PACKAGE_benchmark ON CACHE BOOL "")

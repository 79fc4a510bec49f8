# Cross-builds for ARM64 on Debian and runs the tests under an emulator: tests/run-all --arm64. Programs
# and headers are the machine's own, libraries those that unpack_arm64 (set-up.sh) has put into the root.
set(CMAKE_SYSTEM_NAME Linux)
set(CMAKE_SYSTEM_PROCESSOR aarch64)
set(CMAKE_CXX_COMPILER aarch64-linux-gnu-g++)
set(CMAKE_LIBRARY_ARCHITECTURE aarch64-linux-gnu)
set(CMAKE_CXX_FLAGS_INIT -Wno-psabi)  # a note on compilers before GCC 10.1

get_filename_component(arm64_root ${CMAKE_CURRENT_LIST_DIR}/../build-arm64/root ABSOLUTE)
set(CMAKE_FIND_ROOT_PATH ${arm64_root})
set(CMAKE_FIND_ROOT_PATH_MODE_PROGRAM NEVER)
set(CMAKE_FIND_ROOT_PATH_MODE_LIBRARY ONLY)
set(CMAKE_CROSSCOMPILING_EMULATOR qemu-aarch64-static -L ${arm64_root})

#pragma once

/// For functions in headers that are compiled for several instruction sets: the linker may keep any
/// one copy of an ordinary inline function for the whole program, also for machines that cannot run
/// it. Such headers include no library header either.
#define FORCE_INLINE inline __attribute__((always_inline))

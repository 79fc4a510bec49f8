#pragma once

/// A file's own bytes, put into the read-only data of the program by the assembler: those from
/// `symbol`_begin up to `symbol`_end. Both are global, as the declaration says: on ARM64 the offset
/// table cannot hold local labels of one section.
#define DULLSPELL_EMBED(symbol, file)                                                          \
  __asm__(".section .rodata\n.balign 16\n.global " #symbol "_begin, " #symbol "_end\n" #symbol \
          "_begin:\n.incbin \"" file "\"\n" #symbol                                            \
          "_end:\n"                                                                            \
          ".previous\n");                                                                      \
  extern "C" const char symbol##_begin[], symbol##_end[]

# Results must be the same to the bit however the compiler vectorises, hence no fused multiply-add;
# errno is never read, and setting it would keep sqrt out of vector code.
add_library(dullspell_arithmetic INTERFACE)
target_compile_options(dullspell_arithmetic INTERFACE -ffp-contract=off -fno-math-errno)

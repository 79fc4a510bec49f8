// The packaged Catch2 main exists on one architecture only.
#define CATCH_CONFIG_MAIN
#include <catch2/catch.hpp>

#undef NDEBUG  // as in a build that looks at invariants
#include "weather/invariant.hpp"

#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <csignal>
#include <string>

#include <catch2/catch.hpp>

namespace {

struct Ended {
  int signal = 0;  ///< that ended the process; 0 if it returned
  std::string said;
};

// What becomes of a process that checks an invariant.
Ended process_that_checks(bool holds) {
  std::array<int, 2> pipe_ends{};
  REQUIRE(pipe(pipe_ends.data()) == 0);
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    std::signal(SIGABRT, SIG_DFL);  // not as a failure of this test
    dup2(pipe_ends[1], STDERR_FILENO);
    INVARIANT(holds, "charge is a share");
    _exit(0);
  }
  close(pipe_ends[1]);
  Ended ended;
  std::array<char, 256> part{};
  for (ssize_t n = 0; (n = read(pipe_ends[0], part.data(), part.size())) > 0;) {
    ended.said.append(part.data(), static_cast<std::size_t>(n));
  }
  close(pipe_ends[0]);
  int status = 0;
  REQUIRE(waitpid(child, &status, 0) == child);
  if (WIFSIGNALED(status)) ended.signal = WTERMSIG(status);
  return ended;
}

}  // namespace

TEST_CASE("a broken invariant ends the program and says what should have held, and where") {
  const Ended ended = process_that_checks(false);
  CHECK(ended.signal == SIGABRT);
  CHECK_THAT(ended.said, Catch::Matchers::Contains("invariant_test.cpp:") &&
                             Catch::Matchers::EndsWith(": should hold: charge is a share\n"));
}

TEST_CASE("an invariant that holds changes nothing") {
  const Ended ended = process_that_checks(true);
  CHECK(ended.signal == 0);
  CHECK(ended.said.empty());
}

#pragma once

namespace dullspell {

enum class ExitCode {
  done = 0,
  failed = 1,         ///< anything that is not the input's fault
  wrong_input = 2,    ///< plan, place, weather file or command line
  risk_exceeded = 3,  ///< the plan's accepted risk, with --fail-on-risk
};

}  // namespace dullspell

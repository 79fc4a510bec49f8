#pragma once

#include <exception>
#include <string>

namespace dullspell {

/// Everything a person needs to mend one piece of bad input.
struct InputProblem {
  std::string file;         ///< as the person named it; "<standard input>" for a pipe
  int line = 0;             ///< from 1; 0 when the problem has no line (a missing file)
  int column = 0;           ///< from 1; 0 when the problem has no column
  std::string key;          ///< dotted, e.g. "battery.capacity_wh"; may be empty
  std::string problem;      ///< what was found, e.g. "is -5"
  std::string allowed;      ///< what is allowed, e.g. "50 to 50000 (Wh)"; may be empty
  std::string fix;          ///< the likely cure, one sentence; may be empty
  std::string source_line;  ///< text of the line; empty when there is none
};

/// The text shown to people: one line with the place and the problem, the line of the file with a
/// caret under the column (cut to 72 columns), and the cure.
std::string describe(const InputProblem& problem);

/// Thrown for every kind of bad input; what() is describe(problem()).
class InputError : public std::exception {
 public:
  explicit InputError(InputProblem problem);

  const char* what() const noexcept override { return text_.c_str(); }
  const InputProblem& problem() const { return problem_; }

 private:
  InputProblem problem_;
  std::string text_;
};

}  // namespace dullspell

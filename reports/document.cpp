#include "reports/document.hpp"

namespace dullspell {

Prose Prose::name(std::string text) {
  Prose out("");
  out.runs_ = {{Kind::name, std::move(text)}};
  return out;
}

std::string Prose::plain() const {
  std::string out;
  for (const Run& run : runs_) out += run.text;
  return out;
}

Prose& Prose::operator+=(const Prose& more) {
  runs_.insert(runs_.end(), more.runs_.begin(), more.runs_.end());
  return *this;
}

}  // namespace dullspell

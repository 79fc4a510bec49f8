#include "engine/plan/guarding_load.hpp"

#include <algorithm>
#include <array>
#include <string>

namespace dullspell {

bool guards_people(std::string_view load_name) {
  // Beginnings of words: "alarm" finds "alarms".
  constexpr std::array<std::string_view, 16> kWords{
      "alarm",  "detector",     "smoke",    "monoxide", "medical", "medicine",
      "cpap",   "bipap",        "apnea",    "oxygen",   "insulin", "ventilator",
      "nebuli", "concentrator", "dialysis", "defibrill"};
  std::string lower(load_name);
  std::transform(lower.begin(), lower.end(), lower.begin(), [](unsigned char c) {
    return static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
  });
  return std::any_of(kWords.begin(), kWords.end(), [&](std::string_view word) {
    for (auto at = lower.find(word); at != std::string::npos; at = lower.find(word, at + 1)) {
      if (at == 0 || lower[at - 1] < 'a' || lower[at - 1] > 'z') return true;
    }
    return false;
  });
}

}  // namespace dullspell

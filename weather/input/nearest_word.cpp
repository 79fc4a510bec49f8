#include "weather/input/nearest_word.hpp"

#include <algorithm>
#include <iterator>
#include <vector>

namespace dullspell {
namespace {

int edit_distance(std::string_view a, std::string_view b) {
  std::vector<int> before(b.size() + 1), above(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) above[j] = static_cast<int>(j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = static_cast<int>(i);
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const int replace = above[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      row[j] = std::min({above[j] + 1, row[j - 1] + 1, replace});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        row[j] = std::min(row[j], before[j - 2] + 1);
      }
    }
    std::swap(before, above);
    std::swap(above, row);
  }
  return above[b.size()];
}

char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

bool begins_with(std::string_view word, std::string_view typed) {
  return word.size() > typed.size() &&
         std::equal(typed.begin(), typed.end(), word.begin(),
                    [](char a, char b) { return lower(a) == lower(b); });
}

}  // namespace

std::optional<std::string> nearest_word(std::string_view typed, std::span<const std::string> known,
                                        int farthest) {
  constexpr std::size_t kLongestWord = 64;  // longer input is no slip of the finger
  if (typed.size() > kLongestWord) return std::nullopt;
  std::optional<std::string> best;
  int best_distance = farthest + 1;
  for (const std::string& word : known) {
    const int distance = edit_distance(typed, word);
    const auto longer = static_cast<int>(std::max(typed.size(), word.size()));
    if (distance < best_distance && 2 * distance < longer) {
      best_distance = distance;
      best = word;
    }
  }
  return best;
}

std::string did_you_mean(std::string_view typed, std::span<const std::string> known, char quote) {
  constexpr std::size_t kLeastTyped = 3, kMost = 3;
  std::vector<std::string> meant;
  if (typed.size() >= kLeastTyped) {
    std::copy_if(known.begin(), known.end(), std::back_inserter(meant),
                 [&](const auto& word) { return begins_with(word, typed); });
    meant.resize(std::min(meant.size(), kMost));
  }
  if (meant.empty()) {
    if (const auto near = nearest_word(typed, known)) meant.push_back(*near);
  }
  if (meant.empty()) return "";
  std::string words;
  for (std::size_t i = 0; i < meant.size(); ++i) {
    words += i == 0 ? "" : i + 1 < meant.size() ? ", " : " or ";
    words += quote + meant[i] + quote;
  }
  return "Did you mean " + words + "?";
}

}  // namespace dullspell

#pragma once

#include <cstddef>
#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

#include "reports/table.hpp"

namespace dullspell {

/// What a text may use of the place where it is read.
struct TextStyle {
  static constexpr std::size_t kUsualWidth = 92, kLeastWidth = 32;

  std::size_t width = kUsualWidth;  ///< columns, at least kLeastWidth
  bool colour = false;              ///< escape sequences for colour and bold
};

/// Writes a report for people, UTF-8: prose up to 92 columns wide, tables as wide as the style
/// allows. Without colour its bytes depend on nothing but the width.
class TextWriter {
 public:
  explicit TextWriter(std::ostream& out, TextStyle style = {}) : out_(out), style_(style) {}

  /// A bold line of its own, broken where it is too long.
  void title(std::string_view text);
  /// The same after an empty line.
  void heading(std::string_view text);
  void paragraph(std::string_view text, std::size_t indent = 0);
  /// After an empty line, its first sentence bold and in the tone's colour.
  void verdict(std::string_view text, Tone tone);
  /// A heading and its items, each after a dash.
  void list(std::string_view title, const std::vector<std::string>& items);
  /// One of them, and one of those below it.
  void item(std::string_view text);
  void inner_item(std::string_view text);
  /// The last line, after an empty one.
  void footer(std::string_view text);
  /// Title (unless it is empty), heads, rows, legend. Heads take as many lines as they need;
  /// columns that find no room go by their rank and are named below; long row names are broken.
  /// Bars stand at the right end if there is room for them.
  void table(const Table& table);

 private:
  std::size_t prose_width() const;
  void dashed(std::string_view text, std::size_t indent);
  std::string painted(std::string_view text, std::string_view codes) const;

  std::ostream& out_;
  TextStyle style_;
};

/// The bar of `width` characters for a whole: full blocks up to the share, in steps of an eighth,
/// and a light shade over the rest of its range.
std::string bar_text(const ShareBar& bar, std::size_t width);

}  // namespace dullspell

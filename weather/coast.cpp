#include "weather/coast.hpp"

#include "weather/embedded_file.hpp"
#include "weather/input/parsed_number.hpp"
#include "weather/input/text_pieces.hpp"

DULLSPELL_EMBED(dullspell_coast, DULLSPELL_COAST_FOLDER "/land.txt");

namespace dullspell {
namespace {

double hundredths(std::string_view text) {
  return 0.01 * parsed_number(text).value_or(0.0);
}

}  // namespace

Coast::Coast(std::string_view text) {
  while (!text.empty()) {
    std::string_view line = cut_piece(text, '\n');
    if (line.empty() || line.starts_with('#')) continue;
    std::vector<Coordinates>& ring = rings_.emplace_back();
    while (!line.empty()) {
      std::string_view point = cut_piece(line, ' ');
      const double longitude_deg = hundredths(cut_piece(point, ','));
      ring.push_back({hundredths(point), longitude_deg});
    }
  }
}

const Coast& Coast::built_in() {
  static const Coast coast(
      std::string_view(dullspell_coast_begin,
                       static_cast<std::size_t>(dullspell_coast_end - dullspell_coast_begin)));
  return coast;
}

// Edges of rings that a line to the east crosses.
bool Coast::is_land(const Coordinates& where) const {
  bool inside = false;
  for (const auto& ring : rings_) {
    for (std::size_t i = 0; i + 1 < ring.size(); ++i) {
      const Coordinates &a = ring[i], &b = ring[i + 1];
      if ((a.latitude_deg > where.latitude_deg) == (b.latitude_deg > where.latitude_deg)) continue;
      const double share =
          (where.latitude_deg - a.latitude_deg) / (b.latitude_deg - a.latitude_deg);
      const double crossing_deg = a.longitude_deg + share * (b.longitude_deg - a.longitude_deg);
      if (crossing_deg > where.longitude_deg) inside = !inside;
    }
  }
  return inside;
}

}  // namespace dullspell

#include "engine/kit/fridge_reader.hpp"

#include "engine/kit/key_ranges.hpp"
#include "engine/kit/load_reader.hpp"

namespace dullspell {

Fridge read_fridge(TomlSection& section) {
  constexpr Range kAmbient{-40.0, 70.0, "C"};
  Fridge fridge;
  fridge.running_w = section.required_number("running_w", {1.0, 1000.0, "W"});
  const auto rows = section.number_rows("duty_at", {kAmbient, kShareRange},
                                        "Pairs of ambient C and share of time running: "
                                        "[[20, 0.22], [30, 0.35], [38, 0.58]].");
  if (rows) {
    const std::string key = section.typed_key("duty_at", kAmbient.unit);
    for (const auto& row : *rows) {
      if (!fridge.duty_at.empty() && row[0] <= fridge.duty_at.back().first) {
        section.fail(key, "has temperatures that do not grow", "temperatures in order");
      }
      fridge.duty_at.emplace_back(row[0], row[1]);
    }
    if (fridge.duty_at.empty()) section.fail(key, "is empty", "at least one pair");
  } else {
    fridge.duty_at = {{20.0, 0.22}, {30.0, 0.35}, {38.0, 0.58}};  // common practice
  }
  fridge.side = read_side(section, LoadSide::dc);
  section.finish();
  return fridge;
}

}  // namespace dullspell

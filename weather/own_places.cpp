#include "weather/own_places.hpp"

#include <algorithm>
#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "weather/input/input_error.hpp"
#include "weather/place_file.hpp"

namespace dullspell {
namespace {

constexpr const char* kAllowed = "a folder with place files (*.toml)";

namespace fs = std::filesystem;

[[noreturn]] void refuse(const std::string& file, std::string problem, std::string allowed,
                         std::string fix) {
  InputProblem p;
  p.file = file;
  p.problem = std::move(problem);
  p.allowed = std::move(allowed);
  p.fix = std::move(fix);
  throw InputError(std::move(p));
}

}  // namespace

OwnPlaces read_own_places(const std::string& folder, const std::string& setting,
                          const PlaceCatalogue& catalogue) {
  std::error_code error;
  OwnPlaces out;
  for (fs::directory_iterator at(folder, error), end; !error && at != end; at.increment(error)) {
    if (at->path().extension() == ".toml") out.files.push_back(at->path().string());
  }
  if (error) {
    refuse(setting, fmt::format("names `{}`, which cannot be read: {}", folder, error.message()),
           kAllowed, fmt::format("Unset {} to use the built-in places only.", setting));
  }
  if (out.files.empty()) {
    refuse(setting, fmt::format("names `{}`, which holds no place file", folder), kAllowed,
           "`dullspell fit` makes one from a weather record.");
  }
  std::sort(out.files.begin(), out.files.end());
  for (const std::string& file : out.files) {
    Place place = read_place_file(file);
    place.id = fs::path(file).stem().string();
    if (catalogue.find(place.id)) {
      refuse(file, fmt::format("has the name of the built-in place `{}`", place.id),
             "a name that no place has", "Give the file another name.");
    }
    out.places.push_back(std::move(place));
  }
  return out;
}

}  // namespace dullspell

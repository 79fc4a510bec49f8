#include "engine/kit/camp_reader.hpp"

#include <filesystem>

#include <fmt/format.h>

#include "engine/kit/key_ranges.hpp"
#include "weather/input/nearest_word.hpp"
#include "weather/place_blend.hpp"
#include "weather/place_file.hpp"
#include "weather/towns.hpp"

namespace dullspell {
namespace {

constexpr Range kElevation{-450.0, 6000.0, "m"};

std::optional<Place> place_by_name(const TomlSection& camp, const std::string& name,
                                   const PlaceCatalogue& places) {
  if (names_place_file(name)) {
    const std::string& plan_file = camp.document().source().name;
    const auto beside = std::filesystem::path(plan_file).parent_path() / name;
    return read_place_file(std::filesystem::path(name).is_absolute() ? name : beside.string());
  }
  return places.place(name);
}

Town town_by_name(const TomlSection& camp, const std::string& name, const PlaceCatalogue& places) {
  FoundTown found = find_town(TownTable::built_in(), name);
  if (found.town) return *found.town;
  if (const auto near = places.nearest_id(name)) {
    found.fix = fmt::format("Did you mean \"{}\"?{}", *near, found.several ? " " + found.fix : "");
  }
  camp.fail("place", fmt::format("is \"{}\", which {}", name, found.problem),
            "a town such as \"Moab, UT\", an id that `dullspell places` lists, a place file, or "
            "{ latitude = .., longitude = .. }",
            found.fix.empty() ? "`dullspell places TEXT` finds towns." : found.fix);
}

void read_camp_place(TomlSection& section, const PlaceCatalogue& places, Camp& camp) {
  if (section.is_text("place")) {
    const std::string name = section.required_text("place");
    if (auto place = place_by_name(section, name, places)) {
      camp.place = PlaceBlend::built_in().as_used(std::move(*place));
      camp.where = camp.place.where;
    } else {
      const Town town = town_by_name(section, name, places);
      camp.where = town.where;
      if (!camp.elevation_m) camp.elevation_m = town.elevation_m;
      camp.place = PlaceBlend::built_in().named(TownTable::built_in().full_name(town), camp.where,
                                                camp.elevation_m);
    }
    return;
  }
  auto spot = section.section("place");
  if (!spot) {
    section.fail("place", "is missing",
                 "a town, an id, a place file, or { latitude = .., longitude = .. }",
                 "For example place = \"Moab, UT\"; `dullspell places TEXT` finds towns.");
  }
  const bool typed = spot->has("k_mean") || spot->has("ghi_kwh_m2") || spot->has("k_quantiles") ||
                     spot->has("utc_offset_h");
  if (typed) {
    camp.place = PlaceBlend::built_in().with_temperatures(read_place(*spot));
    camp.where = camp.place.where;
  } else {
    camp.where.latitude_deg = spot->required_number("latitude", {-90.0, 90.0, "degrees, north +"});
    camp.where.longitude_deg =
        spot->required_number("longitude", {-180.0, 180.0, "degrees, east +"});
    spot->finish();
    camp.place = PlaceBlend::built_in().named(
        fmt::format("{:.2f}, {:.2f}", camp.where.latitude_deg, camp.where.longitude_deg),
        camp.where, camp.elevation_m);
  }
}

// Means of the camp itself need no moving to its elevation.
void read_camp_temperatures(TomlSection& section, Camp& camp) {
  constexpr Range kMeans{-70.0, 50.0, "C"};
  const auto typed = section.numbers("temp_mean_c", 12, kMeans, "January comes first.");
  if (!typed) return;
  const std::string elevation = section.typed_key("elevation_m", kElevation.unit);
  if (section.has(elevation)) {
    section.fail(section.typed_key("temp_mean_c", kMeans.unit),
                 fmt::format("is given besides {}", elevation), "one of the two",
                 fmt::format("{} moves the place's temperatures to the camp; means of the camp "
                             "itself need no moving.",
                             elevation));
  }
  camp.temp_mean_c.emplace();
  for (std::size_t m = 0; m < 12; ++m) {
    (*camp.temp_mean_c)[m] = (*typed)[m];
    camp.place.months[m].temp_mean_c = (*typed)[m];
  }
}

std::vector<SkylineSector> read_skyline(TomlSection& camp) {
  std::vector<SkylineSector> skyline;
  for (TomlSection& sector : camp.sections("skyline")) {
    SkylineSector out{};
    out.from_deg = sector.required_number("from_deg", {-360.0, 360.0, "degrees from north"});
    out.to_deg = sector.required_number("to_deg", {-360.0, 720.0, "degrees from north"});
    out.height_deg = sector.required_number("height_deg", {0.0, 90.0, "degrees above the horizon"});
    out.lets_through = sector.number_or("lets_through", 0.0, kShareRange);
    if (out.to_deg <= out.from_deg || out.to_deg - out.from_deg > 360.0) {
      sector.fail("to_deg", fmt::format("is {} with from_deg = {}", out.to_deg, out.from_deg),
                  "more than from_deg, by at most 360",
                  "Sectors run clockwise; over north write e.g. from_deg = 300, to_deg = 400.");
    }
    sector.finish();
    skyline.push_back(out);
  }
  return skyline;
}

}  // namespace

Camp read_camp(TomlSection& section, const PlaceCatalogue& places) {
  Camp camp;
  camp.elevation_m = section.number("elevation_m", kElevation);
  read_camp_place(section, places, camp);
  const auto nights = section.integer("nights", 1, 366);
  if (!nights) section.fail("nights", "is missing", "a whole number of nights, 1 to 366");
  camp.nights = *nights;
  camp.canopy =
      section.number_or("canopy", 0.0, {0.0, kMostCanopy},
                        "The share of the sky overhead that crowns cover, 0 in the open.");
  camp.skyline = read_skyline(section);
  camp.drive_in_h = section.number_or("drive_in_h", 0.0, {0.0, 12.0, kHoursUnit});
  camp.hookup = section.flag("hookup").value_or(false);
  if (const auto offset_h = section.number("utc_offset_h", {-12.0, 14.0, "hours"},
                                           "Standard time; summer_time = true adds its hour.")) {
    camp.place.utc_offset_h = *offset_h;
    camp.utc_offset_stated = true;
  }
  read_camp_temperatures(section, camp);
  section.finish();
  return camp;
}

}  // namespace dullspell

#include "engine/kit/camp_reader.hpp"

#include <filesystem>

#include <fmt/format.h>

#include "engine/kit/key_ranges.hpp"
#include "weather/input/nearest_word.hpp"
#include "weather/place_file.hpp"
#include "weather/time_zone.hpp"

namespace dullspell {
namespace {

constexpr double kTooFar_km = 250.0;

Place place_by_name(const TomlSection& camp, const std::string& name,
                    const PlaceCatalogue& places) {
  if (names_place_file(name)) {
    const std::string& plan_file = camp.document().source().name;
    const auto beside = std::filesystem::path(plan_file).parent_path() / name;
    return read_place_file(std::filesystem::path(name).is_absolute() ? name : beside.string());
  }
  if (auto place = places.place(name)) return *place;
  const auto near = places.nearest_id(name);
  camp.fail(
      "place", fmt::format("is \"{}\", which is not a built-in place", name),
      "an id that `dullspell places` lists, a place file, or { latitude = .., longitude = .. }",
      near ? fmt::format("Did you mean \"{}\"?", *near)
           : "`dullspell places --near LAT,LON` finds the nearest ones.");
}

void use_nearest_place(TomlSection& spot, const PlaceCatalogue& places, Camp& camp) {
  camp.where.latitude_deg = spot.required_number("latitude", {-90.0, 90.0, "degrees, north +"});
  camp.where.longitude_deg = spot.required_number("longitude", {-180.0, 180.0, "degrees, east +"});
  spot.finish();
  const auto near = places.by_distance(camp.where);
  if (near.empty()) spot.fail_here("there are no built-in places to look among");
  camp.place = *places.place(near.front().place->id);
  camp.distance_km = near.front().distance_km;
  // The nearest place may lie beyond a border of time zones.
  camp.place.utc_offset_h = TimeZoneTable::built_in().at(camp.where).utc_offset_h;
}

void read_camp_place(TomlSection& section, const PlaceCatalogue& places, Camp& camp) {
  if (section.is_text("place")) {
    camp.place = place_by_name(section, section.required_text("place"), places);
    camp.where = camp.place.where;
    return;
  }
  auto spot = section.section("place");
  if (!spot) {
    section.fail("place", "is missing", "an id, a place file, or { latitude = .., longitude = .. }",
                 "`dullspell places` lists what is built in.");
  }
  const bool typed = spot->has("k_mean") || spot->has("ghi_kwh_m2") || spot->has("k_quantiles") ||
                     spot->has("utc_offset_h");
  if (typed) {
    camp.place = read_place(*spot);
    camp.where = camp.place.where;
  } else {
    use_nearest_place(*spot, places, camp);
  }
}

// Means of the camp itself need no moving to its elevation.
void read_camp_temperatures(TomlSection& section, Camp& camp) {
  const auto typed = section.numbers("temp_mean_c", 12, {-70.0, 50.0, "C"}, "January comes first.");
  if (!typed) return;
  if (camp.elevation_m) {
    section.fail("temp_mean_c", "is given besides elevation_m", "one of the two",
                 "elevation_m moves the place's temperatures to the camp; means of the camp itself "
                 "need no moving.");
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

void check_distance(TomlSection& section, const Camp& camp) {
  const bool far_is_fine = section.flag("place_is_far").value_or(false);
  if (camp.distance_km > kTooFar_km && !far_is_fine) {
    section.fail(
        "place",
        fmt::format("is {} from the nearest built-in place, {}", km_and_miles(camp.distance_km),
                    camp.place.id),
        "up to " + km_and_miles(kTooFar_km),
        "Longitudes west and latitudes south are negative. Else type twelve monthly means for "
        "the camp (ghi_kwh_m2, utc_offset_h), or accept the far place with place_is_far = "
        "true.");
  }
}

}  // namespace

Camp read_camp(TomlSection& section, const PlaceCatalogue& places) {
  Camp camp;
  read_camp_place(section, places, camp);
  const auto nights = section.integer("nights", 1, 366);
  if (!nights) section.fail("nights", "is missing", "a whole number of nights, 1 to 366");
  camp.nights = *nights;
  camp.canopy =
      section.number_or("canopy", 0.0, {0.0, 0.95},
                        "The share of the sky overhead that crowns cover, 0 in the open.");
  camp.skyline = read_skyline(section);
  camp.drive_in_h = section.number_or("drive_in_h", 0.0, {0.0, 12.0, "h"});
  camp.hookup = section.flag("hookup").value_or(false);
  camp.elevation_m = section.number("elevation_m", {-450.0, 6000.0, "m"});
  if (const auto offset_h = section.number("utc_offset_h", {-12.0, 14.0, "hours"},
                                           "Standard time; summer_time = true adds its hour.")) {
    camp.place.utc_offset_h = *offset_h;
    camp.utc_offset_stated = true;
  }
  read_camp_temperatures(section, camp);
  check_distance(section, camp);
  section.finish();
  return camp;
}

}  // namespace dullspell

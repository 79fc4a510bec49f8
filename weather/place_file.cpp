#include "weather/place_file.hpp"

#include <algorithm>
#include <cmath>
#include <ostream>

#include <fmt/format.h>
#include <fmt/ostream.h>

namespace dullspell {
namespace {

constexpr std::size_t kLargestPlaceFile_bytes = 256 * 1024;
constexpr Range kClearnessMean{0.02, 0.80, "clearness index"};

using Monthly = std::optional<std::vector<double>>;

// One number stands for all months.
Monthly monthly(TomlSection& section, std::string_view key, const Range& range) {
  const std::string typed = section.typed_key(key, range.unit);
  if (section.has(typed) && !section.is_array(typed)) {
    return std::vector<double>(12, *section.number(key, range));
  }
  return section.numbers(key, 12, range, "January comes first.");
}

// A key of every month, or its default, which the place then names.
void read_months(TomlSection& section, std::string_view key, const Range& range,
                 Estimate MonthStatistics::*field, std::string_view default_text, Place& place) {
  const Monthly values = monthly(section, key, range);
  if (!values) {
    place.defaults.emplace_back(default_text);
    return;
  }
  for (std::size_t m = 0; m < 12; ++m) place.months[m].*field = (*values)[m];
}

void read_clearness_means(TomlSection& section, Place& place) {
  // A month without sun has no clearness: whatever stands there meets an extraterrestrial of
  // nothing. With hardly any sun, the twilight and rounding of a printed mean outweigh it.
  constexpr double kDark_wh_m2 = 30.0;
  constexpr double kDim_wh_m2 = 300.0;
  constexpr double kClearnessInTheDark = 0.40;
  const auto k_mean = monthly(section, "k_mean", kClearnessMean);
  const auto ghi =
      section.numbers("ghi_kwh_m2", 12, {0.0, 12.0, "kWh/m2 a day"}, "January comes first.");
  if (k_mean && ghi) {
    section.fail("ghi_kwh_m2", "is given besides k_mean", "one of the two", "Leave one out.");
  }
  if (!k_mean && !ghi && !section.has("k_quantiles")) {
    section.fail("k_mean", "is missing",
                 "twelve mean clearness indices, or ghi_kwh_m2, or k_quantiles",
                 "Any solar atlas prints the monthly irradiation of a horizontal plane: "
                 "ghi_kwh_m2 = [12 numbers, kWh/m2 a day].");
  }
  for (int m = 0; m < 12; ++m) {
    const auto i = static_cast<std::size_t>(m);
    if (k_mean) place.months[i].k_mean = (*k_mean)[i];
    if (!ghi) continue;
    const double extraterrestrial = mean_extraterrestrial_wh_m2(m, place.where);
    if (extraterrestrial < kDark_wh_m2) {
      place.months[i].k_mean = kClearnessInTheDark;
      continue;
    }
    double k = (*ghi)[i] * 1000.0 / extraterrestrial;
    if (extraterrestrial < kDim_wh_m2) k = std::clamp(k, kClearnessMean.low, kClearnessMean.high);
    if (!(k >= kClearnessMean.low && k <= kClearnessMean.high)) {
      section.fail(
          "ghi_kwh_m2",
          fmt::format("of month {} is {} kWh/m2 a day, a clearness index of {:.2f} at "
                      "latitude {}",
                      m + 1, (*ghi)[i], k, place.where.latitude_deg),
          fmt::format("{:.2f} to {:.2f} kWh/m2 in that month",
                      kClearnessMean.low * extraterrestrial / 1000.0,
                      kClearnessMean.high * extraterrestrial / 1000.0),
          "Daily means are wanted, in kWh (1 kWh = 3.6 MJ); check the latitude's sign too.");
    }
    place.months[i].k_mean = k;
  }
}

// Quantiles as rows of nine; nothing if the key is absent.
std::optional<std::array<std::array<double, 9>, 12>> quantile_rows(TomlSection& section) {
  const std::vector<Range> kNine(9, {0.0, 1.0, "clearness index"});
  const auto rows = section.number_rows("k_quantiles", kNine);
  if (!rows) return std::nullopt;
  if (rows->size() != 12) {
    section.fail("k_quantiles", fmt::format("has {} rows", rows->size()),
                 "twelve rows, one a month", "");
  }
  std::array<std::array<double, 9>, 12> out{};
  for (std::size_t m = 0; m < 12; ++m)
    std::copy((*rows)[m].begin(), (*rows)[m].end(), out[m].begin());
  return out;
}

void read_clearness_spread(TomlSection& section, Place& place) {
  if (const auto rows = quantile_rows(section)) {
    for (std::size_t m = 0; m < 12; ++m) {
      const auto& quantiles = (*rows)[m];
      if (!std::is_sorted(quantiles.begin(), quantiles.end())) {
        section.fail("k_quantiles", fmt::format("of month {} do not grow", m + 1),
                     "nine numbers from the least to the greatest", "");
      }
      MonthStatistics& month = place.months[m];
      const double implied = QuantileClearness(quantiles).mean();
      if (month.k_mean.value > 0.0 && std::abs(implied - month.k_mean.value) > 0.01) {
        section.fail("k_quantiles",
                     fmt::format("of month {} have the mean {:.3f}, but k_mean is {:.3f}", m + 1,
                                 implied, month.k_mean.value),
                     "means that agree within 0.01", "Leave k_mean out: the quantiles imply it.");
      }
      if (!(implied >= kClearnessMean.low && implied <= kClearnessMean.high)) {
        section.fail("k_quantiles", fmt::format("of month {} have the mean {:.3f}", m + 1, implied),
                     fmt::format("means of {} to {}", kClearnessMean.low, kClearnessMean.high), "");
      }
      month.k_quantiles = quantiles;
      month.k_mean = implied;
    }
  }
  if (const auto spread = monthly(section, "k_sd", {0.005, 0.40, "clearness index"})) {
    for (std::size_t m = 0; m < 12; ++m) {
      const double limit = BetaClearness::largest_sd(place.months[m].k_mean.value, (*spread)[m]);
      if (!((*spread)[m] < limit)) {
        section.fail("k_sd",
                     fmt::format("of month {} is {}, too wide for a mean of {:.3f}", m + 1,
                                 (*spread)[m], place.months[m].k_mean.value),
                     fmt::format("below {:.3f} in that month", limit), "");
      }
      place.months[m].k_sd = (*spread)[m];
    }
  } else if (place.months[0].k_quantiles) {
    for (MonthStatistics& month : place.months) {
      month.k_sd = QuantileClearness(*month.k_quantiles).sd();
    }
  } else {
    place.defaults.emplace_back("daily spread of clearness (from the mean alone)");
  }
}

constexpr PerStatistic<std::string_view> kKeys{
    "k_mean",       "k_sd",      "k_persistence",    "k_year_share",       "temp_mean_c",
    "temp_range_c", "temp_sd_c", "temp_persistence", "temp_k_correlation", "range_k_slope"};

void read_errors(TomlSection& place_section, Place& place) {
  auto section = place_section.section("standard_error");
  if (!section) return;
  constexpr Range kOfClearness{0.0, 0.5, "clearness index"};
  constexpr Range kOfCorrelation{0.0, 2.0};
  constexpr Range kOfTemperature{0.0, 20.0, "K"};
  constexpr PerStatistic<Range> kRanges{
      kOfClearness,   kOfClearness,   kOfCorrelation, kOfCorrelation, kOfTemperature,
      kOfTemperature, kOfTemperature, kOfCorrelation, kOfCorrelation, {0.0, 50.0, "K"}};
  for (std::size_t i = 0; i < kStatistics; ++i) {
    const Monthly errors = monthly(*section, kKeys[i], kRanges[i]);
    for (std::size_t m = 0; m < 12; ++m) {
      if (Estimate* stated = place.months[m].estimates()[i]) {
        stated->standard_error = errors ? (*errors)[m] : 0.0;
      } else if (errors) {
        section->fail(section->typed_key(kKeys[i], kRanges[i].unit),
                      fmt::format("is given, but no {}", kKeys[i]),
                      "errors of numbers that the place states",
                      fmt::format("State {} too, or leave its error out.", kKeys[i]));
      }
    }
  }
  if (quantile_rows(*section)) {
    place.notes.emplace_back(
        "the quantiles are taken to be known as well as mean and spread, which move them all");
  }
  section->finish();
}

void read_location(TomlSection& section, Place& place) {
  place.id = section.text("id").value_or("");
  place.where.latitude_deg = section.required_number("latitude", {-90.0, 90.0, "degrees, north +"});
  place.where.longitude_deg =
      section.required_number("longitude", {-180.0, 180.0, "degrees, east +"});
  place.utc_offset_h = section.required_number(
      "utc_offset_h", {-12.0, 14.0, "hours"},
      "Hours from UTC of the place's standard time, e.g. -8 for the US west coast.");
  if (!offset_fits(place.utc_offset_h, place.where)) {
    section.fail(
        "utc_offset_h",
        fmt::format("is {:g} at longitude {:g}", place.utc_offset_h, place.where.longitude_deg),
        fmt::format("within {:g} h of longitude / 15, {:+.1f}", kMostOffset_h,
                    place.where.longitude_deg / 15.0),
        "Check the signs: longitude is positive east, the offset is clock minus UTC.");
  }
  place.elevation_m = section.number("elevation_m", {-450.0, 6000.0, "m"});
  place.name = section.text("name").value_or(
      fmt::format("{:.2f}, {:.2f}", place.where.latitude_deg, place.where.longitude_deg));
}

void read_record(TomlSection& section, Place& place) {
  place.source = section.text("source").value_or("typed");
  place.licence = section.text("licence").value_or("");
  place.years = section.text("years").value_or("");
  place.record_years = section.number_or("record_years", 0.0, {0.0, 300.0, "years"});
  const auto record =
      section.choice("record", {"measured", "typical-year", "monthly-means", "estimated"});
  place.record = record_kind(record.value_or("")).value_or(RecordKind::monthly_means);
}

void read_sky(TomlSection& section, Place& place) {
  read_clearness_means(section, place);
  read_clearness_spread(section, place);
  read_months(section, "k_persistence", {-0.3, 0.9}, &MonthStatistics::k_persistence,
              "day-to-day persistence of the sky (0.29)", place);
  read_months(section, "k_year_share", {0.0, 0.5}, &MonthStatistics::k_year_share,
              fmt::format("year-to-year share of the sky ({})", default_year_share(place.record)),
              place);
}

void read_temperatures(TomlSection& section, Place& place) {
  if (const auto temp = monthly(section, "temp_mean_c", {-70.0, 50.0, "C"})) {
    for (std::size_t m = 0; m < 12; ++m) place.months[m].temp_mean_c = (*temp)[m];
  }
  read_months(section, "temp_range_c", {0.0, 40.0, "K"}, &MonthStatistics::temp_range_c,
              "daily temperature range (11 K)", place);
  read_months(section, "temp_sd_c", {0.0, 15.0, "K"}, &MonthStatistics::temp_sd_c,
              "spread of daily temperature (2 to 4.4 K)", place);
  read_months(section, "temp_persistence", {-0.3, 0.95}, &MonthStatistics::temp_persistence,
              "persistence of temperature (0.60)", place);
  read_months(section, "temp_k_correlation", {-0.9, 0.9}, &MonthStatistics::temp_k_correlation,
              "correlation of temperature with the sky (-0.2 in winter, +0.2 in summer)", place);
  read_months(section, "range_k_slope", {-10.0, 40.0, "K"}, &MonthStatistics::range_k_slope,
              "growth of the daily range with clearness (12.5 K)", place);
}

}  // namespace

Place read_place(TomlSection& section) {
  Place place;
  read_location(section, place);
  read_record(section, place);
  for (int m = 0; m < 12; ++m) {
    auto& month = place.months[static_cast<std::size_t>(m)];
    month = default_month(m, place.where.latitude_deg);
    month.k_year_share = default_year_share(place.record);
  }
  read_sky(section, place);
  read_temperatures(section, place);
  read_errors(section, place);
  section.finish();
  return place;
}

bool names_place_file(std::string_view name) {
  return name.ends_with(".toml") || name.find('/') != std::string_view::npos;
}

Place read_place_file(const std::string& path) {
  const auto document =
      std::make_shared<const TomlDocument>(read_source(path, "place", kLargestPlaceFile_bytes));
  TomlSection section = TomlSection::root_of(document);
  return read_place(section);
}

namespace {

// One line of twelve numbers, or of the one that all months share.
template <class Get>
void write_monthly(std::ostream& out, std::size_t statistic, const Place& place, Get get) {
  constexpr PerStatistic<int> kDecimals{4, 4, 4, 4, 2, 2, 2, 4, 4, 2};
  std::vector<std::string> texts;
  for (const MonthStatistics& month : place.months) {
    const Estimate* stated = month.estimates()[statistic];
    if (!stated) return;
    texts.push_back(fmt::format("{:.{}f}", get(*stated), kDecimals[statistic]));
  }
  const bool same = std::count(texts.begin(), texts.end(), texts.front()) == 12;
  fmt::print(out, "{:<19}= {}\n", kKeys[statistic],
             same ? texts.front() : fmt::format("[{}]", fmt::join(texts, ", ")));
}

void write_quantiles(std::ostream& out, const Place& place) {
  fmt::print(out, "k_quantiles = [   # 0, 5, 10, 25, 50, 75, 90, 95 and 100 % of the days\n");
  for (const MonthStatistics& month : place.months) {
    fmt::print(out, "  [{:.4f}],\n", fmt::join(*month.k_quantiles, ", "));
  }
  fmt::print(out, "]\n");
}

}  // namespace

void write_place_file(std::ostream& out, const Place& place) {
  const auto quoted = [](const std::string& text) {
    std::string safe;
    for (const char c : text) {
      if (c == '"' || c == '\\') safe += '\\';
      safe += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
    }
    return '"' + safe + '"';
  };
  fmt::print(out,
             "# A place for dullspell. Lists hold twelve months, January first; a single number "
             "holds for all.\n");
  if (!place.id.empty()) fmt::print(out, "id = {}\n", quoted(place.id));
  fmt::print(out, "name = {}\nlatitude = {}\nlongitude = {}\n", quoted(place.name),
             place.where.latitude_deg, place.where.longitude_deg);
  if (place.elevation_m) fmt::print(out, "elevation_m = {}\n", *place.elevation_m);
  fmt::print(out, "utc_offset_h = {}\nsource = {}\n", place.utc_offset_h, quoted(place.source));
  if (!place.licence.empty()) fmt::print(out, "licence = {}\n", quoted(place.licence));
  fmt::print(out, "record = \"{}\"\n", to_string(place.record));
  if (!place.years.empty()) fmt::print(out, "years = {}\n", quoted(place.years));
  if (place.record_years > 0.0) fmt::print(out, "record_years = {:.1f}\n", place.record_years);
  fmt::print(out, "\n");
  if (place.months[0].k_quantiles) write_quantiles(out, place);
  for (std::size_t i = place.months[0].k_quantiles ? 1 : 0; i < kStatistics; ++i) {
    write_monthly(out, i, place, [](const Estimate& e) { return e.value; });
  }
  if (!place.states_errors()) return;
  fmt::print(out, "\n# How well the record knows them.\n[standard_error]\n");
  for (std::size_t i = 0; i < kStatistics; ++i) {
    write_monthly(out, i, place, [](const Estimate& e) { return e.standard_error.value_or(0.0); });
  }
}

}  // namespace dullspell

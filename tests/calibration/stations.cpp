#include "tests/calibration/stations.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>

#include "tests/support/daily_records.hpp"
#include "weather/solar_day.hpp"

namespace dullspell::calibration {
namespace {

constexpr int kDaysOfWholeYear = 330;
constexpr std::size_t kLeastDaysOfMonth = 25;

struct StationRow {
  const char* name;
  const char* file;
  const char* id;
  Coordinates where;
  double utc_offset_h;
};

// Coordinates as the records' owners state them.
constexpr std::array<StationRow, 14> kStations{{
    {"Davis CA", "us_ca_davis.csv", "", {38.536, -121.776}, -8},
    {"Reno NV", "us_nv_reno.csv", "", {39.503, -119.738}, -8},
    {"Bern CH", "ch_bern.csv", "", {46.991, 7.464}, 1},
    {"Sion CH", "ch_sion.csv", "", {46.219, 7.330}, 1},
    {"Graz AT", "europe_daily.csv", "at_graz", {47.078, 15.449}, 1},
    {"De Bilt NL", "europe_daily.csv", "nl_knmi_de_bilt", {52.1, 5.18}, 1},
    {"Dunsany IE", "europe_daily.csv", "ie_1375", {53.516, -6.66}, 0},
    {"Malin Head IE", "europe_daily.csv", "ie_1575", {55.372, -7.339}, 0},
    {"Johnstown Castle IE", "europe_daily.csv", "ie_1775", {52.298, -6.497}, 0},
    {"Athenry IE", "europe_daily.csv", "ie_1875", {53.289, -8.786}, 0},
    {"Valentia IE", "europe_daily.csv", "ie_2275", {51.938, -10.241}, 0},
    {"Belmullet IE", "europe_daily.csv", "ie_2375", {54.228, -10.007}, 0},
    {"Mace Head IE", "europe_daily.csv", "ie_275", {53.326, -9.901}, 0},
    {"Dublin Airport IE", "europe_daily.csv", "ie_532", {53.428, -6.241}, 0},
}};

int year_of(Date date) {
  return int{std::chrono::year_month_day{date}.year()};
}

// Mean distance between a month's cumulative distribution and that of all its years.
double distance_from_all(std::vector<double> month, const std::vector<double>& all) {
  std::sort(month.begin(), month.end());
  double sum = 0.0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const auto below = std::upper_bound(month.begin(), month.end(), all[i]) - month.begin();
    sum += std::abs(static_cast<double>(below) / static_cast<double>(month.size()) -
                    static_cast<double>(i + 1) / static_cast<double>(all.size()));
  }
  return sum / static_cast<double>(all.size());
}

}  // namespace

std::vector<int> Station::whole_years() const {
  std::map<int, int> counts;
  for (const RecordedDay& day : days) counts[year_of(day.date)] += day.ghi_kwh_m2.has_value();
  std::vector<int> years;
  for (const auto& [year, count] : counts) {
    if (count >= kDaysOfWholeYear) years.push_back(year);
  }
  return years;
}

std::vector<RecordedDay> Station::days_of(const std::set<int>& years) const {
  std::vector<RecordedDay> out;
  std::copy_if(days.begin(), days.end(), std::back_inserter(out),
               [&](const RecordedDay& day) { return years.contains(year_of(day.date)); });
  return out;
}

std::vector<Station> load_stations(const std::string& records) {
  std::map<std::string, DailyRecords> files;
  std::vector<Station> stations;
  for (const StationRow& row : kStations) {
    const auto [file, is_new] = files.try_emplace(row.file);
    if (is_new) file->second = read_daily_record_file(records + "/" + row.file);
    Station station;
    station.name = row.name;
    station.frame.name = row.name;
    station.frame.where = row.where;
    station.frame.utc_offset_h = row.utc_offset_h;
    station.frame.record = RecordKind::measured;
    station.days = file->second.at(row.id);
    stations.push_back(std::move(station));
  }
  return stations;
}

std::vector<RecordedDay> typical_like_year(const Station& station) {
  struct MonthOfYear {
    std::vector<double> k;
    std::vector<RecordedDay> days;
  };
  std::array<std::map<int, MonthOfYear>, 12> months;
  std::array<std::vector<double>, 12> all;
  const auto years = station.whole_years();
  for (const RecordedDay& day : station.days_of({years.begin(), years.end()})) {
    if (!day.ghi_kwh_m2) continue;
    const auto m = static_cast<std::size_t>(month_index(day.date));
    const double k =
        *day.ghi_kwh_m2 * 1000.0 / extraterrestrial_of_date_wh_m2(day.date, station.frame.where);
    if (k < 0.0 || k > 1.0) continue;
    MonthOfYear& month = months[m][year_of(day.date)];
    month.k.push_back(k);
    month.days.push_back(day);
    all[m].push_back(k);
  }
  std::vector<RecordedDay> out;
  for (std::size_t m = 0; m < 12; ++m) {
    std::sort(all[m].begin(), all[m].end());
    double least = std::numeric_limits<double>::infinity();
    const MonthOfYear* best = nullptr;
    for (const auto& [year, month] : months[m]) {
      if (month.k.size() < kLeastDaysOfMonth) continue;
      const double distance = distance_from_all(month.k, all[m]);
      if (distance < least) {
        least = distance;
        best = &month;
      }
    }
    out.insert(out.end(), best->days.begin(), best->days.end());
  }
  return out;
}

}  // namespace dullspell::calibration

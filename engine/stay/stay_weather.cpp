#include "engine/stay/stay_weather.hpp"

#include <algorithm>

#include "weather/place_climate.hpp"
#include "weather/temperature.hpp"

namespace dullspell {
namespace {

// Of each camp; copies share their tables, which are costly.
Indexed<CampIndex, PlaceClimate> place_climates(const Plan& plan) {
  Indexed<CampIndex, PlaceClimate> climates;
  for (std::size_t i = 0; i < plan.camps.size(); ++i) {
    const Place& place = plan.camps[i].place;
    std::size_t same = 0;
    while (same < i && !same_climate(plan.camps[same].place, place)) ++same;
    climates.push_back(same < i ? climates[same] : PlaceClimate(place));
  }
  return climates;
}

// Camps at the same place share what is not known of it.
Indexed<CampIndex, std::size_t> place_numbers(const Plan& plan) {
  Indexed<CampIndex, std::size_t> numbers;
  std::size_t count = 0;
  for (std::size_t i = 0; i < plan.camps.size(); ++i) {
    const Place& place = plan.camps[i].place;
    std::size_t same = 0;
    while (same < i && !(plan.camps[same].place.where == place.where &&
                         plan.camps[same].place.id == place.id)) {
      ++same;
    }
    numbers.push_back(same < i ? numbers[same] : count++);
  }
  return numbers;
}

double warmer_k(const Camp& camp) {
  if (!camp.elevation_m || !camp.place.elevation_m) return 0.0;
  return warmer_by_height_k(*camp.place.elevation_m, *camp.elevation_m);
}

// What the plan's places state of any day of the stay.
class StatedClimates {
 public:
  StatedClimates(const Plan& plan, const StayCalendar& calendar)
      : plan_(plan),
        first_day_(calendar.first_day),
        climates_(place_climates(plan)),
        numbers_(place_numbers(plan)) {}

  StatedClimate at(CampIndex camp, int day) const {
    const Date date = date_of(day);
    const Camp& here = plan_.camps[camp];
    return {of_other_decades(climates_[camp].on(date)), warmer_k(here), numbers_[camp], day};
  }

  StatedClimate on_waking(int day) const { return at(waking_camp(plan_, first_day_ + day), day); }

  Date date_of(int day) const { return plan_.arrive + std::chrono::days{first_day_ + day}; }

  std::size_t places() const { return 1 + *std::max_element(numbers_.begin(), numbers_.end()); }

 private:
  const Plan& plan_;
  int first_day_;
  Indexed<CampIndex, PlaceClimate> climates_;
  Indexed<CampIndex, std::size_t> numbers_;
};

}  // namespace

StayWeather stay_weather(const Plan& plan, const StayCalendar& calendar) {
  const StatedClimates stated(plan, calendar);
  std::vector<StatedClimate> segments;
  for (const CampDay& camp_day : calendar.camp_days) {
    segments.push_back(stated.at(camp_day.camp, camp_day.day.value));
  }
  StayWeather out;
  std::vector<KnownClimate> known;
  const auto add = [&](int day, const KnownSky& sky) {
    const StatedClimate climate = stated.on_waking(day);
    const StatedClearness meant = stated_clearness(sky, climate.climate.k_mean.value);
    const ClearnessTable k_of_chi = climate.climate.k_of_chi.rounded();
    out.known.push_back(
        {day, stated.date_of(day), sky, meant, k_of_chi(known_chi(day, meant, k_of_chi).mean)});
    known.push_back({meant, climate});
  };
  if (plan.yesterday) add(-1, *plan.yesterday);
  for (const ForecastDay& day : plan.forecast) add(day.day - calendar.first_day, day.sky);
  out.climate =
      ClimateOfStay(std::move(segments), stated.on_waking(-1), std::move(known), stated.places());
  return out;
}

}  // namespace dullspell

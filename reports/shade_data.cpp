#include "reports/shade_data.hpp"

#include "reports/csv_writer.hpp"
#include "reports/plan_data.hpp"
#include "reports/reading_text.hpp"
#include "reports/shade_tables.hpp"

namespace dullspell {
namespace {

std::vector<double> watts_of(const ShadeTable& shade, const PanelDay& day) {
  std::vector<double> out;
  for (const int hour : shade.hours) out.push_back(day.watts[static_cast<std::size_t>(hour)]);
  return out;
}

Data days_data(const ShadeTable& shade) {
  Data out = Data::list();
  for (const ShadedDay& day : shade.days) {
    out.push_back({{"sky", to_string(day.sky)},
                   {"k", day.k},
                   {"here_w", watts_of(shade, day.here)},
                   {"open_w", watts_of(shade, day.open)},
                   {"here_wh", day.here.energy_wh()},
                   {"open_wh", day.open.energy_wh()},
                   {"shade_takes_wh", day.taken_wh()},
                   {"shade_takes", day.taken_share()}});
  }
  return out;
}

Data by_sky(const BySky& watts) {
  Data out;
  for (const SkyWord sky : kSkyWords) out[to_string(sky)] = watts[static_cast<std::size_t>(sky)];
  return out;
}

Data canopies_data(const ShadeTable& shade) {
  Data out = Data::list();
  for (const CanopyWatts& row : shade.by_canopy) {
    out.push_back({{"canopy", row.canopy}, {"watts", by_sky(row.watts)}});
  }
  return out;
}

Data camp_data(const ShadeReport& report, const ShadeTable& shade) {
  const Camp& camp = report.plan.camps[shade.camp];
  std::vector<std::string> hours;
  for (const int hour : shade.hours) hours.push_back(clock_text(60 * hour));
  return {{"camp", shade.camp + 1},
          {"place", camp.place.name},
          {"date", iso_date(shade.date)},
          {"utc_offset_h", shade.clock_offset_h},
          {"canopy", camp.canopy},
          {"shaded", is_shaded(camp)},
          {"hours_from", hours},
          {"skies", days_data(shade)},
          {"best_hour_from", clock_text(60 * shade.best_hour)},
          {"by_canopy", canopies_data(shade)},
          {"doubt_w", by_sky(shade.doubt_w)}};
}

const char* fit_word(SeenFit fit) {
  switch (fit) {
    case SeenFit::fits:
      return "fits";
    case SeenFit::above_open:
      return "above-open";
    case SeenFit::below_thickest:
      return "below-thickest";
  }
  return "";
}

Data seen_data(const ShadeReport& report) {
  if (!report.seen) return nullptr;
  const auto& [reading, answer] = *report.seen;
  return {{"name", reading_name(reading, report.plan)},
          {"camp", reading.camp + 1},
          {"date", iso_date(reading.from.date)},
          {"at", clock_text(reading.from.minute_of_day)},
          {"sky", to_string(std::get<SkyWord>(*reading.sky))},
          {"seen_w", reading.shown},
          {"here_w", answer.here_w},
          {"open_w", answer.open_w},
          {"doubt_w", answer.doubt_w},
          {"fit", fit_word(answer.fit)},
          {"canopy", answer.canopy},
          {"canopy_least", answer.least},
          {"canopy_most", answer.most}};
}

}  // namespace

Data shade_head(const ShadeReport& report, std::string_view program) {
  return {{"format", "dullspell.shade/1"}, {"program", program}, {"plan", plan_data(report.plan)}};
}

Data shade_results(const ShadeReport& report) {
  Data camps = Data::list();
  for (const ShadeTable& shade : report.camps) camps.push_back(camp_data(report, shade));
  return {{"camps", std::move(camps)}, {"seen", seen_data(report)}};
}

void write_shade_csv(std::ostream& out, const ShadeReport& report) {
  CsvWriter csv(out, "camp,date,hour_from,sky,k,here_w,open_w");
  for (const ShadeTable& shade : report.camps) {
    for (const int hour : shade.hours) {
      const auto h = static_cast<std::size_t>(hour);
      for (const ShadedDay& day : shade.days) {
        csv.cells(shade.camp + 1, iso_date(shade.date), clock_text(60 * hour), to_string(day.sky),
                  day.k, day.here.watts[h], day.open.watts[h]);
        csv.end_row();
      }
    }
  }
}

}  // namespace dullspell

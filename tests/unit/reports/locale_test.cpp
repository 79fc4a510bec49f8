#include <locale>
#include <sstream>

#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "engine/decisions/calendar_survey.hpp"
#include "engine/plan/plan_file.hpp"
#include "engine/study/prepare.hpp"
#include "reports/calendar_data.hpp"
#include "reports/json_renderer.hpp"
#include "reports/page_renderer.hpp"
#include "reports/run_document.hpp"
#include "reports/text_renderer.hpp"
#include "weather/place_catalogue.hpp"
#include "weather/place_file.hpp"
#include "weather/records/record_file.hpp"

namespace dullspell {
namespace {

// As much of Europe writes numbers: 1.234,5.
class CommaNumbers : public std::numpunct<char> {
 protected:
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
  std::string do_truename() const override { return "wahr"; }
  std::string do_falsename() const override { return "falsch"; }
};

class GlobalLocale {
 public:
  explicit GlobalLocale(const std::locale& locale) : before_(std::locale::global(locale)) {}
  ~GlobalLocale() { std::locale::global(before_); }
  GlobalLocale(const GlobalLocale&) = delete;
  GlobalLocale& operator=(const GlobalLocale&) = delete;

 private:
  std::locale before_;
};

std::string file(const std::string& name) {
  return DULLSPELL_SOURCE_DIR "/datasets/" + name;
}

template <class Write>
std::string written(Write write) {
  std::ostringstream out;  // with the locale that is global now
  write(out);
  return out.str();
}

// Everything that reads or writes numbers, from files to reports.
std::vector<std::string> read_and_written() {
  std::vector<std::string> out;
  const Plan plan = read_plan(file("plans/two-forest-camps.toml"), PlaceCatalogue::built_in(),
                              {"battery.capacity_wh=2048.5"});
  const PreparedPlan prepared = prepare(plan);
  StudyOptions options;
  options.stays = 2'000;
  const StudyResult result = run_study(prepared, options);
  const Budget budget = expected_budget(prepared);
  const RunReport report{plan, prepared, result, budget};
  const Document document = run_document(report, "program");
  out.push_back(written([&](std::ostream& o) { write_text(o, document); }));
  out.push_back(written([&](std::ostream& o) { write_json(o, document); }));
  out.push_back(written([&](std::ostream& o) { write_page(o, document); }));

  OutcomeOptions few;
  few.stays = 1'500;
  const auto weeks = survey_calendar(plan, few);
  const CalendarReport calendar{plan, weeks, few};
  out.push_back(written([&](std::ostream& o) { write_calendar_csv(o, calendar); }));

  const auto records = read_weather_file(file("records/us_ca_davis.csv"));
  std::string days;
  for (const RecordedDay& day : records.front().days) {
    days += fmt::format("{} ", day.ghi_kwh_m2.value_or(-1.0));
  }
  out.push_back(days);
  const Place place = *PlaceCatalogue::built_in().place("daggett-ca");
  out.push_back(written([&](std::ostream& o) { write_place_file(o, place); }));
  return out;
}

TEST_CASE("Numbers are read and written alike under any locale") {
  const std::vector<std::string> usual = read_and_written();
  const GlobalLocale commas(std::locale(std::locale::classic(), new CommaNumbers));
  // The locale does reach streams that ask for it.
  CHECK(written([](std::ostream& o) { o << 1234.5; }) == "1.234,5");
  const std::vector<std::string> other = read_and_written();
  REQUIRE(other.size() == usual.size());
  for (std::size_t i = 0; i < usual.size(); ++i) CHECK(other[i] == usual[i]);
}

}  // namespace
}  // namespace dullspell

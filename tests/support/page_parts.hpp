#pragma once

#include <cmath>
#include <regex>
#include <string>
#include <vector>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "engine/statistics/interval.hpp"
#include "reports/number_text.hpp"
#include "tests/support/run_program.hpp"

namespace dullspell {
using Json = nlohmann::ordered_json;
}

namespace dullspell::test {

/// The page that the program prints for these arguments, to which `--html -` is added.
inline std::string page_of(std::vector<std::string> arguments, const std::string& input = "") {
  arguments.insert(arguments.end(), {"--html", "-"});
  const ProgramRun run = run_program(arguments, input);
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  return run.out;
}

inline std::string between(const std::string& text, const std::string& open,
                           const std::string& close) {
  const auto from = text.find(open);
  REQUIRE(from != std::string::npos);
  const auto begin = from + open.size();
  return text.substr(begin, text.find(close, begin) - begin);
}

inline Json data_of(const std::string& page) {
  return Json::parse(between(page, "<script type=\"application/json\" id=\"data\">", "</script>"));
}

// Without what scripts hold: what a reader sees with scripts off.
inline std::string markup_of(const std::string& page) {
  std::string out = page;
  for (std::size_t from; (from = out.find("<script")) != std::string::npos;) {
    const auto end = out.find("</script>", from);
    REQUIRE(end != std::string::npos);
    out.erase(from, end + 9 - from);
  }
  return out;
}

inline std::vector<std::vector<std::string>> table_of(const std::string& page,
                                                      const std::string& id) {
  const std::string body =
      between(between(page, "<table id=\"" + id + "\">", "</table>"), "<tbody>", "</tbody>");
  std::vector<std::vector<std::string>> rows;
  const std::regex row("<tr>(.*?)</tr>"), cell("<t[hd][^>]*>(.*?)</t[hd]>");
  for (std::sregex_iterator r(body.begin(), body.end(), row), end; r != end; ++r) {
    const std::string cells = (*r)[1];
    rows.emplace_back();
    for (std::sregex_iterator c(cells.begin(), cells.end(), cell); c != end; ++c) {
      rows.back().push_back((*c)[1]);
    }
  }
  return rows;
}

inline Proportion share_of(const Json& share, double stays) {
  return {static_cast<std::uint64_t>(std::llround(share.get<double>() * stays)),
          static_cast<std::uint64_t>(stays)};
}

// Every number that JSON holds, by its path.
inline void check_same(const Json& page, const Json& result) {
  const Json one = page.flatten(), two = result.flatten();
  for (const auto& [path, value] : two.items()) {
    INFO(path);
    if (value.is_number_float()) {
      CHECK(one.at(path).get<double>() == Approx(value.get<double>()).epsilon(1e-5));
    } else {
      CHECK(one.at(path) == value);
    }
  }
}

inline std::size_t count_of(const std::string& text, const std::string& part) {
  std::size_t found = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++found;
  return found;
}

/// A title or name that would break a page which takes it for markup.
inline const std::string kHostile =
    "</script><script>alert(1)</script><img src=x onerror=alert(2)> \\\" ' & {{data}} "
    "\u202E\u05D0 \u26FA --> ]]>";

/// A page made with kHostile holds no markup that a tame one lacks.
inline void check_no_more_markup(const std::string& page, const std::string& tame) {
  for (const auto* tag : {"<script", "</script", "<img", "<h1", "<!--", "-->"}) {
    INFO(tag);
    CHECK(count_of(page, tag) == count_of(tame, tag));
  }
}

}  // namespace dullspell::test

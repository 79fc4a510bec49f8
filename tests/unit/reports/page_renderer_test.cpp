#include "reports/page_renderer.hpp"

#include <stdexcept>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "reports/json_renderer.hpp"
#include "reports/pages/page_files.hpp"

using namespace dullspell;
using Catch::Matchers::Contains;

TEST_CASE("markup in a text is text in a page") {
  CHECK(html_text("<script>alert(\"1\" + '2') & more</script>") ==
        "&lt;script&gt;alert(&quot;1&quot; + &#39;2&#39;) &amp; more&lt;/script&gt;");
  CHECK(html_text("crowns 50 % – 17:00") == "crowns 50 % – 17:00");
}

TEST_CASE("control characters and broken bytes become replacement characters") {
  CHECK(html_text(std::string("a\0b\x1b[31m\x7f", 9)) == "a�b�[31m�");
  CHECK(html_text("tab\tline\n") == "tab\tline\n");
  CHECK(html_text("\xff\xfe camp") == "�� camp");
}

TEST_CASE("a name keeps its script and direction to itself, and is cut between characters") {
  CHECK(html_name("ליד הנהר") == "<bdi>ליד הנהר</bdi>");
  CHECK(html_name("\u202Eesrever") == "<bdi>\u202Eesrever</bdi>");
  std::string tents, kept;
  for (int i = 0; i < 200; ++i) tents += "⛺";
  for (int i = 0; i < 160; ++i) kept += "⛺";
  CHECK(html_name(tents) == "<bdi>" + kept + "…</bdi>");
  CHECK(html_name(kept) == "<bdi>" + kept + "</bdi>");
}

TEST_CASE("no string of embedded JSON can end its element, and it reads back as it was") {
  const Data hostile = {{"title", "</script><!-- <script> & ]]> \" \\ \u2028"}, {"n", 0.25}};
  const std::string text = script_json(hostile);
  CHECK(text.find_first_of("<>&") == std::string::npos);
  const auto read = nlohmann::json::parse(text);
  CHECK(read["title"] == "</script><!-- <script> & ]]> \" \\ \u2028");
  CHECK(read["n"] == 0.25);
}

TEST_CASE("a part of a template is put in as it is and not searched for names") {
  CHECK(filled("a {{x}} b {{y}}{{x}}", {{"x", "{{y}}"}, {"y", "2"}}) == "a {{y}} b 2{{y}}");
  CHECK_THROWS_AS(filled("{{unknown}}", {}), std::logic_error);
  CHECK_THROWS_AS(filled("{{open", {{"open", "1"}}), std::logic_error);
}

TEST_CASE("what is built in can stand inside a script element") {
  // https://html.spec.whatwg.org/#restrictions-for-contents-of-script-elements
  CHECK_THAT(std::string(chart_library()), Contains("Chart.js"));
  for (const auto script : {chart_library(), charts_script(), run_script(), size_script(),
                            compare_script(), levers_script(), audit_script(),
                            shade_script()}) {
    CHECK(script.size() > 500);
    for (const auto* ender : {"</script", "<!--", "<script"}) {
      CHECK(script.find(ender) == std::string_view::npos);
    }
  }
}

#include "reports/data.hpp"

#include <sstream>

#include <catch2/catch.hpp>

#include "reports/json_renderer.hpp"

using namespace dullspell;

namespace {

std::string json_of(const Data& data) {
  std::ostringstream out;
  write_json(out, data);
  std::string text = out.str();
  std::erase_if(text, [](char c) { return c == ' ' || c == '\n'; });
  return text;
}

}  // namespace

TEST_CASE("values of every kind are written as JSON, members in their order") {
  const Data data = {{"nothing", nullptr},   {"yes", true},
                     {"below", -3},          {"large", std::uint64_t{18446744073709551615u}},
                     {"share", 0.1},         {"whole", 2.0},
                     {"name", "a \"b\""},    {"list", {1, 2.5, "c"}},
                     {"empty", Data::list()}};
  CHECK(json_of(data) ==
        "{\"nothing\":null,\"yes\":true,\"below\":-3,\"large\":18446744073709551615,"
        "\"share\":0.1,\"whole\":2.0,\"name\":\"a\\\"b\\\"\",\"list\":[1,2.5,\"c\"],\"empty\":[]}");
}

TEST_CASE("braces make members where every item is a pair that begins with a text") {
  CHECK(json_of({{"a", 1}, {"b", {1, 2}}}) == "{\"a\":1,\"b\":[1,2]}");
  CHECK(json_of({"a", "b"}) == "[\"a\",\"b\"]");
  CHECK(json_of({{"a", 1}, {2, 3}}) == "[[\"a\",1],[2,3]]");
}

TEST_CASE("members are replaced where they stand, added at the end, taken away") {
  Data data = {{"a", 1}, {"b", 2}};
  data["a"] = "new";
  data["c"] = 3;
  CHECK(json_of(data) == "{\"a\":\"new\",\"b\":2,\"c\":3}");
  data.update({{"b", nullptr}, {"d", 4}});
  data.erase("c");
  data.erase("never there");
  CHECK(data == Data{{"a", "new"}, {"b", nullptr}, {"d", 4}});
  CHECK(data.size() == 3);
  CHECK_THROWS_AS(data.at("c"), std::out_of_range);
}

TEST_CASE("bytes that are not UTF-8 are replaced in JSON") {
  CHECK(json_of(Data(std::string("\xff camp"))) == "\"�camp\"");
}

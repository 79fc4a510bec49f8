#include <catch2/catch.hpp>

#include "reports/difference_text.hpp"

using namespace dullspell;

namespace {

PairedDifference of(double difference, double low, double high) {
  PairedDifference out;
  out.difference = difference;
  out.interval = {low, high};
  return out;
}

}  // namespace

TEST_CASE("points have a sign and no more digits than their interval supports") {
  CHECK(signed_points(of(-0.1213, -0.16, -0.08)) == "−12");
  CHECK(signed_points(of(-0.1213, -0.125, -0.118)) == "−12.1");
  CHECK(signed_points(of(0.00123, 0.0009, 0.0016)) == "+0.12");
  CHECK(signed_points(of(0.0, -0.01, 0.01)) == "0");
  CHECK(signed_points(of(-0.001, -0.02, 0.018)) == "0");
  CHECK(signed_points_interval(of(-0.1213, -0.125, -0.118)) == "−12.5 to −11.8");
  CHECK(points_in_words(of(-0.1213, -0.125, -0.118)) == "12.1 points (11.8–12.5)");
  CHECK(points_in_words(of(0.1213, 0.118, 0.125)) == "12.1 points (11.8–12.5)");
}

TEST_CASE("points without a sign") {
  CHECK(points(of(-0.1213, -0.125, -0.118)) == "12.1 points");
  CHECK(points(of(-0.012, -0.02, -0.004)) == "1 point");
  CHECK(points_range({0.118, 0.125}) == "11.8–12.5");
  CHECK(points_range({-0.01, 0.03}) == "−1 to +3");
  CHECK(signed_points_range({0.118, 0.125}) == "+11.8 to +12.5");
}

TEST_CASE("hours have a sign, too") {
  CHECK(signed_hours({-0.418, {-0.45, -0.39}}) == "−0.42");
  CHECK(signed_hours({1.41, {1.2, 1.6}}) == "+1.4");
  CHECK(hours({-0.418, {-0.45, -0.39}}) == "0.42");
}

TEST_CASE("a number of stays is rounded up to two digits") {
  CHECK(about(153'001.0) == "160,000");
  CHECK(about(150'000.0) == "150,000");
  CHECK(about(401.0) == "410");
  CHECK(about(7.2) == "8");
}

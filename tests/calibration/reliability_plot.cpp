#include "tests/calibration/reliability_plot.hpp"

#include <algorithm>
#include <ostream>

#include <fmt/format.h>
#include <fmt/ostream.h>

namespace dullspell::calibration {
namespace {

constexpr double kLeft = 70.0, kTop = 50.0, kSide = 480.0;

double x_of(double share) {
  return kLeft + kSide * share;
}

double y_of(double share) {
  return kTop + kSide * (1.0 - std::clamp(share, 0.0, 1.0));
}

}  // namespace

void write_reliability_plot(std::ostream& out, const std::vector<ReliabilityPoint>& points) {
  fmt::print(out,
             "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 600 640\" role=\"img\" "
             "font-family=\"sans-serif\" font-size=\"14\">\n"
             "<title>Measured against predicted shares of stays that run flat</title>\n"
             "<rect width=\"600\" height=\"640\" fill=\"#ffffff\"/>\n");
  for (int i = 0; i <= 5; ++i) {
    const double share = i / 5.0;
    fmt::print(out,
               "<path d=\"M{0:.1f} {1:.1f}V{2:.1f}M{3:.1f} {4:.1f}H{5:.1f}\" stroke=\"#dddddd\"/>\n"
               "<text x=\"{0:.1f}\" y=\"{6:.1f}\" text-anchor=\"middle\">{7} %</text>\n"
               "<text x=\"{8:.1f}\" y=\"{9:.1f}\" text-anchor=\"end\">{7} %</text>\n",
               x_of(share), y_of(0.0), y_of(1.0), x_of(0.0), y_of(share), x_of(1.0),
               y_of(0.0) + 20.0, 20 * i, x_of(0.0) - 8.0, y_of(share) + 5.0);
  }
  fmt::print(out, "<path d=\"M{} {}L{} {}\" stroke=\"#555555\" stroke-dasharray=\"6 5\"/>\n",
             x_of(0.0), y_of(0.0), x_of(1.0), y_of(1.0));
  for (const ReliabilityPoint& p : points) {
    const double x = x_of(p.predicted);
    fmt::print(out,
               "<path d=\"M{0:.1f} {1:.1f}V{2:.1f}\" stroke=\"#9cc3e6\" stroke-width=\"10\"/>\n"
               "<path d=\"M{0:.1f} {3:.1f}V{4:.1f}\" stroke=\"#8a4b08\" stroke-width=\"1.5\"/>\n"
               "<circle cx=\"{0:.1f}\" cy=\"{5:.1f}\" r=\"5\" fill=\"#0b3d66\"/>\n",
               x, y_of(p.measured - p.noise), y_of(p.measured + p.noise),
               y_of(p.measured - p.spread), y_of(p.measured + p.spread), y_of(p.measured));
  }
  fmt::print(out,
             "<text x=\"310\" y=\"28\" text-anchor=\"middle\" font-size=\"16\">Does it come true? "
             "Fitted on one half of the years, judged by the other</text>\n"
             "<text x=\"310\" y=\"580\" text-anchor=\"middle\">predicted share of stays that run "
             "flat</text>\n"
             "<text x=\"20\" y=\"290\" text-anchor=\"middle\" transform=\"rotate(-90 20 290)\">"
             "measured share of past periods</text>\n"
             "<text x=\"310\" y=\"604\" text-anchor=\"middle\" font-size=\"12\">point: mean of "
             "the cases; band: the records' own noise</text>\n"
             "<text x=\"310\" y=\"622\" text-anchor=\"middle\" font-size=\"12\">line: distance of "
             "single cases from their prediction (rms)</text>\n</svg>\n");
}

}  // namespace dullspell::calibration

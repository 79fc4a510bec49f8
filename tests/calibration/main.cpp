#include <fmt/format.h>
#include <cstdio>
#include "tests/calibration/calibration_study.hpp"
using namespace dullspell;
using namespace dullspell::calibration;
static void show(const char* n, const std::vector<Verdict>& v, const std::vector<Station>& st) {
  auto line = [&](const std::string& l, auto f) {
    const Score s = score_of(v, f);
    fmt::print("{:<30} {:>6} bias {:+.2f} rms {:.2f} noise {:.2f} ratio {:.3f}\n", l, s.verdicts,
               100 * s.bias, 100 * s.rms, 100 * s.noise, s.ratio());
  };
  line(n, [](auto&) { return true; });
  for (std::size_t s = 0; s < st.size(); ++s)
    line("  " + st[s].name, [s](const Verdict& x) { return x.station == s; });
  for (std::size_t k = 0; k < 6; ++k)
    line(std::string("  ") + kKits[k].name, [k](const Verdict& x) { return x.kit == k; });
  for (std::size_t k = 0; k < 4; ++k)
    line(fmt::format("  {} days", kLengths[k]), [k](const Verdict& x) { return x.length == k; });
  for (int m = 0; m < 12; m += 3)
    line(fmt::format("  months {}-{}", m + 1, m + 3),
         [m](const Verdict& x) { return x.month >= m && x.month < m + 3; });
  std::fflush(stdout);
}
int main(int, char** argv) {
  auto st = load_stations(argv[1]);
  auto r = run_calibration(st, {});
  show("halves", r.by_halves, st);
  show("five", r.by_five_years, st);
  show("typical", r.typical_like, st);
  show("single", r.single_year, st);
  for (auto* c : {&r.odd_even, &r.random, &r.early_late})
    fmt::print("coverage {:.3f} of {} below {:.3f} above {:.3f}\n", c->share(), c->cases,
               1.0 * c->below / c->cases, 1.0 * c->above / c->cases);
}

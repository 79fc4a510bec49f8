#include "engine/guesses/corrected_text.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "engine/plan/plan_file.hpp"
#include "weather/input/input_error.hpp"
#include "weather/input/toml_edit.hpp"
#include "weather/input/unit_twin.hpp"

namespace dullspell {
namespace {

constexpr double kUnchanged = 0.002;  // of a value
constexpr double kWritten = 0.01;     // how well what is written is what it should be

std::string number_text(double value) {
  return fmt::format("{:.3g}", value);
}

// By "load[2].watts" or "battery.health".
TomlEdit edit_of(const std::string& key, double value) {
  TomlEdit out;
  const auto dot = key.find('.'), bracket = key.find('[');
  out.table = key.substr(0, std::min(dot, bracket));
  if (bracket < dot) out.number = std::stoul(key.substr(bracket + 1));
  out.key = key.substr(dot + 1);
  out.value = number_text(value);
  return out;
}

bool differ(double a, double b, double by) {
  return std::abs(a - b) > by * std::max(std::abs(a), std::abs(b));
}

void add_value(std::vector<TomlEdit>& edits, const Guess& guess, const Plan& listed,
               const Plan& corrected) {
  if (!differ(guess.value(listed), guess.value(corrected), kUnchanged)) return;
  if (guess.about == GuessAbout::harvest) {
    for (std::size_t i = 0; i < corrected.panels.size(); ++i) {
      edits.push_back(
          edit_of(fmt::format("panels[{}].rated_w", i + 1), corrected.panels[i].rated_w));
    }
    return;
  }
  TomlEdit edit = edit_of(guess.key, guess.value(corrected));
  if (edit.table == "load") edit.instead_of = "amps";
  if (const auto twin = unit_twin(edit.key, guess.unit)) edit.instead_of = twin->key;
  edits.push_back(std::move(edit));
}

// The spread that is left, of a share that of its logarithm.
double spread_left(const Guess& guess, double left) {
  if (!guess.is_share) return guess.spread * left;
  const double sigma = lognormal_sigma(guess.spread) * left;
  return std::sqrt(std::expm1(sigma * sigma));
}

std::vector<TomlEdit> edits_of(const Plan& listed, const Plan& corrected,
                               const Posterior& posterior) {
  std::vector<TomlEdit> out;
  std::map<std::string, double> spreads;
  for (std::size_t i = 0; i < posterior.guesses.size(); ++i) {
    const Guess& guess = posterior.guesses[i];
    add_value(out, guess, listed, corrected);
    double& widest = spreads[guess.spread_key];
    widest = std::max(widest, spread_left(guess, posterior.left(i)));
  }
  TomlEdit spread;
  spread.table = "guesses";
  for (const auto& [key, value] : spreads) {
    spread.key = key;
    spread.value = number_text(value);
    out.push_back(spread);
  }
  return out;
}

bool says(const Plan& plan, const Plan& corrected, const Posterior& posterior) {
  return plan.readings.empty() &&
         std::none_of(posterior.guesses.begin(), posterior.guesses.end(), [&](const Guess& guess) {
           return differ(guess.value(plan), guess.value(corrected), kWritten);
         });
}

}  // namespace

std::string corrected_text(const SourceText& source, const Plan& listed, const Posterior& posterior,
                           const PlaceCatalogue& places) {
  const Plan there = corrected(listed, posterior);
  const std::vector<TomlEdit> edits = edits_of(listed, there, posterior);
  const std::string text = with_list_as_comments(with_edits(source.text, edits), "reading");
  std::string why = "its text is not one that is changed line by line";
  try {
    if (says(parse_plan({source.name, text}, places), there, posterior)) return text;
  } catch (const InputError& error) {
    why = fmt::format("{} {} then", error.problem().key, error.problem().problem);
  }
  std::string by_hand;
  for (const TomlEdit& edit : edits) {
    by_hand +=
        fmt::format("{}{}{}.{} = {}", by_hand.empty() ? "" : ", ", edit.table,
                    edit.number ? fmt::format("[{}]", edit.number) : "", edit.key, edit.value);
  }
  InputProblem problem;
  problem.file = source.name;
  problem.problem = "would not be the corrected plan: " + why;
  problem.allowed = "a plan with each table under a head of its own";
  problem.fix = "Change these by hand, and take the readings out: " + by_hand + ".";
  throw InputError(std::move(problem));
}

}  // namespace dullspell

#pragma once

#include "engine/guesses/posterior.hpp"
#include "weather/input/source_text.hpp"
#include "weather/place_catalogue.hpp"

namespace dullspell {

/// A plan's text with the expected values in place of its guesses, the spreads in [guesses] as wide
/// as the most uncertain of those that share one, and its readings made comments: they are in the
/// values now. What the guesses' errors had in common is lost. `source` is the text of `listed`,
/// under the name that the result will have. Throws InputError where a text cannot be edited so,
/// which says what to change by hand.
std::string corrected_text(const SourceText& source, const Plan& listed, const Posterior& posterior,
                           const PlaceCatalogue& places);

}  // namespace dullspell

#pragma once

#include <string_view>

#include "reports/document.hpp"
#include "reports/generator_report.hpp"

namespace dullspell {

/// When to run a plan's generator.
Document generator_document(const GeneratorReport& report, std::string_view program);

}  // namespace dullspell

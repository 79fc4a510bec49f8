#pragma once

#include <memory>
#include <string>

#include <catch2/catch.hpp>

#include "weather/input/input_error.hpp"
#include "weather/input/toml_section.hpp"

namespace dullspell {

/// The message of the InputError that `f` throws.
template <class F>
std::string message_of(F f) {
  try {
    f();
  } catch (const InputError& error) {
    return error.what();
  }
  FAIL_CHECK("no InputError was thrown");
  return {};
}

/// The root table of a TOML text that a person would know as `plan.toml`.
inline TomlSection toml_root(const std::string& text) {
  return TomlSection::root_of(std::make_shared<const TomlDocument>(SourceText{"plan.toml", text}));
}

}  // namespace dullspell

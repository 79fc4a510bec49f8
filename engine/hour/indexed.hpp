#pragma once

#include <cstddef>
#include <vector>

#include "engine/hour/index.hpp"

namespace dullspell {

/// A vector that is looked up by an index of its own type, or in a loop by position.
template <class I, class T>
class Indexed : public std::vector<T> {
 public:
  using std::vector<T>::vector;

  T& operator[](I index) { return at_position(static_cast<std::size_t>(index.value)); }
  const T& operator[](I index) const { return at_position(static_cast<std::size_t>(index.value)); }
  T& operator[](std::size_t position) { return at_position(position); }
  const T& operator[](std::size_t position) const { return at_position(position); }

 private:
  T& at_position(std::size_t position) { return std::vector<T>::operator[](position); }
  const T& at_position(std::size_t position) const { return std::vector<T>::operator[](position); }
};

}  // namespace dullspell

#pragma once

#include <string>
#include <utility>

#include <catch2/catch.hpp>

#include "weather/input/csv_table.hpp"
#include "weather/input/source_text.hpp"

namespace dullspell {

inline SourceText reference_table(const std::string& file) {
  return read_source(DULLSPELL_TABLES + file, "reference table", 1024 * 1024);
}

namespace detail {

template <class F, std::size_t... I>
void call_with(F& check, const CsvTable& table, std::index_sequence<I...>) {
  check(table.required_number(I)...);
}

}  // namespace detail

/// Calls `check` with the numbers of the named columns, row by row; a failure names file, line and
/// all these numbers. Returns the number of rows, to be compared with what the table should hold.
template <std::size_t N, class F>
int for_each_row(const std::string& file, const char* const (&columns)[N], F check) {
  const SourceText source = reference_table(file);
  CsvTable table(source, CsvDelimiter::comma, {columns, columns + N});
  int rows = 0;
  while (table.next()) {
    std::string inputs = file + ":" + std::to_string(table.line()) + ":";
    for (std::size_t i = 0; i < N; ++i) {
      inputs += std::string(" ") + columns[i] + "=" + std::string(table.text(i));
    }
    INFO(inputs);
    detail::call_with(check, table, std::make_index_sequence<N>{});
    ++rows;
  }
  return rows;
}

}  // namespace dullspell

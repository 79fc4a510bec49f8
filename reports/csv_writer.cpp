#include "reports/csv_writer.hpp"

#include <algorithm>
#include <stdexcept>

namespace dullspell {

CsvWriter::CsvWriter(std::ostream& out, const std::string& columns, bool with_heading)
    : out_(&out),
      columns_(static_cast<std::size_t>(std::count(columns.begin(), columns.end(), ',')) + 1) {
  if (with_heading) *out_ << columns << '\n';
}

CsvWriter& CsvWriter::fixed(double value, int digits) {
  begin_cell();
  fmt::format_to(std::back_inserter(row_), "{:.{}f}", value, digits);
  return *this;
}

CsvWriter& CsvWriter::empty(std::size_t count) {
  for (std::size_t i = 0; i < count; ++i) begin_cell();
  return *this;
}

void CsvWriter::end_row() {
  if (cells_ != columns_) {
    throw std::logic_error(fmt::format("a CSV row has {} cells, not {}", cells_, columns_));
  }
  row_ += '\n';
  out_->write(row_.data(), static_cast<std::streamsize>(row_.size()));
  row_.clear();
  cells_ = 0;
}

void CsvWriter::begin_cell() {
  if (cells_++ > 0) row_ += ',';
}

void CsvWriter::add_text(std::string_view text) {
  if (text.find_first_of(",\"\r\n") == std::string_view::npos) {
    row_ += text;
    return;
  }
  row_ += '"';
  for (const char c : text) {
    if (c == '"') row_ += '"';
    row_ += c;
  }
  row_ += '"';
}

}  // namespace dullspell

#include "reports/data.hpp"

#include <algorithm>
#include <stdexcept>

namespace dullspell {
namespace {

// The items of a pair that begins with a text; null for anything else.
const Data::List* as_member(const Data& item) {
  const auto* pair = std::get_if<Data::List>(&item.value());
  const bool named =
      pair && pair->size() == 2 && std::holds_alternative<std::string>(pair->front().value());
  return named ? pair : nullptr;
}

auto find(auto& members, std::string_view name) {
  return std::find_if(members.begin(), members.end(),
                      [&](const Data::Member& member) { return member.name == name; });
}

}  // namespace

Data::Data(std::initializer_list<Data> items) {
  const bool members = std::all_of(items.begin(), items.end(), as_member);
  if (!members) {
    value_ = List(items);
    return;
  }
  Members out;
  for (const Data& item : items) {
    const List& pair = *as_member(item);
    out.push_back({std::get<std::string>(pair.front().value()), pair.back()});
  }
  value_ = std::move(out);
}

Data& Data::operator[](std::string_view name) {
  if (std::holds_alternative<std::nullptr_t>(value_)) value_ = Members{};
  auto& members = std::get<Members>(value_);
  const auto found = find(members, name);
  if (found != members.end()) return found->value;
  members.push_back({std::string(name), {}});
  return members.back().value;
}

const Data& Data::at(std::string_view name) const {
  const auto& members = std::get<Members>(value_);
  const auto found = find(members, name);
  if (found == members.end()) throw std::out_of_range("no member " + std::string(name));
  return found->value;
}

void Data::erase(std::string_view name) {
  auto& members = std::get<Members>(value_);
  const auto found = find(members, name);
  if (found != members.end()) members.erase(found);
}

void Data::update(const Data& other) {
  if (std::holds_alternative<std::nullptr_t>(other.value_)) return;
  for (const Member& member : std::get<Members>(other.value_)) (*this)[member.name] = member.value;
}

std::size_t Data::size() const {
  if (const auto* list = std::get_if<List>(&value_)) return list->size();
  return std::get<Members>(value_).size();
}

bool Data::operator==(const Data& other) const {
  return value_ == other.value_;
}

}  // namespace dullspell

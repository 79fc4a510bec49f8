#pragma once

#include <array>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace dullspell {

/// A value for programs: nothing, yes or no, a number, a text, a list, or members in their order.
/// It knows no notation; json_renderer.hpp writes it.
class Data {
 public:
  struct Member;
  using List = std::vector<Data>;
  using Members = std::vector<Member>;
  using Value = std::variant<std::nullptr_t, bool, std::int64_t, std::uint64_t, double, std::string,
                             List, Members>;

  Data(const Data& other);
  Data(Data&& other) noexcept;
  Data& operator=(const Data& other);
  Data& operator=(Data&& other) noexcept;
  ~Data();
  // NOLINTBEGIN(google-explicit-constructor): braces of plain values become lists and members
  Data(std::nullptr_t = nullptr);
  Data(std::same_as<bool> auto value) : Data(Held<bool>{value}) {}
  Data(std::signed_integral auto value) : Data(Held<std::int64_t>{value}) {}
  template <std::unsigned_integral T>
  requires(!std::same_as<T, bool>) Data(T value) : Data(Held<std::uint64_t>{value}) {}
  Data(double value);
  Data(const char* text);
  Data(std::string_view text);
  Data(std::string text);
  template <class T>
  Data(const std::vector<T>& items) : Data(Held<List>{List(items.begin(), items.end())}) {}
  template <class T, std::size_t N>
  Data(const std::array<T, N>& items) : Data(Held<List>{List(items.begin(), items.end())}) {}
  /// Members where every item is a pair that begins with a text, else a list.
  Data(std::initializer_list<Data> items);
  // NOLINTEND(google-explicit-constructor)

  static Data list();

  const Value& value() const { return value_; }

  /// The member of that name, added if there is none. Only for members or nothing.
  Data& operator[](std::string_view name);
  /// The member of that name, which is there.
  const Data& at(std::string_view name) const;
  /// An item of a list.
  const Data& at(std::size_t item) const;

  /// Adds an item to a list.
  void push_back(Data item);
  /// Keeps the first items of a list.
  void keep(std::size_t items);
  /// Takes a member away, if there is one.
  void erase(std::string_view name);
  /// Takes over the members of another value, if it has any, in the place of those of their names.
  void update(const Data& other);
  /// Items of a list, or members.
  std::size_t size() const;

  bool operator==(const Data& other) const;

 private:
  // A value of just this type. Its constructors are written where a member is known whole.
  template <class T>
  struct Held {
    T value;
  };
  explicit Data(Held<bool> held);
  explicit Data(Held<std::int64_t> held);
  explicit Data(Held<std::uint64_t> held);
  explicit Data(Held<List> held);

  Value value_;
};

struct Data::Member {
  std::string name;
  Data value;

  bool operator==(const Member&) const = default;
};

// Where a member is known whole: a value may hold members, and a member a value.
inline Data::Data(std::nullptr_t) {}
inline Data::Data(const Data& other) = default;
inline Data::Data(Data&& other) noexcept = default;
inline Data& Data::operator=(const Data& other) = default;
inline Data& Data::operator=(Data&& other) noexcept = default;
inline Data::~Data() = default;
inline Data::Data(double value) : value_(value) {}
inline Data::Data(const char* text) : value_(std::string(text)) {}
inline Data::Data(std::string_view text) : value_(std::string(text)) {}
inline Data::Data(std::string text) : value_(std::move(text)) {}
inline Data::Data(Held<bool> held) : value_(held.value) {}
inline Data::Data(Held<std::int64_t> held) : value_(held.value) {}
inline Data::Data(Held<std::uint64_t> held) : value_(held.value) {}
inline Data::Data(Held<List> held) : value_(std::move(held.value)) {}
inline Data Data::list() {
  return Data(Held<List>{});
}
inline const Data& Data::at(std::size_t item) const {
  return std::get<List>(value_).at(item);
}
inline void Data::push_back(Data item) {
  std::get<List>(value_).push_back(std::move(item));
}
inline void Data::keep(std::size_t items) {
  std::get<List>(value_).resize(items);
}

template <class T>
Data or_null(const std::optional<T>& value) {
  return value ? Data(*value) : Data();
}

/// The text, or nothing for an empty one.
inline Data or_null(const std::string& text) {
  return text.empty() ? Data() : Data(text);
}

}  // namespace dullspell

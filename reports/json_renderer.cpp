#include "reports/json_renderer.hpp"

#include <ostream>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace dullspell {
namespace {

using Json = nlohmann::ordered_json;

struct ToJson {
  Json operator()(const Data::List& list) const {
    Json out = Json::array();
    for (const Data& item : list) out.push_back(std::visit(*this, item.value()));
    return out;
  }

  Json operator()(const Data::Members& members) const {
    Json out = Json::object();
    for (const auto& [name, data] : members) out[name] = std::visit(*this, data.value());
    return out;
  }

  Json operator()(const auto& value) const { return value; }
};

Json json_of(const Data& data) {
  return std::visit(ToJson{}, data.value());
}

// For what is read, not computed with.
void to_six_digits(Json& value) {
  if (value.is_number_float()) value = Json::parse(fmt::format("{:.6g}", value.get<double>()));
  if (!value.is_structured()) return;
  for (auto& inner : value) to_six_digits(inner);
}

std::string dump(const Json& json, int indent) {
  return json.dump(indent, ' ', false, Json::error_handler_t::replace);
}

Data steps_data(const std::vector<Step>& steps) {
  Data out = Data::list();
  for (const Step& step : steps) {
    Data items = Data::list();
    for (const Prose& item : step.items) items.push_back(item.plain());
    out.push_back({{"text", step.text.plain()}, {"items", items}});
  }
  return out;
}

Data whole(const Document& document, const Data& results) {
  Data out = document.head;
  if (!document.verdict.empty()) out["verdict"] = document.verdict;
  out.update(results);
  out["steps"] = steps_data(document.steps);
  out["notes"] = document.notes;
  out["cautions"] = document.cautions;
  return out;
}

}  // namespace

void write_json(std::ostream& out, const Document& document) {
  write_json(out, whole(document, document.results));
}

void write_json(std::ostream& out, const Data& data) {
  out << dump(json_of(data), 2) << '\n';
}

std::string script_json(const Document& document) {
  Data results = document.results;
  results.update(document.chart_data);
  for (const auto& name : document.not_charted) results.erase(name);
  return script_json(whole(document, results));
}

std::string script_json(const Data& data) {
  Json json = json_of(data);
  to_six_digits(json);
  std::string out;
  // Outside strings JSON has none of these characters.
  for (const char c : dump(json, -1)) {
    if (c == '<' || c == '>' || c == '&') {
      out += fmt::format("\\u{:04x}", static_cast<int>(c));
    } else {
      out += c;
    }
  }
  return out;
}

std::string valid_utf8(std::string_view text) {
  return Json::parse(dump(Json(text), -1)).get<std::string>();
}

}  // namespace dullspell

#include "service/given_answer.hpp"

#include <optional>

namespace coldwright::service {
namespace {

using nlohmann::json;

const json* member(const json& of, const char* key) {
  const auto found = of.find(key);  // of what isn't an object: none
  return found == of.end() ? nullptr : &*found;
}

std::string text(const json& of, const char* key) {
  const json* found = member(of, key);
  const std::string* value = found == nullptr ? nullptr : found->get_ptr<const std::string*>();
  return value == nullptr ? "" : *value;
}

std::optional<double> si(const json& of, const char* key) {
  const json* quantity = member(of, key);
  const json* value = quantity == nullptr ? nullptr : member(*quantity, "si");
  if (value == nullptr || !value->is_number()) return std::nullopt;
  return value->get<double>();
}

std::optional<diagnosis::Interval> interval(const json& of, const char* key) {
  const json* found = member(of, key);
  if (found == nullptr) return std::nullopt;
  const auto low = si(*found, "low"), mid = si(*found, "mid"), high = si(*found, "high");
  if (!low || !mid || !high) return std::nullopt;
  return diagnosis::Interval{*low, *mid, *high};
}

const json& list(const json& of, const char* key) {
  static const json none = json::array();
  const json* found = member(of, key);
  return found != nullptr && found->is_array() ? *found : none;
}

}  // namespace

Result<diagnosis::Answer> given_answer(const Request& request) {
  const json* given = request.find("diagnosis");
  if (given == nullptr || list(*given, "unseen").empty())
    return Problem{"diagnosis", given == nullptr ? "nothing" : "something else",
                   "the answer that \"diagnose\" gave for this call",
                   "the chart draws what was inferred there"};
  diagnosis::Answer answer{};
  for (const json& row : list(*given, "unseen"))
    if (const auto here = interval(row, "interval"))
      answer.unseen.push_back({text(row, "quantity"), diagnosis::Unit::count, *here, interval(row, "sound")});
  for (const json& row : list(*given, "evidence"))
    answer.contributions.push_back(
        {text(row, "id"), text(row, "subject"), 0, 0, interval(row, "expected_if_sound")});
  if (const json* about = member(*given, "about"))
    for (const json& reference : list(*about, "references"))
      if (std::string key = text(reference, "key"); !key.empty()) answer.sources.push_back(std::move(key));
  return answer;
}

}  // namespace coldwright::service

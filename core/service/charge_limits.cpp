#include "service/charge_limits.hpp"

#include <algorithm>

#include "service/embedded.hpp"
#include "service/json_reader.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

std::vector<std::string> texts(const JsonReader& in, const char* key) {
  std::vector<std::string> out;
  if (!in.has(key)) return out;
  for (const JsonReader& item : in.at(key).items()) out.push_back(item.text());
  return out;
}

ChargeLimit read_charge_limit(const JsonReader& in) {
  ChargeLimit limit;
  limit.key = in.text("key");
  limit.standard = in.text("standard");
  limit.edition = in.text("edition");
  limit.classes = texts(in, "classes");
  limit.refrigerants = texts(in, "refrigerants");
  const std::string rule = in.text("rule");
  limit.rule = rule == "lfl"            ? LimitRule::lfl
               : rule == "room_lfl"     ? LimitRule::room_lfl
               : rule == "room_density" ? LimitRule::room_density
                                        : LimitRule::grams;
  limit.value = in.number("value") * (limit.rule == LimitRule::grams ? 1e-3 : 1);
  if (in.has("cap_g")) limit.cap = in.number("cap_g") * 1e-3;
  limit.basis = in.text("basis");
  limit.source = in.text("source");
  limit.brief = in.at("brief").yes();
  return limit;
}

bool has(const std::vector<std::string>& list, std::string_view word) {
  return std::find(list.begin(), list.end(), word) != list.end();
}

}  // namespace

Result<std::vector<ChargeLimit>> parse_charge_limits(std::string_view json_text) {
  const json document = json::parse(json_text, nullptr, false);
  std::optional<Problem> problem;
  std::vector<ChargeLimit> limits;
  const JsonReader reader(&document, "charge_limits", &problem);
  for (const JsonReader& row : reader.at("limits").items()) limits.push_back(read_charge_limit(row));
  if (problem) return *problem;
  return limits;
}

Result<std::vector<ChargeLimit>> load_charge_limits() {
  return parse_charge_limits(embedded("charge_limits.json").value_or(""));
}

bool concerns(const ChargeLimit& limit, std::string_view designation, std::string_view safety_class) {
  return has(limit.refrigerants, designation) || has(limit.classes, safety_class);
}

std::optional<double> allowed_charge(const ChargeLimit& limit, double lower_limit,
                                     std::optional<double> volume) {
  double allowed = limit.value;
  if (limit.rule == LimitRule::lfl) allowed *= lower_limit;
  if (limit.rule == LimitRule::room_lfl || limit.rule == LimitRule::room_density) {
    if (!volume) return std::nullopt;
    allowed *= *volume * (limit.rule == LimitRule::room_lfl ? lower_limit : 1);
  }
  return limit.cap ? std::min(allowed, *limit.cap) : allowed;
}

}  // namespace coldwright::service

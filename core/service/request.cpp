#include "service/request.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "calls/strict_json.hpp"

namespace coldwright::service {

Result<Request> Request::read(std::string_view json_text, std::vector<std::string> keys) {
  auto parsed = calls::parse_strict(json_text, "request", {kLargestRequest, 34});
  if (!parsed) return parsed.problem();
  if (!parsed->is_object())
    return Problem{"request", base::quoted(calls::dump(*parsed), 40), "a JSON object",
                   "a request names its fields"};
  for (const auto& [key, value] : parsed->items()) {
    if (std::find(keys.begin(), keys.end(), key) != keys.end()) continue;
    const auto near = base::nearest(key, keys);
    return Problem{
        "request", "the key " + base::quoted(key), base::listed(keys),
        near ? "did you mean \"" + *near + "\"?" : "no such key is known, and none is skipped in silence"};
  }
  Request request;
  request.json_ = std::move(*parsed);
  return request;
}

const nlohmann::json* Request::find(std::string_view key) const {
  const auto found = json_.find(std::string(key));
  return found == json_.end() ? nullptr : &*found;
}

std::optional<std::string> Request::text(std::string_view key) {
  const nlohmann::json* value = find(key);
  if (value == nullptr) return std::nullopt;
  const std::string* text = value->get_ptr<const std::string*>();
  if (text == nullptr) {
    fail({std::string(key), base::quoted(calls::dump(*value), 40), "a text in quotes",
          "a quantity carries its unit"});
    return std::nullopt;
  }
  return *text;
}

std::string Request::required_text(std::string_view key, std::string_view allowed) {
  const auto value = text(key);
  if (!value || value->empty())
    fail({std::string(key), "nothing", std::string(allowed), "there is no answer without it"});
  return value.value_or("");
}

std::optional<std::uint64_t> Request::whole(std::string_view key, std::uint64_t low, std::uint64_t high) {
  const nlohmann::json* value = find(key);
  if (value == nullptr) return std::nullopt;
  const auto number = value->is_number_unsigned() ? value->get<std::uint64_t>() : high + 1;
  if (!value->is_number_unsigned() || number < low || number > high) {
    fail({std::string(key), base::quoted(calls::dump(*value), 40),
          "a whole number from " + std::to_string(low) + " to " + std::to_string(high),
          "nothing else is meaningful here"});
    return std::nullopt;
  }
  return number;
}

std::optional<base::UnitSystem> Request::units() {
  const auto word = text("units");
  if (!word) return std::nullopt;
  if (*word == "us") return base::UnitSystem::us;
  if (*word == "metric") return base::UnitSystem::metric;
  fail({"units", base::quoted(*word), "us or metric", "these are the two ways answers are written"});
  return std::nullopt;
}

base::SitePressure Request::site() {
  const auto altitude = text("altitude"), barometer = text("barometer");
  if (altitude && barometer) {
    fail({"altitude", base::quoted(*altitude) + " beside a barometer of " + base::quoted(*barometer),
          "altitude or barometer, not both", "each of them alone says how hard the air presses"});
    return base::sea_level;
  }
  const auto take = [&](const Result<base::SitePressure>& site) {
    if (site) return *site;
    fail(site.problem());
    return base::sea_level;
  };
  if (barometer) return take(base::parse_barometer(*barometer, "barometer"));
  if (!altitude) return base::sea_level;
  const auto length = base::parse_spoken(*altitude, "altitude", base::Dimension::length);
  if (length) return take(base::site_pressure_at(base::Length{length->si}));
  fail(length.problem());
  return base::sea_level;
}

}  // namespace coldwright::service

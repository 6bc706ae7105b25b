#include "service/procedure_inputs.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "base/text.hpp"
#include "calls/strict_json.hpp"

namespace coldwright::service {
namespace {

constexpr double kMile = 1609.344, kInch = 0.0254;

}  // namespace

std::optional<std::string> choice(Request& request, std::string_view key,
                                  const std::vector<std::string>& words) {
  const auto text = request.text(key);
  if (!text) return std::nullopt;
  for (const std::string& word : words)
    if (*text == word) return word;
  request.fail(
      {std::string(key), base::quoted(*text), base::listed(words), "nothing else is meaningful here"});
  return std::nullopt;
}

std::optional<bool> yes_or_no(Request& request, std::string_view key) {
  const auto word = choice(request, key, {"yes", "no"});
  if (!word) return std::nullopt;
  return *word == "yes";
}

std::optional<double> in_units(Request& request, std::string_view key, const std::vector<NamedScale>& units,
                               double low, double high, std::string_view allowed) {
  const auto typed = request.text(key);
  if (!typed) return std::nullopt;
  const auto wrong = [&](const char* why) {
    request.fail({std::string(key), base::quoted(*typed), std::string(allowed), why});
    return std::nullopt;
  };
  if (typed->size() > base::longest_spoken || base::first_invalid_utf8(*typed))
    return wrong("it can't be read");
  std::string text = base::plain_signs(*typed);
  const auto end_of_number = text.find_first_not_of("0123456789.,-+");
  std::string number = text.substr(0, end_of_number);
  std::string unit = end_of_number == std::string::npos ? "" : text.substr(end_of_number);
  while (!unit.empty() && unit.front() == ' ') unit.erase(0, 1);
  for (char& c : number)
    if (c == ',') c = '.';
  char* end = nullptr;
  const double value = std::strtod(number.c_str(), &end);
  if (number.empty() || end != number.c_str() + number.size() || !std::isfinite(value))
    return wrong("there is no number at its start");
  for (const NamedScale& row : units) {
    if (unit != row.name) continue;
    const double si = value * row.scale;
    if (si >= low && si <= high) return si;
    return wrong("nothing else is meaningful here");
  }
  return wrong("its unit isn't one of these");
}

std::optional<double> speed(Request& request, std::string_view key, double high) {
  return in_units(request, key,
                  {{"m/s", 1}, {"mph", kMile / 3600}, {"km/h", 1 / 3.6}, {"mm/s", 1e-3}, {"in/s", kInch}},
                  1e-4, high, "a speed such as 2 m/s, 5 mph or 7 km/h");
}

std::string speed_text(double speed, const base::Display& display) {
  const bool us = display.system == base::UnitSystem::us;
  return base::number_text(us ? speed * 3600 / kMile : speed, 1, display.numerals) +
         std::string(display.numerals.gap) + (us ? "mph" : "m/s");
}

std::string probe_text(double speed, const base::Display& display) {
  const bool us = display.system == base::UnitSystem::us;
  return base::number_text(us ? speed / kInch : 1e3 * speed, us ? 1 : 0, display.numerals) +
         std::string(display.numerals.gap) + (us ? "in/s" : "mm/s");
}

FigureInput input(std::string_view key, base::Dimension dimension, double si, const base::Display& display,
                  int extra) {
  return {std::string(key), base::show(dimension, si, display, extra).text()};
}

std::optional<Result<CallCase>> call_case_of(const Request& request, const Context& context) {
  const nlohmann::json* call = request.find("call");
  if (call == nullptr) return std::nullopt;
  nlohmann::json asked = {{"call", *call}};
  for (const char* key : {"population", "seed", "units"})
    if (const nlohmann::json* value = request.find(key)) asked[key] = *value;
  return read_call_case(calls::dump(asked), context);
}

void cite_each(ProcedureAnswer& answer, std::string_view source) {
  // keys are lower-case words; what names a place inside the work ("Table 2") isn't one
  constexpr std::string_view letters = "abcdefghijklmnopqrstuvwxyz0123456789-";
  while (!source.empty()) {
    const auto end = std::min(source.find_first_of(",;"), source.size());
    std::string_view key = source.substr(0, end);
    while (!key.empty() && key.front() == ' ') key.remove_prefix(1);
    if (!key.empty() && key.find_first_not_of(letters) == std::string_view::npos) answer.cite(key);
    source.remove_prefix(std::min(end + 1, source.size()));
  }
}

std::uint64_t seed_of(Request& request) {
  return request.whole("seed", 0, (std::uint64_t{1} << 53) - 1).value_or(1);
}

}  // namespace coldwright::service

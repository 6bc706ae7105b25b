// Use case "quantity": what a person typed or spoke, read as a given kind, and the same in every unit of it.
#include <array>
#include <limits>
#include <nlohmann/json.hpp>

#include "base/heard.hpp"
#include "base/text.hpp"
#include "calls/strict_json.hpp"
#include "service/property_answer.hpp"
#include "service/shown_json.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using nlohmann::json;

constexpr std::array<std::pair<std::string_view, Dimension>, 16> kKinds = {{
    {"temperature", Dimension::temperature},
    {"temperature_difference", Dimension::temperature_difference},
    {"pressure", Dimension::pressure},
    {"pressure_difference", Dimension::pressure_difference},
    {"mass", Dimension::mass},
    {"length", Dimension::length},
    {"area", Dimension::area},
    {"volume", Dimension::volume},
    {"volume_flow", Dimension::volume_flow},
    {"mass_flow", Dimension::mass_flow},
    {"current", Dimension::current},
    {"voltage", Dimension::voltage},
    {"resistance", Dimension::resistance},
    {"power", Dimension::power},
    {"time", Dimension::duration},
    {"frequency", Dimension::frequency},
}};

Result<Dimension> kind_of(const std::string& name) {
  std::vector<std::string> names;
  for (const auto& [word, dimension] : kKinds) {
    if (word == name) return dimension;
    names.emplace_back(word);
  }
  return Problem{"kind", base::quoted(name), base::listed(names), "a text is read as one kind of quantity"};
}

/// A meter that shows "OL" found no end to the resistance.
bool shows_open(const std::string& text, Dimension kind) {
  const std::string low = base::lower(base::plain_signs(text));
  return kind == Dimension::resistance && (low == "ol" || low == "o.l" || low == "o.l." || low == "0l");
}

/// The number and unit that were meant; a pressure's SI is absolute.
json meant(const base::Heard& heard, double si, const base::Numerals& numerals) {
  const std::size_t gap = heard.text.find(' ');
  std::string number = heard.text.substr(0, gap);
  const std::string unit = gap == std::string::npos ? "" : heard.text.substr(gap + 1);
  if (const std::size_t point = number.find('.'); point != std::string::npos)
    number.replace(point, 1, numerals.decimal);
  return {{"si", si},
          {"value", heard.spoken.number},
          {"unit", unit},
          {"text", number.append(numerals.gap).append(unit)}};
}

Result<double> absolute(const base::Heard& heard, base::SitePressure site, const std::string& given) {
  if (heard.spoken.dimension != Dimension::pressure || heard.spoken.against != base::Against::gauge)
    return heard.spoken.si;
  const auto resolved =
      base::resolve(base::SpokenPressure(base::GaugePressure{heard.spoken.si}), site, "text", given);
  if (!resolved) return resolved.problem();
  return resolved->si;
}

}  // namespace

Result<std::string> run_quantity(std::string_view text, const Context& context) {
  auto request = Request::read(text, {"kind", "text", "default_unit", "altitude", "barometer", "units"});
  if (!request) return request.problem();
  std::vector<std::string> names;
  for (const auto& [word, dimension] : kKinds) names.emplace_back(word);
  const std::string kind_name = request->required_text("kind", base::listed(names));
  const std::string typed = request->required_text("text", "a number, with or without its unit");
  const auto chosen = request->text("default_unit");
  const base::SitePressure site = request->site();
  const auto units = request->units();
  if (request->problem()) return *request->problem();
  const auto kind = kind_of(kind_name);
  if (!kind) return kind.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();

  const base::Display display{choose_units(units, std::nullopt, context), site, wording->numerals()};
  const std::string unit = chosen.value_or(std::string(base::default_unit(*kind, display.system)));
  if (const auto known = base::parse_spoken("1 " + unit, "default_unit", *kind); !known) {
    // Inches of mercury alone don't say vacuum or absolute, which matters only for the number.
    if (*kind != Dimension::pressure || base::lower(unit) != "inhg") return known.problem();
  }

  json answer = {
      {"about", about(std::nullopt, {"thompson2008", "iso2533"})},
      {"kind", kind_name},
      {"given", typed},
      {"default_unit", unit},
      {"unit_assumed", false},
      {"against_assumed", false},
      {"open", false},
      {"same", json::array()},
      {"site_pressure", quantity(base::show_absolute(base::Pressure{site.si}, display, 1), site.si)}};
  std::vector<diagnosis::Statement> remarks;
  if (shows_open(typed, *kind)) {
    answer["open"] = true;
    answer["text"] = "OL";
    answer["value"] = {{"si", nullptr}, {"value", nullptr}, {"unit", "ohm"}, {"text", "OL"}};
    remarks.push_back({"open", {}, {}});
  } else {
    const auto heard = base::hear(typed, "text", *kind, unit, chosen.has_value());
    if (!heard) return heard.problem();
    const auto si = absolute(*heard, site, base::quoted(typed));
    if (!si) return si.problem();
    answer["text"] = heard->text;
    answer["value"] = meant(*heard, *si, display.numerals);
    answer["unit_assumed"] = heard->unit_assumed;
    answer["against_assumed"] = heard->against_assumed;
    for (const base::Shown& shown : base::in_every_unit(*kind, *si, display))
      answer["same"].push_back(quantity(shown, *si));
    if (heard->unit_assumed) remarks.push_back({"unit_assumed", {}, {{"text", heard->text}}});
    if (heard->against_assumed) remarks.push_back({"against_assumed", {}, {{"text", heard->text}}});
  }
  answer["remarks"] = statements("quantity", remarks, *wording, display);
  return calls::dump(answer);
}

}  // namespace coldwright::service

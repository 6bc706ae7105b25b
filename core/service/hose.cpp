// Use case "hose": what connecting costs: the refrigerant that service hoses hold as vapour or as liquid.
#include "procedures/hose.hpp"

#include <nlohmann/json.hpp>

#include "calls/strict_json.hpp"
#include "service/property_answer.hpp"
#include "service/shown_json.hpp"
#include "service/tool_parts.hpp"
#include "service/use_case_runs.hpp"
#include "service/usual_tools.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using nlohmann::json;

struct HoseQuestion {
  double bore, length, T;
  std::optional<double> p, charge;
  std::uint64_t hoses;
};

Result<HoseQuestion> ask_hose(Request& request, base::SitePressure site,
                              std::optional<base::UnitSystem>& spoken_in) {
  HoseQuestion q{};
  q.p = pressure(request, "pressure", site, spoken_in);
  q.T = temperature(request, "t", spoken_in).value_or(293.15);
  q.length = positive(request, "length", Dimension::length, spoken_in).value_or(kUsualLength);
  q.bore = positive(request, "bore", Dimension::length, spoken_in).value_or(kUsualBore);
  q.charge = positive(request, "charge", Dimension::mass, spoken_in);
  q.hoses = request.whole("hoses", 1, 9).value_or(1);
  if (q.length > kLongestHose)
    request.fail({"length", *request.text("length"), "up to 60 m (200 ft)", "no service hose is longer"});
  if (q.bore > kWidestHose)
    request.fail({"bore", *request.text("bore"), "up to 50 mm (2 in)", "no service hose is wider"});
  if (request.problem()) return *request.problem();
  return q;
}

}  // namespace

Result<std::string> run_hose(std::string_view text, const Context& context) {
  auto request = Request::read(text, {"refrigerant", "pressure", "t", "length", "bore", "hoses", "charge",
                                      "altitude", "barometer", "units"});
  if (!request) return request.problem();
  const auto fluid = requested_fluid(*request);
  const base::SitePressure site = request->site();
  const auto units = request->units();
  std::optional<base::UnitSystem> spoken_in;
  if (request->problem()) return *request->problem();
  const auto question = ask_hose(*request, site, spoken_in);
  if (!question) return question.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const HoseQuestion& q = *question;
  double p = q.p.value_or(0);
  if (!q.p) {
    const auto saturated = fluid->dew_pressure(q.T);
    if (!saturated) return saturated.problem();
    p = *saturated;
  }
  const double volume = static_cast<double>(q.hoses) * procedures::hose_volume(q.bore, q.length);
  const auto contents = procedures::hose_contents(*fluid, volume, p, q.T);
  if (!contents) return contents.problem();

  const base::Display display{choose_units(units, spoken_in, context), site, wording->numerals()};
  const auto held = [&](double mass) {
    return json{
        {"mass", quantity(Dimension::mass, mass, display, 1)},
        {"of_charge", q.charge ? quantity(Dimension::quality, mass / *q.charge, display, 1) : json()}};
  };
  json answer = property_heading(*fluid, display, {"common-practice"}, *wording);
  answer["pressure"] = quantity(Dimension::pressure, p, display);
  answer["temperature"] = quantity(Dimension::temperature, q.T, display);
  answer["hoses"] = q.hoses;
  answer["length"] = quantity(Dimension::length, q.length, display, 1);
  answer["bore"] = quantity(Dimension::length, q.bore, {base::UnitSystem::metric, site, display.numerals}, 1);
  answer["volume"] = quantity(Dimension::volume, volume, display);
  answer["vapour"] = held(contents->vapour);
  answer["liquid"] = held(contents->liquid);
  answer["statements"] = json::array();
  const auto say = [&](const char* key, std::vector<std::pair<std::string, std::string>> words) {
    answer["statements"].push_back(statement("hose", {key, {}, std::move(words)}, *wording, display));
  };
  const auto mass = [&](const char* name, double kg) { return word(name, Dimension::mass, kg, display, 1); };
  say("holds", {mass("vapour", contents->vapour), mass("liquid", contents->liquid)});
  if (q.charge)
    say("of_charge", {word("vapour", Dimension::quality, contents->vapour / *q.charge, display, 1),
                      word("liquid", Dimension::quality, contents->liquid / *q.charge, display, 1),
                      mass("charge", *q.charge)});
  say("which", {});
  return calls::dump(answer);
}

}  // namespace coldwright::service

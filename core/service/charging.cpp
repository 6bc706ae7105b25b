// Use case "charging": how much to draw from the cylinder, what then is in the machine, what it should read
// meanwhile, and the charge that its readings speak for.
#include <cmath>

#include "base/text.hpp"
#include "calls/strict_json.hpp"
#include "procedures/hose.hpp"
#include "service/call_case.hpp"
#include "service/cautions.hpp"
#include "service/charging_parts.hpp"
#include "service/finely.hpp"
#include "service/from_call.hpp"
#include "service/property_answer.hpp"
#include "service/tool_parts.hpp"
#include "service/use_case_runs.hpp"
#include "service/usual_tools.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using diagnosis::Interval;
using nlohmann::json;

const std::vector<std::string> kChargingKeys{
    "refrigerant",   "charge",    "stays",     "before",        "after",     "resolution",
    "bore",          "length",    "hoses",     "hose_state",    "t",         "box",
    "hose_pressure", "cabinet",   "altitude",  "barometer",     "set_point", "rated_current",
    "readings",      "frequency", "condenser", "rated_voltage", "units",     "seed",
    "population",    "call"};

constexpr double kScaleStep = 1e-3;
constexpr std::uint64_t kChargingPopulation = 200;

/// The machine out of the call, or out of the plate's keys where there is none; nothing when not even the
/// kind of cabinet is said.
Result<bool> meet_machine(Request& request, ChargingQuestion& q, const Context& context) {
  json call;
  if (const json* given = request.find("call")) {
    call = *given;
  } else if (request.has("cabinet")) {
    json plate = {{"kind", "nameplate"}, {"id", "plate"}}, place = {{"kind", "site"}, {"id", "site"}};
    for (const char* key : {"cabinet", "refrigerant", "charge", "rated_current", "rated_voltage", "set_point",
                            "frequency", "condenser"})
      if (const json* value = request.find(key)) plate[key] = *value;
    for (const auto& [key, to] :
         {std::pair{"t", "ambient"}, {"box", "box"}, {"altitude", "altitude"}, {"barometer", "barometer"}})
      if (const json* value = request.find(key)) place[to] = *value;
    call = {{"call", "charging"}, {"entries", json::array({plate})}};
    if (place.size() > 2) call["entries"].push_back(place);
  } else {
    return false;
  }
  json inner = {{"call", call},
                {"population", count_of(request, "population", 10, 2000).value_or(kChargingPopulation)},
                {"seed", count_of(request, "seed", 0, (std::uint64_t{1} << 53) - 1).value_or(1)}};
  auto met = read_call_case(calls::dump(inner), context);
  if (!met) return met.problem();
  q.the_case = std::move(met->folded.the_case);
  q.knowledge = std::move(met->knowledge);
  q.options = std::move(met->options);
  return true;
}

// The machine as the last reading of this charging found it. Where charging has none, the call's own stand,
// but not once something was weighed in since.
void take_readings(ChargingQuestion& q) {
  if (!q.the_case) return;
  diagnosis::Case& c = *q.the_case;
  if (q.readings.empty()) {
    if (q.before) c.readings.clear();
    q.call_readings = !c.readings.empty();
    return;
  }
  c.readings.clear();
  const TestReading& last = q.readings.back();
  const auto add = [&](circuit::ReadingKind kind, const std::optional<double>& value) {
    if (value)
      c.readings.push_back({kind, *value, std::nullopt, std::nullopt, std::string(circuit::info(kind).id)});
  };
  add(circuit::ReadingKind::suction_pressure, last.pressure);
  add(circuit::ReadingKind::evaporator_outlet_temp, last.temperature);
  add(circuit::ReadingKind::compressor_current, last.current);
  if (last.box) c.box = *last.box;
}

Result<double> in_hose(Request& request, ChargingQuestion& q, const fluids::Fluid& fluid,
                       base::SitePressure site, std::optional<base::UnitSystem>& spoken_in) {
  const auto p = pressure(request, "hose_pressure", site, spoken_in);
  const double bore = q.taken.value(positive(request, "bore", Dimension::length, spoken_in), "hose_bore",
                                    Dimension::length, kUsualBore, 1);
  const double length = q.taken.value(positive(request, "length", Dimension::length, spoken_in),
                                      "hose_length", Dimension::length, kUsualLength, 1);
  const double hoses = static_cast<double>(count_of(request, "hoses", 1, 9).value_or(1));
  const std::string state = request.text("hose_state").value_or("vapour");
  if (request.problem()) return *request.problem();
  if (bore > 0.05 || length > 60)
    return Problem{"hose", bore > 0.05 ? *request.text("bore") : *request.text("length"),
                   "up to 50 mm (2 in) of bore and 60 m (200 ft)", "no service hose is larger"};
  if (state != "vapour" && state != "liquid" && state != "empty")
    return Problem{"hose_state", base::quoted(state), "vapour, liquid or empty", "that is what a hose holds"};
  if (!request.has("hose_state")) q.taken.word("hose_state", "hose_vapour");
  q.hose_liquid = state == "liquid";
  if (state == "empty") return 0.0;
  const auto saturated = fluid.dew_pressure(q.t);
  if (!p && !saturated) return saturated.problem();
  const auto held = procedures::hose_contents(fluid, hoses * procedures::hose_volume(bore, length),
                                              p ? *p : *saturated, q.t);
  if (!held) return held.problem();
  return q.hose_liquid ? held->liquid : held->vapour;
}

Result<ChargingQuestion> ask(Request& request, base::SitePressure site, const fluids::Fluid& fluid,
                             std::optional<base::UnitSystem>& spoken_in, const Context& context) {
  ChargingQuestion q;
  q.plate = positive(request, "charge", Dimension::mass, spoken_in);
  q.stays = positive(request, "stays", Dimension::mass, spoken_in).value_or(0);
  q.before = positive(request, "before", Dimension::mass, spoken_in);
  q.after = positive(request, "after", Dimension::mass, spoken_in);
  q.resolution = q.taken.value(positive(request, "resolution", Dimension::mass, spoken_in), "scale_step",
                               Dimension::mass, kScaleStep, 1);
  q.t =
      q.taken.value(temperature(request, "t", spoken_in), "wall_temperature", Dimension::temperature, 293.15);
  q.box = temperature(request, "box", spoken_in);
  q.readings = test_readings(
      request, site, q.plate ? std::vector<std::string>{} : std::vector<std::string>{"mass"}, spoken_in);
  if (request.problem()) return *request.problem();
  if (q.before.has_value() != q.after.has_value())
    return Problem{q.before ? "after" : "before", "nothing", "the scale before and after",
                   "what went in is the difference of the two"};
  const auto hose = in_hose(request, q, fluid, site, spoken_in);
  if (!hose) return hose.problem();
  q.hose = *hose;
  const auto met = meet_machine(request, q, context);
  if (!met) return met.problem();
  if (q.the_case) {
    if (q.box) q.the_case->box = *q.box;
    if (q.plate) q.the_case->nameplate.charge = q.plate;
    if (request.has("t")) q.the_case->ambient = q.t;
  }
  if (!q.plate && !q.the_case)
    return Problem{"charge", "nothing",
                   "the plate's charge such as 150 g, or the kind of cabinet where the plate is gone",
                   "there is no target without one of them"};
  for (std::size_t i = 1; i < q.readings.size(); ++i)
    if (q.readings[i].mass && q.readings[i - 1].mass && *q.readings[i].mass < *q.readings[i - 1].mass)
      return Problem{
          "reading " + std::to_string(i + 1) + ", mass",
          base::show(Dimension::mass, *q.readings[i].mass, {base::UnitSystem::metric, site}, 1).text(),
          "not less than the reading before",
          "it is what is in the machine by the scale, all doses together: which of the two is the slip?"};
  take_readings(q);
  return q;
}

/// By the scale. The interval in the machine where both weights are known.
class ByScale : public ChargingWords {
 public:
  ByScale(const ChargingQuestion& q, ProcedureAnswer& answer)
      : ChargingWords(answer), q_(q), task_{q.plate.value_or(0), q.stays, q.hose, q.resolution} {}

  Result<std::optional<Interval>> tell() {
    const auto target = procedures::charge_target(task_);
    if (!target) return target.problem();
    const std::vector<FigureInput> inputs{given("plate_charge", task_.plate),
                                          given("stays_mass", task_.stays), given("hose_mass", task_.hose)};
    answer_.figure(
        "charge_hose", Dimension::mass, task_.hose,
        {{"hose_state", answer_.wording().word("inputs", q_.hose_liquid ? "hose_liquid" : "hose_vapour")},
         {"wall_temperature", text(Dimension::temperature, q_.t)}},
        1);
    answer_.figure("charge_drawn", Dimension::mass, target->drawn, inputs, 1);
    answer_.figure_text("charge_scale_share", target->resolution_share,
                        percent_text(target->resolution_share, answer_.display()),
                        {given("plate_charge", task_.plate), given("scale_step", task_.resolution)});
    const double tolerance = procedures::customary_tolerance(task_.plate);
    answer_.figure("charge_tolerance", Dimension::mass, tolerance, {given("plate_charge", task_.plate)}, 1);
    if (2 * target->sigma > tolerance)
      answer_.say(
          {"scale_too_coarse", {}, {{"step", mass(task_.resolution)}, {"tolerance", mass(tolerance)}}});
    if (!q_.before) {
      answer_.verdict(
          {"draw",
           {},
           {{"drawn", mass(target->drawn)}, {"wanted", mass(target->wanted)}, {"hose", mass(task_.hose)}}});
      return std::optional<Interval>();
    }
    const auto moved = procedures::charge_moved(task_, *q_.before, *q_.after);
    if (!moved) return moved.problem();
    const std::vector<FigureInput> weights{given("scale_before", *q_.before), given("scale_after", *q_.after),
                                           given("hose_mass", task_.hose), given("stays_mass", task_.stays),
                                           given("scale_step", task_.resolution)};
    answer_.figure("charge_in_machine", Dimension::mass, moved->in_machine, weights, 1);
    answer_.figure_text("charge_within", moved->within, chance_text(moved->within, answer_.display()),
                        weights);
    const char* keys[] = {"within", "below", "above", "open"};
    answer_.verdict({keys[static_cast<int>(moved->verdict)],
                     {},
                     {{"in_machine", range(Dimension::mass, moved->in_machine, 1)},
                      {"plate", mass(task_.plate)},
                      {"tolerance", mass(tolerance)},
                      {"short", mass(std::abs(task_.plate - moved->in_machine.mid))}}});
    return std::optional<Interval>(moved->in_machine);
  }

 private:
  const ChargingQuestion& q_;
  procedures::ChargeTask task_;
};

}  // namespace

Result<std::string> run_charging(std::string_view text, const Context& context) {
  auto request = opened_request(text, "charging", kChargingKeys);
  if (!request) return request.problem();
  const auto fluid = requested_fluid(*request);
  const base::SitePressure site = request->site();
  const auto units = request->units();
  std::optional<base::UnitSystem> spoken_in;
  if (request->problem()) return *request->problem();
  const auto question = ask(*request, site, *fluid, spoken_in, context);
  if (!question) return question.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const base::Display display{choose_units(units, spoken_in, context), site, wording->numerals()};
  ProcedureAnswer answer("charging", *wording, display);
  answer.refrigerant(*fluid);
  if (treat_as_flammable(fluid->designation())) answer.caution({"caution_charge_flammable", {}, {}});
  for (const char* key :
       {"caution_charge_liquid_skin", "caution_charge_liquid_suction", "caution_charge_not_by_eye"})
    answer.caution({key, {}, {}});
  answer.caution({"caution_defer", {}, {}});
  std::optional<Interval> by_scale;
  if (question->plate) {
    const auto told = ByScale(*question, answer).tell();
    if (!told) return told.problem();
    by_scale = *told;
  }
  if (question->the_case)
    if (const auto problem = tell_charge_by_readings(*question, *fluid, by_scale, answer)) return *problem;
  if (!question->the_case) answer.say({"no_cabinet", {}, {}});
  question->taken.tell(answer);
  return answer.text();
}

}  // namespace coldwright::service

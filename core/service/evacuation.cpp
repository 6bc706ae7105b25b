// Use case "evacuation": how a vacuum comes through these hoses, valve cores and the capillary, how long
// water and the oil's gas hold it up, and what breaking it with nitrogen does against one long vacuum.
#include "procedures/evacuation.hpp"

#include <cmath>

#include "base/text.hpp"
#include "circuit/charge.hpp"
#include "procedures/water.hpp"
#include "service/cautions.hpp"
#include "service/finely.hpp"
#include "service/from_call.hpp"
#include "service/property_answer.hpp"
#include "service/taken.hpp"
#include "service/test_readings.hpp"
#include "service/tool_parts.hpp"
#include "service/use_case_runs.hpp"
#include "service/usual_tools.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using procedures::Evacuation;
using procedures::EvacuationCourse;

const std::vector<std::string> kEvacuationKeys{
    "refrigerant", "t",          "pump_speed", "pump_ultimate", "bore",           "length",
    "cores",       "sides",      "volume",     "far_volume",    "capillary_bore", "oil",
    "water",       "water_side", "vacuum",     "vacuums",       "break",          "capillary_length",
    "units",       "altitude",   "barometer",  "readings",      "break_at"};

// Taken where nothing is said. Hose, target and number of vacuums are common practice, the rest our estimate
// for a plug-in cabinet.
constexpr double kSpeed = 1.2e-3, kUltimate = 2.7;
constexpr double kNear = 2.2e-3, kFar = 0.6e-3, kTubeBore = 0.8e-3, kTubeLength = 2.5;
constexpr double kOil = 0.2, kSolubility = 0.2,
                 kTarget = 66.66;  // kg, see dissolved_in_oil(), Pa (500 micron)
constexpr double kBreakAt = 200;   // Pa (1500 micron), where a vacuum that is to be broken is left
constexpr double kSlower = 2;      // measured over predicted from which it is said

struct Plan {
  Evacuation setup;
  procedures::Line hose{};
  bool cores = true, both = false;
  double target = kTarget, start = 101325, broken = 101325, broken_at = kBreakAt, oil = kOil;
  int vacuums = 3;
  std::vector<TestReading> readings;
  Taken taken;
};

// A word out of two; nothing when the key is absent.
std::optional<std::string> one_of(Request& request, const char* key, const char* a, const char* b,
                                  const char* allowed) {
  const auto said = request.text(key);
  if (!said || *said == a || *said == b) return said;
  request.fail({key, base::quoted(*said), allowed, "the reckoning knows these two"});
  return std::nullopt;
}

Evacuation connected(const Plan& plan, bool cores, bool both) {
  Evacuation e = plan.setup;
  std::vector<procedures::Line> way;
  if (cores) way.push_back(procedures::kValveCore);
  way.push_back(plan.hose);
  e.near = way;
  e.far = both ? way : std::vector<procedures::Line>{};
  return e;
}

Result<Plan> ask(Request& request, base::SitePressure site, const fluids::Fluid& fluid,
                 std::optional<base::UnitSystem>& spoken_in) {
  Plan plan;
  Evacuation& e = plan.setup;
  Taken& taken = plan.taken;
  const auto amount = [&](const char* key, Dimension d, const char* label, double usual, int extra = 0) {
    return taken.value(positive(request, key, d, spoken_in), label, d, usual, extra);
  };
  e.T = taken.value(temperature(request, "t", spoken_in), "wall_temperature", Dimension::temperature, 293.15);
  e.pump.speed = amount("pump_speed", Dimension::volume_flow, "pump_speed", kSpeed, 1);
  e.pump.ultimate =
      taken.vacuum(pressure(request, "pump_ultimate", site, spoken_in), "pump_ultimate", kUltimate);
  plan.hose.bore = amount("bore", Dimension::length, "hose_bore", kUsualBore, 2);
  plan.hose.length = amount("length", Dimension::length, "hose_length", kUsualLength, 1);
  e.near_volume = amount("volume", Dimension::volume, "near_volume", kNear, 1);
  e.far_volume = amount("far_volume", Dimension::volume, "far_volume", kFar, 1);
  const double tube_bore = amount("capillary_bore", Dimension::length, "capillary_bore", kTubeBore, 2);
  const double tube_length =
      amount("capillary_length", Dimension::length, "capillary_length", kTubeLength, 1);
  e.capillary = procedures::Line{tube_bore, tube_length};
  plan.oil = amount("oil", Dimension::mass, "oil_mass", kOil);
  e.water = positive(request, "water", Dimension::mass, spoken_in).value_or(0);
  e.water_far =
      one_of(request, "water_side", "near", "far", "near or far: the side where the water is") == "far";
  const auto cores = one_of(request, "cores", "in", "out", "in or out: the valves' cores"),
             sides = one_of(request, "sides", "one", "both", "one or both: the sides connected");
  if (!cores) taken.word("cores", "cores_in");
  if (!sides) taken.word("sides", "sides_one");
  plan.cores = cores != "out";
  plan.both = sides == "both";
  plan.target = taken.vacuum(pressure(request, "vacuum", site, spoken_in), "target_vacuum", kTarget);
  plan.vacuums = static_cast<int>(count_of(request, "vacuums", 2, 6).value_or(3));
  plan.start = site.si;
  plan.broken_at = taken.vacuum(pressure(request, "break_at", site, spoken_in), "break_at",
                                std::max(kBreakAt, plan.target));
  plan.broken = taken.value(pressure(request, "break", site, spoken_in), "break_pressure",
                            Dimension::pressure, site.si);
  plan.readings = test_readings(request, site, {"pressure"}, spoken_in);
  if (request.problem()) return *request.problem();
  if (plan.hose.bore > 0.05 || plan.hose.length > 60)
    return Problem{"hose", plan.hose.bore > 0.05 ? *request.text("bore") : *request.text("length"),
                   "up to 50 mm (2 in) of bore and 60 m (200 ft)", "no service hose is larger"};
  if (!(plan.target < 0.1 * site.si))
    return Problem{"vacuum", base::quoted(*request.text("vacuum")),
                   "below a tenth of the air's pressure, such as 500 micron",
                   "more is no vacuum to leave a circuit at"};
  const auto saturated = fluid.dew_pressure(e.T);
  if (!saturated) return saturated.problem();
  e.oil_gas = plan.oil * circuit::dissolved_in_oil(site.si / *saturated, kSolubility);
  e.oil_gas_constant = 8.314462618 / fluid.limits().M;
  e = connected(plan, plan.cores, plan.both);
  return plan;
}

/// Writes the answer part by part; each part reckons what it says.
class EvacuationTold {
 public:
  EvacuationTold(const Plan& plan, ProcedureAnswer& answer) : plan_(plan), e_(plan.setup), answer_(answer) {}

  std::optional<Problem> all() {
    const auto course = procedures::evacuate(e_, plan_.start, plan_.target);
    if (!course) return course.problem();
    verdict(*course);
    if (const auto problem = ways()) return problem;
    lines();
    if (const auto problem = water(*course)) return problem;
    gas(*course);
    if (const auto problem = broken()) return problem;
    plot(*course);
    answer_.say({"left_out", {}, {}});
    plan_.taken.tell(answer_);
    return std::nullopt;
  }

 private:
  std::string vacuum(double p) const { return vacuum_text(p, answer_.display()); }
  std::string text(Dimension d, double si, int extra = 0) const {
    return base::show(d, si, answer_.display(), extra).text();
  }
  std::string time(double seconds) const { return text(Dimension::duration, seconds); }
  FigureInput given(const char* key, Dimension d, double si, int extra = 0) const {
    return {key, text(d, si, extra)};
  }
  std::vector<FigureInput> way() const {
    return {given("pump_speed", Dimension::volume_flow, e_.pump.speed, 1),
            {"pump_ultimate", vacuum(e_.pump.ultimate)},
            given("hose_bore", Dimension::length, plan_.hose.bore, 1),
            given("hose_length", Dimension::length, plan_.hose.length, 1),
            {"cores", answer_.wording().word("inputs", plan_.cores ? "cores_in" : "cores_out")},
            {"sides", answer_.wording().word("inputs", plan_.both ? "sides_both" : "sides_one")},
            given("near_volume", Dimension::volume, e_.near_volume),
            given("far_volume", Dimension::volume, e_.far_volume),
            given("capillary_bore", Dimension::length, e_.capillary->bore, 1),
            given("capillary_length", Dimension::length, e_.capillary->length, 1),
            {"target_vacuum", vacuum(plan_.target)}};
  }

  void verdict(const EvacuationCourse& c) {
    const std::pair<std::string, std::string> to{"vacuum", vacuum(plan_.target)};
    const std::pair<std::string, std::string> longest{"longest", time(e_.longest)};
    if (c.near_time) answer_.figure("evacuation_near", Dimension::duration, *c.near_time, way());
    if (c.far_time) answer_.figure("evacuation_far", Dimension::duration, *c.far_time, way());
    const auto dry =
        procedures::pump_down_time(e_.pump, e_.near, e_.near_volume, e_.T, plan_.start, plan_.target);
    if (dry) answer_.figure("evacuation_dry", Dimension::duration, *dry, way());
    if (c.near_time && c.far_time) {
      const bool behind = *c.far_time > 1.5 * *c.near_time;
      answer_.verdict(
          {behind ? "reached_behind" : "reached",
           {},
           {to, {"near", time(*c.near_time)}, {"far", time(std::max(*c.near_time, *c.far_time))}}});
    } else if (c.near_time) {
      answer_.verdict({"near_alone",
                       {},
                       {to, {"near", time(*c.near_time)}, {"stands", vacuum(c.points.back().far)}, longest}});
    } else {
      answer_.verdict({"not_reached", {}, {to, {"stands", vacuum(c.points.back().near)}, longest}});
    }
    if (!plan_.both) answer_.say({"gauge_at_pump", {}, {}});
  }

  // The same machine over each way it can be connected.
  std::optional<Problem> ways() {
    std::vector<std::vector<std::string>> rows;
    for (const auto& [both, cores] : {std::pair{false, true}, {false, false}, {true, true}, {true, false}}) {
      const auto c = procedures::evacuate(connected(plan_, cores, both), plan_.start, plan_.target);
      if (!c) return c.problem();
      const auto cell = [&](const std::optional<double>& t) {
        return t ? time(*t) : answer_.wording().word("inputs", "not_within_a_day");
      };
      rows.push_back({answer_.wording().word("inputs", both ? "sides_both" : "sides_one"),
                      answer_.wording().word("inputs", cores ? "cores_in" : "cores_out"), cell(c->near_time),
                      cell(c->far_time)});
    }
    answer_.table("evacuation_ways",
                  {"evacuation_sides", "evacuation_cores", "evacuation_near", "evacuation_far"},
                  std::move(rows));
    return std::nullopt;
  }

  void lines() {
    const double felt = procedures::effective_speed(e_.pump, e_.near, procedures::air(), e_.T, plan_.target);
    answer_.figure_text("felt_speed", felt, fine_text(Dimension::volume_flow, felt, answer_.display()),
                        {given("pump_speed", Dimension::volume_flow, e_.pump.speed, 1),
                         given("hose_bore", Dimension::length, plan_.hose.bore, 1),
                         given("hose_length", Dimension::length, plan_.hose.length, 1),
                         {"target_vacuum", vacuum(plan_.target)}});
    const double tube = procedures::conductance(*e_.capillary, procedures::air(), e_.T, plan_.target);
    answer_.figure_text("capillary_conductance", tube,
                        fine_text(Dimension::volume_flow, tube, answer_.display()),
                        {given("capillary_bore", Dimension::length, e_.capillary->bore, 1),
                         given("capillary_length", Dimension::length, e_.capillary->length, 1),
                         {"target_vacuum", vacuum(plan_.target)}});
    if (!plan_.both)
      answer_.say({"capillary_is_the_way",
                   {},
                   {{"times", base::number_text(felt / tube, 0, answer_.display().numerals)}}});
  }

  std::optional<Problem> water(const EvacuationCourse& c) {
    const auto boils = procedures::water_temperature(plan_.target), own = procedures::water_pressure(e_.T);
    if (!boils) return boils.problem();
    if (!own) return own.problem();
    answer_.figure("water_boils_at", Dimension::temperature, *boils,
                   {{"target_vacuum", vacuum(plan_.target)}});
    if (!(e_.water > 0)) return std::nullopt;
    const std::vector<FigureInput> inputs{given("water_mass", Dimension::mass, e_.water, 1),
                                          given("wall_temperature", Dimension::temperature, e_.T),
                                          {"water_pressure", vacuum(*own)}};
    const auto least = procedures::drying_time(e_.pump, e_.near, e_.water, *own, e_.T);
    if (least) answer_.figure("drying_least", Dimension::duration, *least, inputs);
    if (c.dry_time) answer_.figure("drying_time", Dimension::duration, *c.dry_time, inputs);
    answer_.say({c.dry_time ? "dries" : "stays_wet",
                 {},
                 {{"water", text(Dimension::mass, e_.water, 1)},
                  {"time", time(c.dry_time.value_or(e_.longest))},
                  {"t", text(Dimension::temperature, *boils)}}});
    return std::nullopt;
  }

  // What the oil still gives, and what foreign gas is left over in the end.
  void gas(const EvacuationCourse& c) {
    const double half_hour = 1800, given_then = e_.oil_gas / e_.oil_time * std::exp(-half_hour / e_.oil_time);
    const double Q = given_then * e_.oil_gas_constant * e_.T;
    double level = e_.pump.ultimate;
    for (int i = 0; i < 60; ++i)
      level = e_.pump.ultimate +
              Q / procedures::effective_speed(e_.pump, e_.near, procedures::air(), e_.T, level);
    answer_.figure("oil_gas", Dimension::mass, e_.oil_gas,
                   {given("oil_mass", Dimension::mass, plan_.oil),
                    given("wall_temperature", Dimension::temperature, e_.T)},
                   1);
    answer_.figure_vacuum("oil_gas_level", level,
                          {given("oil_gas_mass", Dimension::mass, e_.oil_gas, 1),
                           given("pump_speed", Dimension::volume_flow, e_.pump.speed, 1)});
    const double left = std::max(c.points.back().near, c.points.back().far);
    const double warm = 313.15;  // K, a condenser at work
    answer_.figure("foreign_gas_pressure", Dimension::pressure_difference,
                   plan_.target * (e_.near_volume + e_.far_volume) / e_.far_volume * warm / e_.T,
                   {{"target_vacuum", vacuum(plan_.target)},
                    given("near_volume", Dimension::volume, e_.near_volume),
                    given("far_volume", Dimension::volume, e_.far_volume)},
                   2);
    answer_.say({left > 3 * plan_.target ? "oil_holds" : "oil_gives",
                 {},
                 {{"mass", text(Dimension::mass, e_.oil_gas, 1)}, {"level", vacuum(level)}}});
  }

  std::optional<Problem> broken() {
    const double filling = procedures::Breaks{}.filling;
    if (!(plan_.broken > std::max(plan_.target, plan_.broken_at)))
      return Problem{"break", text(Dimension::pressure, plan_.broken), "above the vacuum",
                     "nitrogen breaks a vacuum by raising it"};
    const auto b = procedures::broken_vacuums(
        e_, plan_.start, {plan_.vacuums, plan_.broken_at, plan_.target, plan_.broken, filling});
    if (!b) {
      answer_.say({"breaks_not_reached", {}, {}});
      return std::nullopt;
    }
    const std::vector<FigureInput> inputs{{"target_vacuum", vacuum(plan_.target)},
                                          {"break_at", vacuum(plan_.broken_at)},
                                          {"break_pressure", text(Dimension::pressure, plan_.broken)},
                                          {"vacuums", std::to_string(plan_.vacuums)}};
    const auto& numerals = answer_.display().numerals;
    const double millionths = 1e6 * b->air_share;
    answer_.figure_text("air_left", b->air_share,
                        base::number_text(millionths,
                                          millionths < 0.01 ? 6
                                          : millionths < 10 ? 3
                                                            : 0,
                                          numerals) +
                            std::string(numerals.gap) + "ppm",
                        inputs);
    answer_.figure("broken_total", Dimension::duration, b->total, inputs);
    if (b->single_time) answer_.figure("single_time", Dimension::duration, *b->single_time, inputs);
    std::vector<std::vector<std::string>> rows;
    for (std::size_t i = 0; i < b->pumping.size(); ++i)
      rows.push_back({std::to_string(i + 1), time(b->pumping[i]),
                      i < b->breaking.size() ? time(b->breaking[i]) : "\u2013",
                      text(Dimension::mass, b->water[i], 2)});
    answer_.table("broken_vacuums", {"vacuum_number", "vacuum_pumping", "vacuum_breaking", "vacuum_water"},
                  std::move(rows));
    const double pascal_apart = b->single;
    answer_.say({b->single_time ? "broken_against_single" : "broken_beyond_pump",
                 {},
                 {{"vacuums", std::to_string(plan_.vacuums)},
                  {"total", time(b->total)},
                  {"single", vacuum(pascal_apart)},
                  {"single_time", b->single_time ? time(*b->single_time) : ""},
                  {"vacuum", vacuum(plan_.target)}}});
    return std::nullopt;
  }

  void plot(const EvacuationCourse& c) {
    Curve curve{
        "evacuation_course", "time", "vacuum_pressure", Dimension::duration, Dimension::pressure, true, {}};
    Curve::Line near{"evacuation_near_line", "predicted", {}}, far{"evacuation_far_line", "predicted", {}};
    for (const procedures::EvacuationPoint& p : c.points) {
      near.points.emplace_back(p.time, p.near);
      far.points.emplace_back(p.time, p.far);
    }
    curve.lines = {near, far};
    if (!plan_.readings.empty()) {
      Curve::Line dots{"evacuation_measured", "measured", {}};
      for (const TestReading& r : plan_.readings) dots.points.emplace_back(r.seconds, *r.pressure);
      curve.lines.push_back(dots);
      compare(c);
    }
    const double end = c.points.back().time;
    curve.lines.push_back({"evacuation_target", "limit", {{0, plan_.target}, {end, plan_.target}}});
    answer_.curve(curve);
  }

  // The last reading against the near side's course at its minute.
  void compare(const EvacuationCourse& c) {
    const TestReading& last = plan_.readings.back();
    double predicted = c.points.back().near;
    for (std::size_t i = 1; i < c.points.size(); ++i) {
      const auto &a = c.points[i - 1], &b = c.points[i];
      if (b.time < last.seconds || a.time > last.seconds) continue;
      const double x = b.time > a.time ? (last.seconds - a.time) / (b.time - a.time) : 0;
      predicted = std::exp((1 - x) * std::log(a.near) + x * std::log(b.near));
      break;
    }
    answer_.say({*last.pressure > kSlower * predicted ? "slower_than_reckoned" : "as_reckoned",
                 {},
                 {{"measured", vacuum(*last.pressure)},
                  {"predicted", vacuum(predicted)},
                  {"after", time(last.seconds)}}});
  }

  const Plan& plan_;
  const Evacuation& e_;
  ProcedureAnswer& answer_;
};

}  // namespace

Result<std::string> run_evacuation(std::string_view text, const Context& context) {
  auto request = opened_request(text, "evacuation", kEvacuationKeys);
  if (!request) return request.problem();
  const auto fluid = requested_fluid(*request);
  const base::SitePressure site = request->site();
  const auto units = request->units();
  std::optional<base::UnitSystem> spoken_in;
  if (request->problem()) return *request->problem();
  const auto plan = ask(*request, site, *fluid, spoken_in);
  if (!plan) return plan.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const base::Display display{choose_units(units, spoken_in, context), site, wording->numerals()};
  ProcedureAnswer answer("evacuation", *wording, display);
  answer.refrigerant(*fluid);
  if (treat_as_flammable(fluid->designation())) answer.caution({"caution_vacuum_pump_flammable", {}, {}});
  for (const char* key : {"caution_vacuum_outlet", "caution_vacuum_compressor", "caution_vacuum_nitrogen"})
    answer.caution({key, {}, {}});
  answer.caution({"caution_defer", {}, {}});
  if (const auto problem = EvacuationTold(*plan, answer).all()) return *problem;
  return answer.text();
}

}  // namespace coldwright::service

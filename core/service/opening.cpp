// Use case "opening": what connecting does to a sealed machine: grams in each hose, what taking the first
// reading costs a critical charge, what that does to the readings, and what tells as much without opening.
#include "procedures/opening.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "diagnosis/diagnose.hpp"
#include "procedures/missing_charge.hpp"
#include "service/cautions.hpp"
#include "service/from_call.hpp"
#include "service/knowledge_loader.hpp"
#include "service/procedure_inputs.hpp"
#include "service/property_answer.hpp"
#include "service/tool_parts.hpp"
#include "service/use_case_runs.hpp"
#include "service/usual_tools.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using diagnosis::Interval;

constexpr int kOpeningMachines = 200;
constexpr double kGram = 1e-3;

struct OpeningQuestion {
  std::string sides = "both";
  double low_length, low_bore, high_length, high_bore;
  double ambient, T;  // K: of the room, of the hoses
  std::optional<double> box, charge, p_suction, p_head;
  bool low_loss = false, pulled_back = false;
  std::optional<std::string> cabinet;
  circuit::Nameplate plate;
};

OpeningQuestion ask_opening(Request& request, base::SitePressure site,
                            std::optional<base::UnitSystem>& spoken_in) {
  OpeningQuestion q{};
  q.sides = choice(request, "hoses", {"low", "high", "both"}).value_or("both");
  const auto length = [&](const char* key) {
    const double l = positive(request, key, Dimension::length, spoken_in).value_or(kUsualLength);
    if (l > kLongestHose)
      request.fail({key, *request.text(key), "up to 60 m (200 ft)", "no service hose is longer"});
    return l;
  };
  const auto bore = [&](const char* key) {
    const double b = positive(request, key, Dimension::length, spoken_in).value_or(kUsualBore);
    if (b > kWidestHose)
      request.fail({key, *request.text(key), "up to 50 mm (2 in)", "no service hose is wider"});
    return b;
  };
  q.low_length = length("low_length");
  q.low_bore = bore("low_bore");
  q.high_length = length("high_length");
  q.high_bore = bore("high_bore");
  q.ambient = temperature(request, "t", spoken_in).value_or(297.15);
  q.T = temperature(request, "hose_t", spoken_in).value_or(q.ambient);
  q.box = temperature(request, "box", spoken_in);
  q.charge = positive(request, "charge", Dimension::mass, spoken_in);
  q.p_suction = pressure(request, "suction_pressure", site, spoken_in);
  q.p_head = pressure(request, "head_pressure", site, spoken_in);
  q.low_loss = yes_or_no(request, "low_loss").value_or(false);
  q.pulled_back = yes_or_no(request, "pulled_back").value_or(false);
  q.cabinet = request.text("cabinet");
  q.plate.charge = q.charge;
  q.plate.set_point = temperature(request, "set_point", spoken_in);
  q.plate.rated_current = positive(request, "rated_current", Dimension::current, spoken_in);
  q.plate.rated_voltage = positive(request, "rated_voltage", Dimension::voltage, spoken_in);
  if (q.p_suction && q.p_head && *q.p_head < *q.p_suction)
    request.fail({"head_pressure", *request.text("head_pressure"), "above the suction pressure",
                  "a running compressor's head is the higher one: are the two swapped?"});
  return q;
}

/// Pressures that the call has read already, where none was typed.
void take_readings(const diagnosis::Case& the_case, OpeningQuestion& q) {
  for (const diagnosis::Reading& reading : the_case.readings) {
    if (reading.kind == circuit::ReadingKind::suction_pressure && !q.p_suction) q.p_suction = reading.value;
    if (reading.kind == circuit::ReadingKind::discharge_pressure && !q.p_head) q.p_head = reading.value;
  }
}

/// The kind of cabinet of the request, none when it names none.
Result<std::optional<circuit::Archetype>> kind_of(const OpeningQuestion& q,
                                                  const diagnosis::Knowledge& knowledge) {
  if (!q.cabinet) return std::optional<circuit::Archetype>();
  std::vector<std::string> ids;
  for (const circuit::Archetype& kind : knowledge.archetypes) {
    if (kind.id == *q.cabinet) return std::optional<circuit::Archetype>(kind);
    ids.push_back(kind.id);
  }
  const auto near = base::nearest(*q.cabinet, ids);
  return Problem{"cabinet", base::quoted(*q.cabinet), base::listed(ids),
                 near ? "did you mean \"" + *near + "\"?" : "no other kind is modelled"};
}

Interval scaled(const Interval& x, double factor) {
  Interval out{x.low * factor, x.mid * factor, x.high * factor};
  if (out.low > out.high) std::swap(out.low, out.high);
  return out;
}

/// Of two uncertain factors, their ends multiplied.
Interval product(const Interval& a, const Interval& b) {
  const double ends[] = {a.low * b.low, a.low * b.high, a.high * b.low, a.high * b.high};
  return {*std::min_element(ends, ends + 4), a.mid * b.mid, *std::max_element(ends, ends + 4)};
}

struct OpeningSheet {
  const OpeningQuestion& q;
  const fluids::Fluid& fluid;
  const base::Display& display;
  ProcedureAnswer& answer;
  std::string text(Dimension d, const Interval& x, int extra = 0) const {
    return range_text(d, x.low, x.high, display, answer.wording(), extra);
  }
};

struct Costs {
  Interval missing, released;
};

Result<Costs> hoses(OpeningSheet& s, double p_suction, double p_head) {
  const OpeningQuestion& q = s.q;
  std::vector<std::vector<std::string>> rows;
  std::vector<Interval> missing, released;
  const auto mass = [&](double kg) { return base::show(Dimension::mass, kg, s.display, 1).text(); };
  for (const char* side : {"low", "high"}) {
    if (q.sides != "both" && q.sides != side) continue;
    const bool high = std::string_view(side) == "high";
    const procedures::HoseUse use{high ? q.high_bore : q.low_bore,
                                  high ? q.high_length : q.low_length,
                                  high ? p_head : p_suction,
                                  q.T,
                                  q.low_loss,
                                  q.pulled_back && high,
                                  p_suction};
    const auto cost = procedures::hose_cost(s.fluid, use);
    if (!cost) return cost.problem();
    rows.push_back({s.answer.wording().word("opening_sides", side), mass(cost->contents.vapour),
                    mass(cost->contents.liquid), s.text(Dimension::mass, cost->missing, 1),
                    s.text(Dimension::mass, cost->released, 1)});
    missing.push_back(cost->missing);
    released.push_back(cost->released);
    if (!high && !cost->condenses)
      s.answer.say(
          {"low_holds_vapour", {}, {word("mass", Dimension::mass, cost->contents.vapour, s.display, 1)}});
    else
      s.answer.say({cost->condenses ? "high_fills" : "high_vapour",
                    {},
                    {word("mass", Dimension::mass,
                          cost->condenses ? cost->contents.liquid : cost->contents.vapour, s.display, 1)}});
    if (high && cost->condenses) {
      procedures::HoseUse back = use;
      back.pulled_back = true;
      const auto left = procedures::hose_cost(s.fluid, back);
      if (!left) return left.problem();
      s.answer.say({"pull_back", {}, {word("left", Dimension::mass, left->missing.mid, s.display, 1)}});
    }
  }
  s.answer.table("hoses", {"hose_side", "hose_vapour", "hose_liquid", "hose_missing", "hose_released"}, rows);
  return Costs{procedures::sum_of(missing), procedures::sum_of(released)};
}

std::vector<FigureInput> hose_inputs(const OpeningSheet& s, double p_suction, double p_head) {
  const base::Display metric{base::UnitSystem::metric, s.display.site, s.display.numerals};
  const bool high = s.q.sides != "low";
  return {{"hose_bore", base::show(Dimension::length, high ? s.q.high_bore : s.q.low_bore, metric, 1).text()},
          input("hose_length", Dimension::length, high ? s.q.high_length : s.q.low_length, s.display, 1),
          input("hose_pressure", Dimension::pressure, high ? p_head : p_suction, s.display),
          input("hose_temperature", Dimension::temperature, s.q.T, s.display)};
}

void effects(OpeningSheet& s, const procedures::MissingCharge& m, const Interval& missing) {
  const FigureInput machines{"machines_drawn", std::to_string(m.machines)};
  const FigureInput gram = input("missing_mass", Dimension::mass, kGram, s.display, 1);
  s.answer.figure("superheat_per_gram", Dimension::temperature_difference, scaled(m.superheat, kGram),
                  {gram, machines}, 1);
  s.answer.figure("suction_per_gram", Dimension::pressure_difference, scaled(m.suction_pressure, kGram),
                  {gram, machines}, 2);
  s.answer.figure("capacity_per_gram", Dimension::quality, scaled(m.capacity, kGram), {gram, machines}, 1);
  const FigureInput lost{"missing_mass", s.text(Dimension::mass, missing, 1)};
  const Interval superheat = product(m.superheat, missing), suction = product(m.suction_pressure, missing);
  const Interval capacity = product(m.capacity, missing);
  s.answer.figure("superheat_change", Dimension::temperature_difference, superheat, {lost, machines}, 1);
  s.answer.figure("suction_change", Dimension::pressure_difference, suction, {lost, machines}, 1);
  s.answer.figure("capacity_change", Dimension::quality, capacity, {lost, machines}, 1);
  s.answer.say({"does_to_machine",
                {},
                {{"superheat", s.text(Dimension::temperature_difference, superheat, 1)},
                 {"suction", s.text(Dimension::pressure_difference, suction, 1)},
                 {"capacity", s.text(Dimension::quality, capacity, 1)}}});
}

/// What the diagnosis would rather know next, closed and opening, and the verdict that follows.
diagnosis::Statement steps(OpeningSheet& s, const diagnosis::Answer& found, const std::string& missing) {
  const Wording& wording = s.answer.wording();
  const auto named = [&](const diagnosis::NextStep& step) {
    return wording.named_word(step.is_observation ? "subject" : "reading", step.subject);
  };
  const auto number = [&](double x, int decimals) {
    return base::number_text(x, decimals, s.display.numerals);
  };
  std::vector<std::vector<std::string>> rows;
  const diagnosis::NextStep *closed = nullptr, *opening = nullptr;
  for (const diagnosis::NextStep& step : found.telling) {
    rows.push_back({named(step), number(step.information_bits, 2), number(step.minutes, 0),
                    wording.word("yes_no", step.opens_circuit ? "yes" : "no"),
                    step.opens_circuit
                        ? base::show(Dimension::mass, step.grams_lost * kGram, s.display, 1).text()
                        : std::string("\u2013")});
    const diagnosis::NextStep*& best = step.opens_circuit ? opening : closed;
    if (best == nullptr || step.information_bits > best->information_bits) best = &step;
  }
  s.answer.table("closed_steps", {"step_subject", "step_bits", "step_minutes", "step_opens", "step_grams"},
                 rows);
  if (opening == nullptr) {
    s.answer.say({"nothing_to_open", {}, {}});
    return {"verdict_leave_closed", {}, {}};
  }
  const std::string bits = number(opening->information_bits, 2);
  if (closed == nullptr || closed->information_bits < opening->information_bits) {
    s.answer.say({"closed_first", {}, {{"opening", named(*opening)}, {"opening_bits", bits}}});
    return {"verdict_cost", {}, {{"missing", missing}}};
  }
  s.answer.say({"closed_enough",
                {},
                {{"reading", named(*closed)},
                 {"bits", number(closed->information_bits, 2)},
                 {"opening", named(*opening)},
                 {"opening_bits", bits}}});
  return {"verdict_closed", {}, {{"reading", named(*closed)}}};
}

}  // namespace

Result<std::string> run_opening(std::string_view text, const Context& context) {
  const std::vector<std::string> keys{"call",
                                      "refrigerant",
                                      "charge",
                                      "cabinet",
                                      "set_point",
                                      "rated_current",
                                      "rated_voltage",
                                      "hoses",
                                      "low_length",
                                      "low_bore",
                                      "high_length",
                                      "high_bore",
                                      "t",
                                      "hose_t",
                                      "box",
                                      "low_loss",
                                      "pulled_back",
                                      "suction_pressure",
                                      "head_pressure",
                                      "altitude",
                                      "barometer",
                                      "seed",
                                      "population",
                                      "units"};
  auto request = opened_request(text, "opening", keys);
  if (!request) return request.problem();
  const auto case_of = call_case_of(*request, context);
  if (case_of && !*case_of) return case_of->problem();
  std::optional<fluids::Fluid> fluid;
  if (case_of && !request->has("refrigerant"))
    fluid = (*case_of)->fluid;
  else
    fluid = requested_fluid(*request);
  const base::SitePressure site = request->site();
  const auto units = request->units();
  const std::uint64_t seed = seed_of(*request);
  std::optional<base::UnitSystem> spoken_in;
  if (request->problem()) return *request->problem();
  OpeningQuestion q = ask_opening(*request, site, spoken_in);
  if (request->problem()) return *request->problem();
  if (case_of) take_readings((*case_of)->folded.the_case, q);
  const auto knowledge = load_knowledge();
  if (!knowledge) return knowledge.problem();
  const auto kind = kind_of(q, *knowledge);
  if (!kind) return kind.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();

  const base::Display display{choose_units(units, spoken_in, context), site, wording->numerals()};
  ProcedureAnswer answer("opening", *wording, display);
  answer.refrigerant(*fluid);
  answer.seed(seed);
  for (const char* key : {"caution_stay_closed", "caution_pressure", "caution_cold_liquid"})
    answer.caution({key, {}, {}});
  if (treat_as_flammable(fluid->designation())) answer.caution({"caution_opening", {}, {}});
  answer.caution({"caution_defer", {}, {}});
  OpeningSheet sheet{q, *fluid, display, answer};

  // What the machines of this kind run at and what grams do to them, per kilogram.
  std::optional<procedures::MissingCharge> machines;
  if (*kind) {
    const auto working = circuit::WorkingFluid::make(*fluid);
    if (!working) return working.problem();
    const double charge = q.charge.value_or((*kind)->charge.median);
    const double box = q.box.value_or(q.plate.set_point.value_or((*kind)->set_point_K));
    const auto out = procedures::missing_charge(q.plate, **kind, *working, {q.ambient, box, site.si},
                                                std::min(3 * kGram, 0.05 * charge), kOpeningMachines, seed);
    if (!out) return out.problem();
    machines = *out;
  }
  if (!machines && (!q.p_suction || !q.p_head))
    return Problem{q.p_suction ? "head_pressure" : "suction_pressure", "nothing",
                   "both pressures, or the kind of cabinet", "what a hose holds goes with its pressure"};
  const double p_suction = q.p_suction ? *q.p_suction : machines->p_suction.mid;
  // A machine that doesn't pump reads the same on both sides.
  const double p_head = std::max(q.p_head ? *q.p_head : machines->p_head.mid, p_suction);
  if (!q.p_suction || !q.p_head) answer.say({"pressures_assumed", {}, {}});
  const auto costs = hoses(sheet, p_suction, p_head);
  if (!costs) return costs.problem();
  const std::string missing = sheet.text(Dimension::mass, costs->missing, 1);
  const auto from = hose_inputs(sheet, p_suction, p_head);
  answer.figure("missing_total", Dimension::mass, costs->missing, from, 1);
  answer.figure("released_total", Dimension::mass, costs->released, from, 1);
  if (q.charge) {
    const Interval share = scaled(costs->missing, 1 / *q.charge);
    answer.figure("missing_share", Dimension::quality, share,
                  {{"missing_mass", missing}, input("charge", Dimension::mass, *q.charge, display, 1)}, 1);
    answer.say({"costs", {}, {{"missing", missing}, {"share", sheet.text(Dimension::quality, share, 1)}}});
  } else {
    answer.say({"costs_mass", {}, {{"missing", missing}}});
  }
  answer.say({"fitting", {}, {}});
  if (machines)
    effects(sheet, *machines, costs->missing);
  else
    answer.say({"no_cabinet", {}, {}});

  diagnosis::Statement verdict{"verdict_cost", {}, {{"missing", missing}}};
  if (case_of) {
    const CallCase& c = **case_of;
    const auto found = diagnosis::diagnose(c.folded.the_case, c.fluid, c.knowledge, c.options);
    if (!found) return found.problem();
    verdict = steps(sheet, *found, missing);
  }
  answer.verdict(verdict);
  return answer.text();
}

}  // namespace coldwright::service

// Use case "tube": the length of another bore that passes the refrigerant flow that this machine wants.
#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "procedures/blocked.hpp"
#include "procedures/plausible_machines.hpp"
#include "procedures/tube_sizing.hpp"
#include "service/from_call.hpp"
#include "service/plate_request.hpp"
#include "service/procedure_answer.hpp"
#include "service/property_answer.hpp"
#include "service/tool_parts.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using procedures::DesignPoint;

constexpr int kTubeMachines = 40;
constexpr double kTolerance = 0.02e-3, kSubcooling = 5, kSuperheat = 5;  // m, K (our estimates)
constexpr double kCheckPressure = 10e5;  // Pa above the air, for the nitrogen check of the new tube
/// Bores that are commonly sold, m (common practice, from memory).
constexpr double kSold[] = {0.50e-3, 0.60e-3, 0.66e-3, 0.70e-3, 0.80e-3,
                            0.90e-3, 1.00e-3, 1.10e-3, 1.20e-3, 1.50e-3};

std::vector<std::string> tube_keys() {
  std::vector<std::string> all{"refrigerant", "bore",       "length",      "new_bore",   "bore_tolerance",
                               "capacity",    "condensing", "evaporating", "subcooling", "t",
                               "altitude",    "barometer",  "units"};
  all.insert(all.end(), plate_keys().begin(), plate_keys().end());
  return all;
}

/// One machine it may be: where its tube works, and what it wants to pass.
struct Need {
  DesignPoint at;
  procedures::TwoFlows flow;
};

struct TubeQuestion {
  fluids::Fluid fluid;
  circuit::WorkingFluid table;
  std::vector<Need> needs;
  std::optional<double> bore, length, new_bore, capacity;
  double tolerance = kTolerance, subcooling = kSubcooling, T = 293.15;
  bool from_plate = false, heat_left_out = false;
};

// "105F" or "210 psig": the saturation pressure.
std::optional<double> saturation(Request& request, const char* key, const fluids::Fluid& fluid,
                                 base::SitePressure site, std::optional<base::UnitSystem>& spoken_in) {
  const auto text = request.text(key);
  if (!text) return std::nullopt;
  const auto spoken = base::parse_spoken(*text, key);
  if (spoken && spoken->dimension == Dimension::pressure) return pressure(request, key, site, spoken_in);
  const auto T = temperature(request, key, spoken_in);
  if (!T) return std::nullopt;
  const auto p = fluid.dew_pressure(*T);
  if (p) return *p;
  request.fail({key, base::quoted(*text), p.problem().allowed, p.problem().why});
  return std::nullopt;
}

std::optional<Problem> check_both(const char* one, const char* other, bool a, bool b, const char* together) {
  if (a == b) return std::nullopt;
  return Problem{a ? other : one, "nothing", together, "each of them alone says nothing of the flow"};
}

// What each machine would have to pass: what its old tube passes, its capacity asks for, or it was drawn
// with.
Result<std::vector<Need>> needs_of(const TubeQuestion& q, const std::vector<DesignPoint>& points,
                                   const std::vector<circuit::Machine>& machines) {
  std::vector<Need> needs;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const DesignPoint& at = points[i];
    if (q.bore) {
      const auto flow = procedures::design_flow(q.fluid, q.table, *q.bore, *q.length, at);
      if (!flow) return flow.problem();
      needs.push_back({at, *flow});
      continue;
    }
    double flow = 0;
    if (q.capacity) {
      // What the evaporator takes up: vapour with some superheat less liquid at the tube's inlet, less what
      // the tube gives to the suction line, which comes back with the liquid that it cools.
      const auto cold = q.table.isobar(std::log(at.p_out));
      const double T_in = q.table.saturation_temperature(std::log(at.p_in)) - at.subcooling;
      const double taken = cold.vapour_enthalpy(cold.sat.T + kSuperheat) - q.table.at_temperature(T_in).h_l;
      flow = *q.capacity / (taken + at.heat_removed);
    } else {
      flow = machines[i].evaporator.design_flow;
    }
    needs.push_back({at, {flow, flow}});
  }
  return needs;
}

Result<TubeQuestion> ask_tube(Request& request, base::SitePressure site,
                              std::optional<base::UnitSystem>& spoken_in) {
  auto plate = plausible_plate(request, kTubeMachines, spoken_in);
  std::optional<fluids::Fluid> fluid;
  if (plate) fluid = plate->fluid;
  if (!plate && !request.problem()) fluid = requested_fluid(request);
  if (request.problem()) return *request.problem();
  auto table = plate ? Result<circuit::WorkingFluid>(plate->table) : circuit::WorkingFluid::make(*fluid);
  if (!table) return table.problem();
  TubeQuestion q{*fluid, std::move(*table), {},          {},     {},    {},
                 {},     kTolerance,        kSubcooling, 293.15, false, false};
  q.bore = tube_bore(request, "bore", spoken_in);
  q.length = tube_length(request, "length", spoken_in);
  q.new_bore = tube_bore(request, "new_bore", spoken_in);
  q.tolerance = spread(request, "bore_tolerance", Dimension::length, q.new_bore.value_or(0.8e-3), kTolerance,
                       spoken_in);
  q.capacity = positive(request, "capacity", Dimension::power, spoken_in);
  q.subcooling =
      positive(request, "subcooling", Dimension::temperature_difference, spoken_in).value_or(kSubcooling);
  q.T = site_temperature(request, "t", spoken_in).value_or(293.15);
  const auto hot = saturation(request, "condensing", q.fluid, site, spoken_in);
  const auto cold = saturation(request, "evaporating", q.fluid, site, spoken_in);
  if (request.problem()) return *request.problem();
  if (auto p =
          check_both("bore", "length", q.bore.has_value(), q.length.has_value(), "bore and length together"))
    return *p;
  if (auto p = check_both("condensing", "evaporating", hot.has_value(), cold.has_value(),
                          "condensing and evaporating together"))
    return *p;
  if (q.tolerance > 0.25 * q.new_bore.value_or(kSold[0]))
    return Problem{"bore_tolerance", base::quoted(request.text("bore_tolerance").value_or("")),
                   "up to a quarter of the bore", "a tube's tolerance is a small part of it"};
  if (q.bore && q.capacity)
    return Problem{"capacity", "a capacity beside the old tube", "one of the two",
                   "each of them alone says how much has to pass"};
  if (!hot && !plate)
    return Problem{"condensing", "nothing", "condensing and evaporating, or the kind of cabinet",
                   "a tube is sized for what stands at its ends"};
  if (!q.bore && !q.capacity && !plate)
    return Problem{"bore", "nothing", "the old tube's bore and length, the capacity, or the kind of cabinet",
                   "without it nothing says how much has to pass"};
  std::vector<DesignPoint> points;
  std::vector<circuit::Machine> machines;
  if (plate) machines = plate->machines;
  q.from_plate = plate.has_value() && !(hot && (q.bore || q.capacity));
  if (hot && (q.bore || q.capacity)) {
    points.push_back({*hot, *cold, q.subcooling, 0});
    q.heat_left_out = true;
  } else {
    for (const circuit::Machine& m : machines) {
      points.push_back(procedures::design_point(m, q.table, q.subcooling));
      if (hot) points.back().p_in = *hot, points.back().p_out = *cold;
    }
  }
  auto needs = needs_of(q, points, machines);
  if (!needs) return needs.problem();
  q.needs = std::move(*needs);
  return q;
}

struct Sized {
  std::optional<diagnosis::Interval> length, homogeneous, correlated;
};

// Of every machine both opinions, and the homogeneous one with a bore at either end of its tolerance.
Result<Sized> sized(const TubeQuestion& q, double bore) {
  std::vector<double> all, homogeneous, correlated;
  for (const Need& need : q.needs) {
    const auto tube = procedures::length_for_flow(q.fluid, q.table, bore, q.tolerance, need.at, need.flow);
    if (!tube) return tube.problem();
    if (tube->homogeneous) homogeneous.push_back(*tube->homogeneous);
    if (tube->correlated) correlated.push_back(*tube->correlated);
    for (const auto& length : {tube->homogeneous, tube->correlated, tube->bore_smaller, tube->bore_larger})
      if (length) all.push_back(*length);
  }
  Sized out;
  // An opinion that fewer than half of the machines have is none.
  const auto enough = [&](const std::vector<double>& v) {
    return 2 * v.size() >= q.needs.size() && !v.empty();
  };
  if (enough(homogeneous)) out.homogeneous = procedures::spread_interval(homogeneous);
  if (enough(correlated)) out.correlated = procedures::spread_interval(correlated);
  if (!out.homogeneous && !out.correlated) return out;
  const auto middle = [&] {
    if (out.homogeneous && out.correlated) return std::sqrt(out.homogeneous->mid * out.correlated->mid);
    return out.homogeneous ? out.homogeneous->mid : out.correlated->mid;
  }();
  // Of one machine everything counts to the ends, of many the middle nine tenths.
  std::sort(all.begin(), all.end());
  out.length = q.needs.size() == 1 ? diagnosis::Interval{all.front(), middle, all.back()}
                                   : procedures::spread_interval(all);
  out.length->mid = middle;
  return out;
}

class TubeTeller {
 public:
  TubeTeller(ProcedureAnswer& answer, const TubeQuestion& q) : a_(answer), q_(q) {}

  std::optional<Problem> tell() {
    flow_figure();
    if (auto problem = table()) return problem;
    if (!q_.new_bore) {
      a_.verdict({"choose_bore", {}, {}});
    } else {
      if (auto problem = one(*q_.new_bore)) return problem;
    }
    if (q_.from_plate) a_.say({"from_plate", {}, {}});
    if (q_.heat_left_out) a_.say({"heat_left_out", {}, {}});
    a_.say({"start_long", {}, {}});
    return std::nullopt;
  }

 private:
  FigureInput input(const char* key, Dimension dimension, double si, int extra = 0) const {
    return {key, base::show(dimension, si, a_.display(), extra).text()};
  }
  std::vector<FigureInput> inputs() const {
    std::vector<double> p_in, p_out;
    for (const Need& need : q_.needs) p_in.push_back(need.at.p_in), p_out.push_back(need.at.p_out);
    std::vector<FigureInput> all{
        input("condensing", Dimension::pressure, procedures::spread_interval(p_in).mid),
        input("evaporating", Dimension::pressure, procedures::spread_interval(p_out).mid),
        input("subcooling", Dimension::temperature_difference, q_.subcooling)};
    if (q_.bore) {
      all.push_back(input("bore", Dimension::length, *q_.bore, kBoreDecimals));
      all.push_back(input("length", Dimension::length, *q_.length, kLengthDecimals));
    }
    if (q_.capacity) all.push_back(input("capacity", Dimension::power, *q_.capacity));
    return all;
  }
  void flow_figure() {
    std::vector<double> flows;
    for (const Need& need : q_.needs) {
      flows.push_back(need.flow.homogeneous);
      if (need.flow.correlated) flows.push_back(*need.flow.correlated);
    }
    a_.figure("tube_flow", Dimension::mass_flow, procedures::spread_interval(flows), inputs());
  }
  std::string length_text(const std::optional<diagnosis::Interval>& length) const {
    if (!length) return a_.wording().word("tube", "out_of_range");
    return range_text(Dimension::length, length->low, length->high, a_.display(), a_.wording(),
                      kLengthDecimals);
  }
  std::optional<Problem> table() {
    std::vector<std::vector<std::string>> rows;
    for (const double bore : kSold) {
      const auto tube = sized(q_, bore);
      if (!tube) return tube.problem();
      if (!tube->length) continue;
      rows.push_back({base::show(Dimension::length, bore, a_.display(), kBoreDecimals).text(),
                      length_text(tube->length), length_text(tube->homogeneous),
                      length_text(tube->correlated)});
    }
    if (rows.empty())
      return Problem{"length", "no bore that is commonly sold", "a design point and flow of a small machine",
                     "every length comes out under 0.3 m or over 12 m"};
    a_.table("bores_sold", {"bore_column", "tube_length", "length_homogeneous", "length_correlated"},
             std::move(rows));
    a_.cite("common-practice");
    return std::nullopt;
  }
  std::optional<Problem> one(double bore) {
    const auto tube = sized(q_, bore);
    if (!tube) return tube.problem();
    const std::pair<std::string, std::string> bore_text =
        word("bore", Dimension::length, bore, a_.display(), kBoreDecimals);
    if (!tube->length) {
      a_.verdict({"bore_unfit", {}, {bore_text}});
      return std::nullopt;
    }
    auto with = inputs();
    with.push_back(input("new_bore", Dimension::length, bore, kBoreDecimals));
    with.push_back(input("bore_tolerance", Dimension::length, q_.tolerance, kBoreDecimals));
    a_.figure("tube_length", Dimension::length, *tube->length, with, kLengthDecimals);
    if (tube->homogeneous)
      a_.figure("length_homogeneous", Dimension::length, *tube->homogeneous, with, kLengthDecimals);
    if (tube->correlated)
      a_.figure("length_correlated", Dimension::length, *tube->correlated, with, kLengthDecimals);
    if (q_.bore)
      a_.figure("length_similarity", Dimension::length,
                *q_.length * procedures::length_ratio_by_similarity(bore / *q_.bore), with, kLengthDecimals);
    if (!tube->homogeneous || !tube->correlated) a_.say({"one_opinion", {}, {}});
    a_.verdict({"cut_to",
                {},
                {bore_text,
                 {"length", length_text(tube->length)},
                 word("middle", Dimension::length, tube->length->mid, a_.display(), kLengthDecimals)}});
    return nitrogen_check(bore, tube->length->mid, with);
  }
  // What nitrogen shows of the new tube before it is soldered in.
  std::optional<Problem> nitrogen_check(double bore, double length, std::vector<FigureInput> with) {
    const double p = a_.display().site.si + kCheckPressure;
    const auto flow =
        procedures::gas_flow(procedures::nitrogen(), {bore, length, 1.5e-6}, p, q_.T, a_.display().site.si);
    if (!flow) return flow.problem();
    with.push_back(input("supply", Dimension::pressure, p));
    a_.figure("nitrogen_flow_new", Dimension::mass_flow, flow->flow, with, 1);
    a_.say({"check_with_nitrogen",
            {},
            {word("flow", Dimension::mass_flow, flow->flow, a_.display(), 1),
             word("supply", Dimension::pressure, p, a_.display())}});
    return std::nullopt;
  }

  ProcedureAnswer& a_;
  const TubeQuestion& q_;
};

}  // namespace

Result<std::string> run_tube(std::string_view text, const Context& context) {
  auto request = opened_request(text, "tube", tube_keys());
  if (!request) return request.problem();
  const base::SitePressure site = request->site();
  const auto units = request->units();
  std::optional<base::UnitSystem> spoken_in;
  if (request->problem()) return *request->problem();
  const auto question = ask_tube(*request, site, spoken_in);
  if (!question) return question.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const base::Display display{choose_units(units, spoken_in, context), site, wording->numerals()};
  ProcedureAnswer answer("tube", *wording, display);
  answer.refrigerant(question->fluid);
  for (const char* caution : {"caution_no_torch", "caution_deburr", "caution_same_charge", "caution_defer"})
    answer.caution({caution, {}, {}});
  if (!request->has("refrigerant")) answer.caution({"caution_refrigerant_unknown", {}, {}});
  TubeTeller teller(answer, *question);
  if (const auto problem = teller.tell()) return *problem;
  return answer.text();
}

}  // namespace coldwright::service

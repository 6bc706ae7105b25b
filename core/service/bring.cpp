// Use case "bring": what to have in the van, out of the plate and the diagnosis: which parts the causes ask
// for and how likely, each with its size as an interval over the machines that the call leaves plausible.
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "base/text.hpp"
#include "procedures/parts.hpp"
#include "procedures/repair_needs.hpp"
#include "procedures/tracer.hpp"
#include "service/cautions.hpp"
#include "service/from_call.hpp"
#include "service/leak_search_data.hpp"
#include "service/procedure_inputs.hpp"
#include "service/property_answer.hpp"
#include "service/refrigerant_loader.hpp"
#include "service/tool_parts.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using diagnosis::Interval;

constexpr int kBringMachines = 150;
constexpr double kListed = 0.05;     // parts less likely than that stay behind (our estimate)
constexpr double kUsualTest = 10e5;  // Pa above the air, where nothing else is said (common practice)
constexpr int kPurges = 3;           // to 2 bar above the air each (common practice)
constexpr double kPurgePressure = 2e5;
constexpr double kFlowing = 3e-3 / 60, kBrazing = 20 * 60;  // m3/s of free gas while brazing, s
constexpr double kTracePart = 0.5;  // of the largest share that burns at no dilution (our estimate)
constexpr double kSpare = 0.1;      // of a charge for hoses (our estimate)

struct BringSheet {
  const procedures::Belief& belief;
  const procedures::PartSizes& sizes;
  const fluids::Fluid& fluid;
  const base::Display& display;
  ProcedureAnswer& answer;
  double ambient;
  base::Display metric() const { return {base::UnitSystem::metric, display.site, display.numerals}; }
  std::string text(Dimension d, const Interval& x, int extra = 0) const {
    return range_text(d, x.low, x.high, display, answer.wording(), extra);
  }
  // Bores, displacements and electrical input are spoken of in metric units everywhere.
  std::string in_metric(Dimension d, const Interval& x, int extra = 0) const {
    return range_text(d, x.low, x.high, metric(), answer.wording(), extra);
  }
  std::string bore() const { return in_metric(Dimension::length, sizes.capillary_bore, 1); }
  template <std::size_t N>
  static std::size_t likeliest(const std::array<double, N>& p) {
    return static_cast<std::size_t>(std::max_element(p.begin(), p.end()) - p.begin());
  }
  std::string back_pressure() const {
    static constexpr const char* keys[] = {"low", "medium", "high"};
    return answer.wording().word("back_pressure", keys[likeliest(sizes.back_pressure)]);
  }
  std::string start() const {
    static constexpr const char* keys[] = {"resistance", "capacitor_start", "capacitor_start_run"};
    return answer.wording().word("start_kinds", keys[likeliest(sizes.start)]);
  }
  std::string percent(double p) const { return percent_text(p, display); }
};

struct Stores {
  double nitrogen, refrigerant;  // kg
};

/// The trace for a leak search at that pressure, of a refrigerant whose largest share is known.
std::optional<Problem> trace(BringSheet& s, const fluids::Fluid& nitrogen, double volume, double p_test) {
  const auto data = load_leak_search();
  if (!data) return data.problem();
  const FuelLimits* fuel = data->fuel(s.fluid.designation());
  if (fuel == nullptr) return std::nullopt;
  const double share = kTracePart * procedures::largest_fuel_share(fuel->lower_limit, fuel->oxygen_limit);
  const auto fill =
      procedures::fill_with_trace(s.fluid, nitrogen, volume, s.ambient, s.ambient, p_test, share);
  if (!fill) return fill.problem();
  cite_each(s.answer, fuel->source);
  s.answer.figure("trace_mass", Dimension::mass, fill->trace,
                  {{"trace_share", percent_text(share, s.display)},
                   input("test_pressure", Dimension::pressure, p_test, s.display),
                   input("circuit_volume", Dimension::volume, volume, s.display),
                   input("air_temperature", Dimension::temperature, s.ambient, s.display)},
                  1);
  return std::nullopt;
}

Result<Stores> stores(BringSheet& s, double p_test, double p_air) {
  const auto nitrogen = load_fluid("R728");
  if (!nitrogen) return nitrogen.problem();
  const auto density = [&](double p) { return nitrogen->at_Tp(s.ambient, p); };
  const auto test = density(p_test), purge = density(p_air + kPurgePressure), free = density(p_air);
  if (!test) return test.problem();
  if (!purge) return purge.problem();
  if (!free) return free.problem();
  const double volume = s.sizes.circuit_volume.high;
  Stores out{};
  out.nitrogen = volume * (test->rho + kPurges * purge->rho) + kFlowing * kBrazing * free->rho;
  s.answer.figure("nitrogen_free", Dimension::volume, out.nitrogen / free->rho,
                  {input("circuit_volume", Dimension::volume, volume, s.display),
                   input("test_pressure", Dimension::pressure, p_test, s.display),
                   {"purges", std::to_string(kPurges)}});
  if (const auto problem = trace(s, *nitrogen, volume, p_test)) return *problem;
  out.refrigerant = (2 + kSpare) * s.sizes.charge.mid;
  s.answer.figure("nitrogen_to_bring", Dimension::mass, out.nitrogen,
                  {input("circuit_volume", Dimension::volume, volume, s.display),
                   input("test_pressure", Dimension::pressure, p_test, s.display),
                   {"purges", std::to_string(kPurges)}});
  s.answer.figure("refrigerant_to_bring", Dimension::mass, out.refrigerant,
                  {input("charge", Dimension::mass, s.sizes.charge.mid, s.display, 1)});
  s.answer.say({"nitrogen",
                {},
                {word("pressure", Dimension::pressure, p_test, s.display),
                 {"purges", std::to_string(kPurges)},
                 word("mass", Dimension::mass, out.nitrogen, s.display)}});
  s.answer.say({"charge_to_bring",
                {},
                {{"charge", s.text(Dimension::mass, s.sizes.charge, 1)},
                 word("spare", Dimension::mass, out.refrigerant - s.sizes.charge.mid, s.display, 1)}});
  return out;
}

void figures(BringSheet& s) {
  const FigureInput machines{"machines_drawn", std::to_string(s.sizes.machines)};
  const std::vector<FigureInput> from{machines,
                                      input("ambient", Dimension::temperature, s.ambient, s.display)};
  const procedures::PartSizes& z = s.sizes;
  s.answer.figure_text("capillary_bore", z.capillary_bore.mid, s.bore(), {machines});
  s.answer.figure("capillary_length", Dimension::length, z.capillary_length, {machines}, 1);
  s.answer.figure_text("displacement", z.displacement.mid, s.in_metric(Dimension::volume, z.displacement, 1),
                       {machines});
  s.answer.figure("evaporating_at_set_point", Dimension::temperature, z.evaporating, from);
  s.answer.figure("cooling_at_set_point", Dimension::power, z.cooling, from);
  s.answer.figure_text("input_at_set_point", z.input.mid, s.in_metric(Dimension::power, z.input), from);
  s.answer.figure("current_at_set_point", Dimension::current, z.current, from);
  s.answer.figure("charge_believed", Dimension::mass, z.charge, {machines}, 1);
  s.answer.figure("circuit_volume", Dimension::volume, z.circuit_volume, {machines});
  const double back = z.back_pressure[BringSheet::likeliest(z.back_pressure)];
  s.answer.figure_text("back_pressure_class", back, s.back_pressure() + " (" + s.percent(back) + ")", from);
  const double start = z.start[BringSheet::likeliest(z.start)];
  s.answer.figure_text("start_kind", start, s.start() + " (" + s.percent(start) + ")", from);
}

std::string size_of(const BringSheet& s, const std::string& part, const Stores& stores) {
  if (part == "part_capillary")
    return s.bore() + " \u00d7 " + s.text(Dimension::length, s.sizes.capillary_length, 1);
  if (part == "part_compressor")
    return s.fluid.designation() + ", " + s.back_pressure() + ", " +
           s.in_metric(Dimension::volume, s.sizes.displacement, 1) + ", " +
           s.text(Dimension::power, s.sizes.cooling);
  if (part == "part_start") return s.start();
  if (part == "part_drier") return s.fluid.designation() + ", " + s.bore();
  if (part == "part_refrigerant") return base::show(Dimension::mass, stores.refrigerant, s.display, 1).text();
  if (part == "part_nitrogen") return base::show(Dimension::mass, stores.nitrogen, s.display).text();
  return "\u2013";
}

void parts(BringSheet& s, const Stores& stores, const std::set<std::string>& leading) {
  std::map<std::string, double> chance;
  for (const diagnosis::RankedCause& cause : s.belief.answer.causes) {
    for (const std::string& part : procedures::repair_needs(cause.cause).parts)
      chance[part] += cause.probability;
  }
  std::vector<std::pair<std::string, double>> listed;
  for (const auto& [part, p] : chance)
    if (p >= kListed || leading.contains(part)) listed.emplace_back(part, p);
  // what the leading cause asks for comes first
  std::stable_sort(listed.begin(), listed.end(), [&](const auto& a, const auto& b) {
    const bool a_leads = leading.contains(a.first), b_leads = leading.contains(b.first);
    return a_leads != b_leads ? a_leads : a.second > b.second;
  });
  std::vector<std::vector<std::string>> rows;
  for (const auto& [part, p] : listed)
    rows.push_back({s.answer.wording().word("bring_parts", part), size_of(s, part, stores), s.percent(p)});
  s.answer.table("parts_to_bring", {"part", "part_size", "part_chance"}, std::move(rows));
  const auto has = [&](const char* part) {
    return std::any_of(listed.begin(), listed.end(), [&](const auto& row) { return row.first == part; });
  };
  if (has("part_compressor") || has("part_start")) s.answer.say({"low_torque", {}, {{"start", s.start()}}});
  if (has("part_drier")) s.answer.say({"drier", {}, {}});
  if (has("part_access")) s.answer.say({"access", {}, {}});
  if (treat_as_flammable(s.fluid.designation())) s.answer.say({"same_oil_parts", {}, {}});
}

}  // namespace

Result<std::string> run_bring(std::string_view text, const Context& context) {
  const std::vector<std::string> keys{"call", "pressure", "t", "seed", "population", "units"};
  auto request = opened_request(text, "bring", keys);
  if (!request) return request.problem();
  const auto case_of = call_case_of(*request, context);
  if (!case_of)
    return Problem{"call", "nothing",
                   "\"call\" with the call as an object, or \"call_text\" with the file's text",
                   "which parts are needed follows from the machine and its fault"};
  if (!*case_of) return case_of->problem();
  const CallCase& c = **case_of;
  const base::SitePressure site{c.folded.the_case.site_pressure};
  std::optional<base::UnitSystem> spoken_in;
  const double ambient =
      temperature(*request, "t", spoken_in).value_or(c.folded.the_case.ambient.value_or(298.15));
  const double p_test = pressure(*request, "pressure", site, spoken_in).value_or(site.si + kUsualTest);
  if (!(p_test > site.si))
    request->fail({"pressure", *request->text("pressure"), "above the air's pressure",
                   "nothing leaks out by itself below it"});
  if (request->problem()) return *request->problem();
  const auto belief = procedures::believe(c.folded.the_case, c.fluid, c.knowledge, c.options, kBringMachines);
  if (!belief) return belief.problem();
  const auto sizes = procedures::part_sizes(*belief, ambient, site.si);
  if (!sizes) return sizes.problem();

  ProcedureAnswer answer("bring", c.wording, c.display);
  answer.refrigerant(c.fluid);
  answer.seed(c.options.seed);
  for (const char* key :
       {"caution_stay_closed", "caution_no_torch", "caution_electrical", "caution_capacitor",
        "caution_pressure", "caution_no_air_or_oxygen", "caution_compressor_off_vacuum", "caution_defer"})
    answer.caution({key, {}, {}});
  BringSheet sheet{*belief, *sizes, c.fluid, c.display, answer, ambient};
  const diagnosis::RankedCause& first = belief->answer.causes.front();
  const procedures::RepairNeeds needs = procedures::repair_needs(first.cause);
  answer.verdict({needs.opens ? "leading" : "no_opening",
                  {},
                  {{"cause", c.wording.cause(first.cause)},
                   {"probability", probability_text(first.probability, first.error, c.display.numerals)}}});
  answer.say({"plate_first", {}, {}});
  const auto held = stores(sheet, p_test, site.si);
  if (!held) return held.problem();
  parts(sheet, *held, needs.parts);
  figures(sheet);
  return answer.text();
}

}  // namespace coldwright::service

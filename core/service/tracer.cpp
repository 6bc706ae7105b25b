// Use case "tracer": a leak search with a trace of refrigerant in nitrogen: how much, which leak it shows,
// where to look first, how fast, and what it means when nothing is found.
#include "procedures/tracer.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "procedures/believed.hpp"
#include "procedures/opening.hpp"
#include "procedures/parts.hpp"
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

constexpr double kYear = 365.25 * 86400;         // s
constexpr double kUsualPart = 0.5;               // of the largest share (our estimate)
constexpr double kPlainShare = 0.05;             // of a refrigerant that doesn't burn (our estimate)
constexpr double kUsualDetector = 5e-3 / kYear;  // kg/s, 5 g a year (common practice)
constexpr double kUsualResponse = 1, kUsualTip = 6e-3, kUsualDistance = 5e-3;  // s, m, m (our estimate)
constexpr double kMargin = 2;  // leak over threshold for the probe's speed
constexpr double kForming = 0.05, kHydrogenSeen = 5e-6, kSampled = 1e-6;  // share, share, m3/s (our estimate)
constexpr double kUsualPrior = 0.5, kUsualCovered = 0.9, kUsualSize = 5e-3;  // kg/a
constexpr int kTracerMachines = 60;

struct TracerQuestion {
  double T, coldest, p_test, part, detector, p_service, response, tip, distance, prior, covered, above;
  std::optional<double> volume, share;
  bool worked_on = true;
};

TracerQuestion ask_tracer(Request& request, base::SitePressure site,
                          std::optional<base::UnitSystem>& spoken_in) {
  TracerQuestion q{};
  q.volume = positive(request, "volume", Dimension::volume, spoken_in);
  q.T = temperature(request, "t", spoken_in).value_or(293.15);
  q.coldest = temperature(request, "coldest", spoken_in).value_or(q.T);
  q.p_test = pressure(request, "pressure", site, spoken_in).value_or(0);
  q.part = share(request, "part", 1).value_or(kUsualPart);
  q.share = share(request, "share", 0.5);
  q.detector = positive(request, "detector", Dimension::mass_flow, spoken_in).value_or(kUsualDetector);
  q.p_service = pressure(request, "service_pressure", site, spoken_in).value_or(0);
  q.response = positive(request, "response", Dimension::duration, spoken_in).value_or(kUsualResponse);
  q.tip = positive(request, "tip", Dimension::length, spoken_in).value_or(kUsualTip);
  q.distance = positive(request, "distance", Dimension::length, spoken_in).value_or(kUsualDistance);
  q.prior = share(request, "prior", 1).value_or(kUsualPrior);
  q.covered = share(request, "covered", 1).value_or(kUsualCovered);
  q.above = positive(request, "above", Dimension::mass_flow, spoken_in).value_or(kUsualSize / kYear) * kYear;
  q.worked_on = yes_or_no(request, "worked_on").value_or(true);
  if (!request.problem() && !(q.p_test > 0))
    request.fail({"pressure", "nothing", "the test pressure, such as 145 psig or 10 bar(g)",
                  "how much goes in hangs on it"});
  if (!request.problem() && !(q.p_test > site.si * 1.05))
    request.fail({"pressure", *request.text("pressure"), "above the air's pressure",
                  "nothing leaks out by itself below it"});
  if (q.p_service > 0 && !(q.p_service > site.si))
    request.fail({"service_pressure", *request.text("service_pressure"), "above the air's pressure",
                  "air would flow in instead"});
  if (q.distance > 0.1)
    request.fail(
        {"distance", *request.text("distance"), "up to 100 mm (4 in)", "farther off no probe finds a leak"});
  return q;
}

struct TracerSheet {
  const TracerQuestion& q;
  const fluids::Fluid& fluid;
  const fluids::Fluid& nitrogen;
  const LeakSearchData& data;
  const base::Display& display;
  ProcedureAnswer& answer;
  double p_air;
  std::string quality(double x, int extra = 1) const {
    return base::show(Dimension::quality, x, display, extra).text();
  }
  std::string flow(double kg_a_second) const {
    return base::show(Dimension::mass_flow, kg_a_second, display).text();
  }
  std::string absolute(double p) const { return base::show_absolute(base::Pressure{p}, display, 1).text(); }
};

/// The share of refrigerant, with what was said about it.
Result<double> mixture(TracerSheet& s) {
  const FuelLimits* fuel = s.data.fuel(s.fluid.designation());
  const bool burns = treat_as_flammable(s.fluid.designation());
  if (fuel == nullptr && burns)
    return Problem{"refrigerant", base::quoted(s.fluid.designation()),
                   "R290, R600a, R1270, or one whose class doesn't burn",
                   "below which share in nitrogen it burns at no dilution isn't known here"};
  const std::string name = s.fluid.designation();
  if (fuel == nullptr) {
    const double share = s.q.share.value_or(kPlainShare);
    s.answer.figure("advised_share", Dimension::quality, share, {}, 1);
    s.answer.verdict({"mixture_plain", {}, {{"share", s.quality(share)}, {"refrigerant", name}}});
    return share;
  }
  const double most = procedures::largest_fuel_share(fuel->lower_limit, fuel->oxygen_limit);
  const double share = s.q.share.value_or(most * s.q.part);
  cite_each(s.answer, fuel->source);
  s.answer.figure(
      "largest_fuel_share", Dimension::quality, most,
      {{"lower_limit_share", s.quality(fuel->lower_limit)}, {"oxygen_limit", s.quality(fuel->oxygen_limit)}},
      1);
  s.answer.figure("advised_share", Dimension::quality, share,
                  {{"trace_share", s.quality(most)}, {"part_of_largest", s.quality(share / most, 0)}}, 1);
  s.answer.verdict({"mixture",
                    {},
                    {{"share", s.quality(share)},
                     {"refrigerant", name},
                     {"part", s.quality(share / most, 0)},
                     {"most", s.quality(most)}}});
  if (share > most)
    s.answer.say({"above_most", {}, {{"share", s.quality(share)}, {"most", s.quality(most)}}});
  return share;
}

std::optional<Problem> filling(TracerSheet& s, double share, double volume) {
  const TracerQuestion& q = s.q;
  const auto fill = procedures::fill_with_trace(s.fluid, s.nitrogen, volume, q.T, q.coldest, q.p_test, share);
  if (!fill) return fill.problem();
  const FigureInput part{"trace_share", s.quality(share)};
  const FigureInput pressure = input("test_pressure", Dimension::pressure, q.p_test, s.display);
  const FigureInput inside = input("circuit_volume", Dimension::volume, volume, s.display);
  const FigureInput T = input("air_temperature", Dimension::temperature, q.T, s.display);
  s.answer.figure_text("trace_first_pressure", fill->first_pressure, s.absolute(fill->first_pressure),
                       {part, pressure});
  s.answer.figure("trace_mass", Dimension::mass, fill->trace, {part, pressure, inside, T}, 1);
  s.answer.figure("trace_nitrogen", Dimension::mass, fill->nitrogen, {part, pressure, inside, T}, 1);
  s.answer.figure_text("trace_dew", fill->dew_at_coldest, s.absolute(fill->dew_at_coldest),
                       {input("coldest_wall", Dimension::temperature, q.coldest, s.display)});
  s.answer.say({"fill",
                {},
                {{"first", s.absolute(fill->first_pressure)},
                 word("mass", Dimension::mass, fill->trace, s.display, 1),
                 word("pressure", Dimension::pressure, q.p_test, s.display)}});
  s.answer.say({"mix_time", {}, {}});
  return std::nullopt;
}

/// The smallest service leak (kg/s) that the mixture shows through a hole.
Result<double> shows(TracerSheet& s, double share, double p_service) {
  const TracerQuestion& q = s.q;
  const auto shown =
      procedures::smallest_shown(s.fluid, s.nitrogen, share, q.detector, q.p_test, p_service, s.p_air, q.T);
  if (!shown) return shown.problem();
  const std::vector<FigureInput> from{{"detector_threshold", s.flow(q.detector)},
                                      {"trace_share", s.quality(share)},
                                      input("test_pressure", Dimension::pressure, q.p_test, s.display),
                                      input("service_pressure", Dimension::pressure, p_service, s.display)};
  s.answer.figure("leak_shown_viscous", Dimension::mass_flow, shown->viscous, from, 1);
  s.answer.figure("leak_shown_molecular", Dimension::mass_flow, shown->molecular, from, 1);
  s.answer.say({"shows",
                {},
                {{"detector", s.flow(q.detector)},
                 {"viscous", s.flow(shown->viscous)},
                 {"molecular", s.flow(shown->molecular)}}});
  const FuelLimits* hydrogen = s.data.fuel("hydrogen");
  const auto other = procedures::hydrogen_shown(s.fluid, s.nitrogen, kForming, kHydrogenSeen, kSampled,
                                                q.p_test, p_service, s.p_air, q.T);
  if (!other) return other.problem();
  if (hydrogen != nullptr) {
    cite_each(s.answer, hydrogen->source);
    const double most = procedures::largest_fuel_share(hydrogen->lower_limit, hydrogen->oxygen_limit);
    s.answer.figure("hydrogen_share", Dimension::quality, most,
                    {{"lower_limit_share", s.quality(hydrogen->lower_limit)},
                     {"oxygen_limit", s.quality(hydrogen->oxygen_limit)}},
                    1);
    const std::string ppm = base::number_text(kHydrogenSeen * 1e6, 0, s.display.numerals);
    const std::vector<FigureInput> seen{{"hydrogen_seen", ppm + std::string(s.display.numerals.gap) + "ppm"},
                                        input("sampled_flow", Dimension::volume_flow, kSampled, s.display, 3),
                                        from[2],
                                        from[3]};
    s.answer.figure("hydrogen_viscous", Dimension::mass_flow, other->viscous, seen, 1);
    s.answer.figure("hydrogen_molecular", Dimension::mass_flow, other->molecular, seen, 1);
    s.answer.say({"forming_gas",
                  {},
                  {{"most", s.quality(most)},
                   {"ppm", ppm},
                   {"viscous", s.flow(other->viscous)},
                   {"molecular", s.flow(other->molecular)}}});
  }
  return shown->viscous;
}

void search(TracerSheet& s) {
  const TracerQuestion& q = s.q;
  const double speed = procedures::probe_speed(q.response, q.tip, q.distance, kMargin);
  const base::Display metric{base::UnitSystem::metric, s.display.site, s.display.numerals};
  const std::string distance = base::show(Dimension::length, q.distance, metric).text();
  s.answer.figure_text("probe_speed", speed, probe_text(speed, s.display),
                       {{"response_time", base::number_text(q.response, 1, s.display.numerals) +
                                              std::string(s.display.numerals.gap) + "s"},
                        {"probe_tip", base::show(Dimension::length, q.tip, metric).text()},
                        {"probe_distance", distance},
                        {"leak_margin", base::number_text(kMargin, 0, s.display.numerals)}});
  std::vector<procedures::Joint> joints;
  std::vector<const JointKind*> kinds;
  double total = 0;
  for (const JointKind& kind : s.data.joints) {
    if (kind.key == "joint_worked_on" && !q.worked_on) continue;
    joints.push_back({kind.weight, kind.minutes});
    kinds.push_back(&kind);
    total += kind.weight;
    cite_each(s.answer, kind.source);
  }
  std::vector<std::vector<std::string>> rows;
  for (const std::size_t i : procedures::search_order(joints))
    rows.push_back({s.answer.wording().word("joints", kinds[i]->key), s.quality(joints[i].weight / total, 0),
                    base::number_text(joints[i].minutes, 0, s.display.numerals),
                    s.answer.wording().word("joint_reasons", kinds[i]->key)});
  s.answer.table("joints", {"joint", "joint_chance", "joint_minutes", "joint_why"}, std::move(rows));
  s.answer.say({"search", {}, {{"speed", probe_text(speed, s.display)}, {"distance", distance}}});
}

void clear(TracerSheet& s, double smallest) {
  const TracerQuestion& q = s.q;
  const auto means =
      procedures::clear_result(q.prior, procedures::usual_leaks(), smallest * kYear, q.covered, q.above);
  const FigureInput prior{"prior_leak", s.quality(q.prior, 0)}, asked{"size_asked", s.flow(q.above / kYear)};
  const FigureInput covered{"covered_joints", s.quality(q.covered, 0)},
      found{"smallest_leak", s.flow(smallest)};
  s.answer.figure("clear_before", Dimension::quality, means.before, {prior, asked}, 1);
  s.answer.figure("clear_after", Dimension::quality, means.after, {prior, covered, found, asked}, 1);
  s.answer.figure("clear_any", Dimension::quality, means.any_after, {prior, covered, found}, 1);
  s.answer.say({"clear_means",
                {},
                {{"above", s.flow(q.above / kYear)},
                 {"after", s.quality(means.after)},
                 {"before", s.quality(means.before)},
                 {"any", s.quality(means.any_after)}}});
}

/// Probability that charge is missing: what made somebody search.
double leaking(const diagnosis::Answer& found) {
  double sum = 0;
  for (const diagnosis::RankedCause& cause : found.causes)
    if (("+" + cause.cause + "+").find("+low_charge+") != std::string::npos) sum += cause.probability;
  return std::clamp(sum, 0.01, 0.99);
}

}  // namespace

Result<std::string> run_tracer(std::string_view text, const Context& context) {
  const std::vector<std::string> keys{
      "call",     "refrigerant", "volume",   "t",          "coldest",  "pressure", "part",
      "share",    "detector",    "response", "tip",        "distance", "prior",    "covered",
      "above",    "worked_on",   "seed",     "population", "units",    "altitude", "service_pressure",
      "barometer"};
  auto request = opened_request(text, "tracer", keys);
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
  std::optional<base::UnitSystem> spoken_in;
  if (request->problem()) return *request->problem();
  TracerQuestion q = ask_tracer(*request, site, spoken_in);
  const std::uint64_t seed = seed_of(*request);
  if (request->problem()) return *request->problem();
  if (!q.volume && !case_of)
    return Problem{"volume", "nothing", "the circuit's volume, or a call of the machine",
                   "grams go with the volume"};
  const auto nitrogen = load_fluid("R728");
  if (!nitrogen) return nitrogen.problem();
  const auto data = load_leak_search();
  if (!data) return data.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  double p_service = q.p_service;
  if (!(p_service > 0)) {
    const auto dew = fluid->dew_pressure(q.T);
    if (!dew) return dew.problem();
    p_service = 0.999 * *dew;  // just vapour
    if (!(p_service > site.si))
      return Problem{"t", request->text("t").value_or("nothing"),
                     "where the refrigerant's pressure is above the air's, or service_pressure",
                     "air would flow in instead"};
  }

  const base::Display display{choose_units(units, spoken_in, context), site, wording->numerals()};
  ProcedureAnswer answer("tracer", *wording, display);
  answer.refrigerant(*fluid);
  for (const char* key :
       {"caution_no_air_or_oxygen", "caution_pressure", "caution_no_torch", "caution_defer"})
    answer.caution({key, {}, {}});
  TracerSheet sheet{q, *fluid, *nitrogen, *data, display, answer, site.si};
  const auto share = mixture(sheet);
  if (!share) return share.problem();
  double volume = q.volume.value_or(0);
  if (case_of && (!q.volume || !request->has("prior"))) {
    const CallCase& c = **case_of;
    const auto belief =
        procedures::believe(c.folded.the_case, c.fluid, c.knowledge, c.options, kTracerMachines);
    if (!belief) return belief.problem();
    answer.seed(seed);
    if (!request->has("prior")) q.prior = leaking(belief->answer);
    if (!q.volume) {
      const auto sizes = procedures::part_sizes(*belief, q.T, site.si);
      if (!sizes) return sizes.problem();
      volume = sizes->circuit_volume.mid;
      answer.figure("circuit_volume", Dimension::volume, sizes->circuit_volume,
                    {{"machines_drawn", std::to_string(sizes->machines)}});
      answer.say({"volume_from_machines", {}, {}});
    }
  }
  if (const auto problem = filling(sheet, *share, volume)) return *problem;
  const auto smallest = shows(sheet, *share, p_service);
  if (!smallest) return smallest.problem();
  search(sheet);
  clear(sheet, *smallest);
  answer.say({"recalled_limits", {}, {}});
  return answer.text();
}

}  // namespace coldwright::service

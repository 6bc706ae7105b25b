// Use case "capillary": nitrogen through a capillary. What the clear tube passes at rising supply pressures,
// and what a measured flow, or the time that the side before it takes to fall, says of a blockage.
#include <cmath>

#include "base/text.hpp"
#include "procedures/blocked.hpp"
#include "service/from_call.hpp"
#include "service/plate_request.hpp"
#include "service/procedure_answer.hpp"
#include "service/property_answer.hpp"
#include "service/refrigerant_loader.hpp"
#include "service/tool_parts.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using diagnosis::Statement;
using diagnosis::Unit;
using procedures::Known;

constexpr int kCapillaryMachines = 64;
constexpr double kNormalT = 273.15, kNormalP = 101325;  // what "litres at normal conditions" are counted at
constexpr double kHighest = 45e5;                       // Pa absolute, the tables' end
// Spreads where none is given, one standard deviation (our estimates): a bore told by a pin gauge or a
// seller, a tape measure, a pocket thermometer, a float flow meter, a volume by displacement, a thumb on a
// stopwatch, a digital gauge.
constexpr double kBore = 0.01e-3, kLength = 0.01, kPressure = 5e3, kWarm = 2, kFlow = 0.05, kVolume = 0.05,
                 kTime = 1;

struct CapillaryQuestion {
  std::vector<procedures::LikelyTube> tubes;
  procedures::NitrogenSupply supply{};
  std::optional<Known> flow, seconds, volume;
  std::optional<double> fell_to;
  double gauge_sigma = kPressure;
  bool from_plate = false;
};

std::vector<std::string> capillary_keys() {
  std::vector<std::string> all{"refrigerant",   "bore",       "bore_spread", "length",       "length_spread",
                               "supply",        "side_plate", "behind",      "gauge_spread", "t",
                               "t_spread",      "flow",       "flow_spread", "flow_at",      "volume",
                               "volume_spread", "fell_to",    "time",        "time_spread",  "altitude",
                               "barometer",     "units"};
  all.insert(all.end(), plate_keys().begin(), plate_keys().end());
  return all;
}

// kg/s out of a mass flow or a volume flow at `T` and 101.325 kPa; zero is meant as zero.
std::optional<Known> measured_flow(Request& request, std::optional<base::UnitSystem>& spoken_in) {
  const auto text = request.text("flow");
  const double T = temperature(request, "flow_at", spoken_in).value_or(kNormalT);
  if (!text) return std::nullopt;
  const auto spoken = base::parse_spoken(*text, "flow");
  const bool mass = spoken && spoken->dimension == Dimension::mass_flow;
  if (!spoken || (!mass && spoken->dimension != Dimension::volume_flow) || !(spoken->si >= 0)) {
    request.fail({"flow", base::quoted(*text),
                  "a flow such as 5.2 L/min or 6.5 g/min, 0 L/min when nothing came",
                  "litres count at 0 C and 101.325 kPa unless flow_at says otherwise"});
    return std::nullopt;
  }
  if (!spoken_in) spoken_in = spoken->system;
  const double flow = mass ? spoken->si : spoken->si * kNormalP / (procedures::nitrogen().gas_constant * T);
  return Known{flow, spread(request, "flow_spread", Dimension::mass_flow, flow, kFlow * flow, spoken_in)};
}

void read_tube(Request& request, CapillaryQuestion& q, std::optional<base::UnitSystem>& spoken_in) {
  const auto bore = tube_bore(request, "bore", spoken_in);
  const auto length = tube_length(request, "length", spoken_in);
  if (request.problem()) return;
  if (bore && length) {
    q.tubes.push_back({{*bore, spread(request, "bore_spread", Dimension::length, *bore, kBore, spoken_in)},
                       {*length, spread(request, "length_spread", Dimension::length, *length,
                                        kLength * *length, spoken_in)}});
    return;
  }
  const auto plate = plausible_plate(request, kCapillaryMachines, spoken_in);
  if (request.problem()) return;
  if (!plate) {
    request.fail({bore ? "length" : "bore", "nothing", "the tube's bore and length, or the kind of cabinet",
                  "a flow is clear or not beside a tube's"});
    return;
  }
  q.from_plate = true;
  for (const circuit::Machine& m : plate->machines)
    q.tubes.push_back({{bore.value_or(m.capillary.diameter), 0}, {length.value_or(m.capillary.length), 0}});
}

Result<CapillaryQuestion> ask_capillary(Request& request, base::SitePressure site,
                                        std::optional<base::UnitSystem>& spoken_in) {
  CapillaryQuestion q;
  const auto supply = pressure(request, "supply", site, spoken_in);
  const auto behind = pressure(request, "behind", site, spoken_in);
  const auto plate = pressure(request, "side_plate", site, spoken_in);
  const double T = site_temperature(request, "t", spoken_in).value_or(293.15);
  q.gauge_sigma = spread(request, "gauge_spread", Dimension::pressure_difference, supply.value_or(1e6),
                         kPressure, spoken_in);
  q.supply = {{supply.value_or(0), q.gauge_sigma},
              behind.value_or(site.si),
              {T, spread(request, "t_spread", Dimension::temperature_difference, T, kWarm, spoken_in)}};
  q.flow = measured_flow(request, spoken_in);
  q.fell_to = pressure(request, "fell_to", site, spoken_in);
  if (const auto seconds = positive(request, "time", Dimension::duration, spoken_in))
    q.seconds =
        Known{*seconds, spread(request, "time_spread", Dimension::duration, *seconds, kTime, spoken_in)};
  if (const auto volume = positive(request, "volume", Dimension::volume, spoken_in))
    q.volume = Known{
        *volume, spread(request, "volume_spread", Dimension::volume, *volume, kVolume * *volume, spoken_in)};
  read_tube(request, q, spoken_in);
  if (request.problem()) return *request.problem();
  const auto said = [&](const char* key) { return base::quoted(request.text(key).value_or("")); };
  const base::Display us{spoken_in.value_or(base::UnitSystem::us), site};
  const auto shown = [&](double p) { return base::show(Dimension::pressure, p, us).text(); };
  if (!supply)
    return Problem{"supply", "nothing",
                   "the nitrogen's pressure before the tube, such as 150 psig or 10 barg",
                   "there is no answer without it"};
  if (plate && *supply > *plate)
    return Problem{"supply", said("supply"),
                   "up to " + shown(*plate) + ", the plate's for the side it is let in on",
                   "the weakest part that is connected sets it"};
  if (!(*supply > q.supply.p_to) || *supply > kHighest)
    return Problem{"supply", said("supply"),
                   "above " + shown(q.supply.p_to) + " behind the tube, up to " + shown(kHighest),
                   "gas flows from the higher pressure to the lower"};
  // A fall without its time is one to predict.
  const int parts = (q.fell_to ? 1 : 0) + (q.seconds ? 1 : 0) + (q.volume ? 1 : 0);
  if (q.flow && parts > 0)
    return Problem{"flow", "a flow beside a time to fall", "one of the two", "each of them alone is a check"};
  if (parts > 0 && (!q.fell_to || !q.volume))
    return Problem{!q.fell_to ? "fell_to" : "volume", "nothing", "fell_to, time and volume together",
                   "a fall is from one pressure to another, in a time, of a volume"};
  if (q.fell_to && (!(*q.fell_to < *supply) || !(*q.fell_to > q.supply.p_to)))
    return Problem{
        "fell_to", said("fell_to"), "below the supply and above the pressure behind the tube",
        "the side before the tube empties through it; if it didn't fall at all, give a flow of 0 L/min"};
  return q;
}

double middle(const std::vector<procedures::LikelyTube>& tubes, Known procedures::LikelyTube::*part) {
  std::vector<double> values;
  for (const auto& tube : tubes) values.push_back((tube.*part).value);
  return procedures::spread_interval(values).mid;
}

class CapillaryTeller {
 public:
  CapillaryTeller(ProcedureAnswer& answer, const CapillaryQuestion& q, const fluids::Fluid& nitrogen)
      : a_(answer),
        q_(q),
        nitrogen_(nitrogen),
        tube_{middle(q.tubes, &procedures::LikelyTube::bore),
              middle(q.tubes, &procedures::LikelyTube::length), 1.5e-6} {}

  std::optional<Problem> tell() {
    const auto gas = procedures::real_nitrogen(nitrogen_, q_.supply.temperature.value,
                                               q_.supply.pressure.value, q_.supply.p_to);
    if (!gas) return gas.problem();
    if (auto problem = clear_tube(*gas)) return problem;
    if (q_.from_plate)
      a_.say({"tube_from_plate",
              {},
              {text("bore", Dimension::length, tube_.bore, kBoreDecimals),
               text("length", Dimension::length, tube_.length, kLengthDecimals)}});
    if (!q_.flow && !q_.seconds) {
      a_.verdict({"not_measured", {}, {text("flow", Dimension::mass_flow, clear_)}});
      return q_.fell_to ? predicted_fall() : std::nullopt;
    }
    const auto out =
        q_.flow ? procedures::blocked_by_flow(nitrogen_, q_.tubes, {q_.supply, *q_.flow})
                : procedures::blocked_by_fall(
                      nitrogen_, q_.tubes, {q_.supply, *q_.fell_to, q_.gauge_sigma, *q_.seconds, *q_.volume});
    if (!out) return out.problem();
    judge(*out);
    if (q_.seconds)
      if (auto problem = fall_curve()) return problem;
    return bores(*gas, *out);
  }

 private:
  std::pair<std::string, std::string> text(const char* name, Dimension dimension, double si,
                                           int extra = 0) const {
    return word(name, dimension, si, a_.display(), extra);
  }
  FigureInput input(const char* key, Dimension dimension, double si, int extra = 0) const {
    return {key, base::show(dimension, si, a_.display(), extra).text()};
  }
  std::vector<FigureInput> tube_inputs() const {
    return {input("bore", Dimension::length, tube_.bore, kBoreDecimals),
            input("length", Dimension::length, tube_.length, kLengthDecimals),
            input("supply", Dimension::pressure, q_.supply.pressure.value),
            input("behind", Dimension::pressure, q_.supply.p_to),
            input("t", Dimension::temperature, q_.supply.temperature.value)};
  }
  double litres(double flow) const {
    return flow * procedures::nitrogen().gas_constant * kNormalT / kNormalP;
  }
  std::string litres_text(double flow) const {
    const double per_minute = litres(flow) * 60e3;
    return base::number_text(per_minute, per_minute < 10 ? 2 : 1, a_.display().numerals) +
           std::string(a_.display().numerals.gap) + "L/min";
  }

  // What passes the clear tube: now, over supply pressures as table and curve, and where it chokes.
  std::optional<Problem> clear_tube(const procedures::Gas& gas) {
    const double p = q_.supply.pressure.value, T = q_.supply.temperature.value, p_to = q_.supply.p_to;
    const auto now = procedures::gas_flow(gas, tube_, p, T, p_to);
    if (!now) return now.problem();
    clear_ = now->flow;
    a_.figure("clear_flow", Dimension::mass_flow, clear_, tube_inputs(), 1);
    a_.figure_text("clear_litres", litres(clear_), litres_text(clear_), tube_inputs());
    const auto choke = procedures::chokes_from(gas, tube_, T, p_to, kHighest);
    if (!choke) return choke.problem();
    if (*choke) a_.figure("chokes_from", Dimension::pressure, **choke, tube_inputs());
    std::vector<double> rises;
    for (int i = 1; i <= 12; ++i) rises.push_back(p_to + (std::max(p, p_to + 2e5) * 1.25 - p_to) * i / 12);
    const auto table = procedures::clear_flow_table(nitrogen_, tube_, T, p_to, rises);
    if (!table) return table.problem();
    std::vector<std::vector<std::string>> rows;
    Curve curve{"clear_flow_curve", "supply", "flow", Dimension::pressure, Dimension::mass_flow, false, {}};
    curve.lines.push_back({"clear_flow", "predicted", {}});
    for (const procedures::ClearFlow& row : *table) {
      rows.push_back({base::show(Dimension::pressure, row.p_from, a_.display()).text(),
                      base::show(Dimension::mass_flow, row.flow.flow, a_.display(), 1).text(),
                      litres_text(row.flow.flow),
                      a_.wording().word("capillary", row.flow.choked ? "choked" : "not_choked")});
      curve.lines.front().points.emplace_back(row.p_from, row.flow.flow);
    }
    if (q_.flow) curve.lines.push_back({"measured_flow", "measured", {{p, q_.flow->value}}});
    a_.table("clear_flow_table", {"supply_column", "clear_flow", "clear_litres", "chokes"}, std::move(rows));
    a_.curve(curve);
    return std::nullopt;
  }

  std::vector<FigureInput> fall_inputs() const {
    auto inputs = tube_inputs();
    inputs.push_back(input("fell_to", Dimension::pressure, *q_.fell_to));
    if (q_.seconds) inputs.push_back(input("time", Dimension::duration, q_.seconds->value));
    inputs.push_back(input("volume", Dimension::volume, q_.volume->value));
    return inputs;
  }

  // How long the clear tube takes, when nobody has timed this one yet.
  std::optional<Problem> predicted_fall() {
    const Known any_time{1, 0};  // what is asked for doesn't depend on it
    const auto out = procedures::blocked_by_fall(
        nitrogen_, q_.tubes, {q_.supply, *q_.fell_to, q_.gauge_sigma, any_time, *q_.volume});
    if (!out) return out.problem();
    a_.figure("clear_time", Dimension::duration, out->clear_flow, fall_inputs());
    a_.figure("smallest_blockage", Dimension::quality, out->smallest_shown, fall_inputs());
    return fall_curve();
  }

  // The clear tube's own course from the supply down, the measured end beside it.
  std::optional<Problem> fall_curve() {
    constexpr int kPoints = 12, kSteps = 8;
    const double T = q_.supply.temperature.value, p = q_.supply.pressure.value, p_to = q_.supply.p_to;
    const auto gas = procedures::nitrogen_between(nitrogen_, T, *q_.fell_to, p, p_to);
    if (!gas) return gas.problem();
    const procedures::VesselModel vessel = [&](double at) -> Result<procedures::VesselGas> {
      const procedures::Gas here = (*gas)(at);
      return procedures::VesselGas{here, at / (here.gas_constant * here.compressibility * T)};
    };
    Curve curve{"fall_curve", "time", "pressure", Dimension::duration, Dimension::pressure, false, {}};
    curve.lines = {{"clear_time", "predicted", {{0, p}}}};
    double t = 0, before = p;
    for (int i = 1; i <= kPoints; ++i) {
      const double here = p * std::pow(*q_.fell_to / p, static_cast<double>(i) / kPoints);
      const auto more =
          procedures::time_to_fall(vessel, tube_, q_.volume->value, T, before, here, p_to, kSteps);
      if (!more) return more.problem();
      t += *more;
      before = here;
      curve.lines[0].points.emplace_back(t, here);
    }
    if (q_.seconds)
      curve.lines.push_back({"measured_fall", "measured", {{0, p}, {q_.seconds->value, *q_.fell_to}}});
    a_.curve(curve);
    return std::nullopt;
  }

  void judge(const procedures::Blockage& b) {
    auto inputs = q_.flow ? tube_inputs() : fall_inputs();
    if (q_.flow)
      inputs.push_back(input("flow", Dimension::mass_flow, q_.flow->value, 1));
    else
      a_.figure("clear_time", Dimension::duration, b.clear_flow, inputs);
    a_.figure("blocked_share", Dimension::quality, b.blocked, inputs);
    a_.figure_text("clear_probability", b.probability_clear,
                   probability_text(b.probability_clear, 0, a_.display().numerals), inputs);
    a_.figure("smallest_blockage", Dimension::quality, b.smallest_shown, inputs);
    const diagnosis::Value low{"low", Unit::percent, 100 * std::max(b.blocked.low, 0.0)},
        high{"high", Unit::percent, 100 * std::max(b.blocked.high, 0.0)};
    const std::pair<std::string, std::string> clear{
        "probability", probability_text(b.probability_clear, 0, a_.display().numerals)};
    const bool stopped = q_.flow && q_.flow->value == 0;
    if (stopped) {
      a_.verdict({"stopped", {}, {}});
    } else if (b.blocked.high < 0) {
      a_.verdict({"passes_more", {{"more", Unit::percent, -100 * b.blocked.mid}}, {}});
    } else if (b.probability_clear >= 0.9) {
      a_.verdict({"clear", {}, {clear}});
    } else if (b.probability_clear <= 0.1 && b.blocked.low > 0) {
      a_.verdict({"blocked", {low, high}, {clear}});
    } else {
      a_.verdict({"undecided", {low, high}, {clear}});
    }
    if (b.smallest_shown > 0.3)
      a_.say({"spread_too_wide", {{"smallest", Unit::percent, 100 * b.smallest_shown}}, {}});
    a_.say({"bore_matters", {}, {}});
    if (q_.seconds) a_.say({"fall_is_isothermal", {}, {}});
  }

  std::optional<Problem> bores(const procedures::Gas& gas, const procedures::Blockage& b) {
    const double share = 1 - b.blocked.mid;
    if (!(share > 0) || share >= 1) return std::nullopt;
    const auto left = procedures::remaining_bore(gas, tube_, q_.supply.pressure.value,
                                                 q_.supply.temperature.value, q_.supply.p_to, share * clear_);
    if (!left) return left.problem();
    auto inputs = tube_inputs();
    inputs.push_back({"flow_share", base::show(Dimension::quality, share, a_.display()).text()});
    a_.figure("bore_left", Dimension::length, left->bore, inputs, kBoreDecimals);
    if (left->hole) a_.figure("hole_left", Dimension::length, *left->hole, inputs, kBoreDecimals);
    return std::nullopt;
  }

  ProcedureAnswer& a_;
  const CapillaryQuestion& q_;
  const fluids::Fluid& nitrogen_;
  procedures::Tube tube_;
  double clear_ = 0;
};

}  // namespace

Result<std::string> run_capillary(std::string_view text, const Context& context) {
  auto request = opened_request(text, "capillary", capillary_keys());
  if (!request) return request.problem();
  const base::SitePressure site = request->site();
  const auto units = request->units();
  std::optional<base::UnitSystem> spoken_in;
  if (request->problem()) return *request->problem();
  const auto question = ask_capillary(*request, site, spoken_in);
  if (!question) return question.problem();
  const auto nitrogen = load_fluid("R728");
  if (!nitrogen) return nitrogen.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const base::Display display{choose_units(units, spoken_in, context), site, wording->numerals()};
  ProcedureAnswer answer("capillary", *wording, display);
  for (const char* caution :
       {"caution_empty_first", "caution_nitrogen_regulator", "caution_not_oxygen", "caution_relief",
        "caution_stand_aside", "caution_vent_nitrogen", "caution_defer"})
    answer.caution({caution, {}, {}});
  CapillaryTeller teller(answer, *question, *nitrogen);
  if (const auto problem = teller.tell()) return *problem;
  return answer.text();
}

}  // namespace coldwright::service

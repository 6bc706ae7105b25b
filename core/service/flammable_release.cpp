// Use case "flammable": how a charge that is let out thins, outdoors and in the room.
#include <cmath>

#include "procedures/release.hpp"
#include "service/flammable_parts.hpp"
#include "service/tool_parts.hpp"

namespace coldwright::service::flammable {
namespace {

using diagnosis::Interval;

constexpr double kAirMass = 0.0289652, kGasConstant = 8.314462618;  // kg/mol, J/(mol K)

/// Decimals more than usual: tenths of a metre, none of a millimetre.
int tenths(double metres) { return metres >= 1 ? 1 : 0; }

}  // namespace

Result<Outdoors> outdoors(Sheet& s) {
  const Question& q = s.q;
  Outdoors o;
  o.calm = procedures::half_sphere(q.charge, s.chosen);
  s.answer.figure("calm_radius", Dimension::length, o.calm, {s.charge(), s.lower(), s.share()},
                  tenths(o.calm));
  if (!(q.p > q.air.p)) {
    s.answer.say({"no_outflow", {}, {word("t", Dimension::temperature, q.air.T, s.display)}});
    return o;
  }
  const auto flow = procedures::hose_outflow(s.fluid, {q.bore, 1}, q.length, q.p, q.air.T, q.air.p);
  if (!flow) return flow.problem();
  o.flow = flow->flow;
  o.seconds = q.charge / o.flow;
  const FigureInput bore{
      "opening_bore",
      base::show(Dimension::length, q.bore, {base::UnitSystem::metric, s.display.site, s.display.numerals}, 1)
          .text()};
  const FigureInput outflow = input("release_flow", Dimension::mass_flow, o.flow, s.display);
  s.answer.figure("release_flow", Dimension::mass_flow, o.flow,
                  {input("vapour_pressure", Dimension::pressure, q.p, s.display), s.temperature(), bore,
                   input("hose_length", Dimension::length, q.length, s.display, 1)});
  s.answer.figure("release_time_least", Dimension::duration, o.seconds, {s.charge(), outflow});
  const auto left = procedures::left_cold(s.fluid, q.air.T, q.air.p);
  if (!left) return left.problem();
  o.left = *left;
  s.answer.figure("left_cold", Dimension::quality, o.left,
                  {input("liquid_temperature", Dimension::temperature, q.air.T, s.display)});
  const FigureInput wind{"wind_speed", speed_text(q.wind, s.display)};
  o.wind = procedures::wind_section(o.flow, q.wind, s.chosen);
  s.answer.figure("wind_radius", Dimension::length, o.wind, {outflow, wind, s.lower(), s.share()},
                  tenths(o.wind));
  const double near = procedures::plume_distance(o.flow, q.wind, s.chosen, procedures::Air::neutral);
  const double far = procedures::plume_distance(o.flow, q.wind, s.chosen, procedures::Air::still_night);
  s.answer.figure("plume_reach", Dimension::length, Interval{near, std::sqrt(near * far), far},
                  {outflow, wind, s.lower(), s.share()}, 1);
  const auto jet = procedures::expanded(s.fluid, *flow, q.air.T, q.air.p);
  if (!jet) {
    s.answer.say({"jet_not_reckoned", {}, {}});
    return o;
  }
  const double air = q.air.p * kAirMass / (kGasConstant * q.air.T);
  const auto reach = [&](double K) { return procedures::jet_distance(*jet, air, s.chosen, K); };
  o.jet = Interval{reach(procedures::kJetLow), reach(procedures::kJetMid), reach(procedures::kJetHigh)};
  o.momentum = procedures::momentum_reach(*jet, air);
  const base::Display metric{base::UnitSystem::metric, s.display.site, s.display.numerals};
  const FigureInput expanded{"expanded_bore", base::show(Dimension::length, jet->bore, metric, 1).text()};
  const FigureInput density = input("gas_density", Dimension::density, jet->density, s.display, 1);
  s.answer.figure("jet_reach", Dimension::length, *o.jet,
                  {expanded,
                   density,
                   s.lower(),
                   s.share(),
                   {"jet_constant", base::number_text(procedures::kJetMid, 1, s.display.numerals)}},
                  1);
  s.answer.figure("jet_momentum", Dimension::length, *o.momentum,
                  {expanded, density, {"gas_velocity", speed_text(jet->velocity, s.display)}},
                  tenths(*o.momentum));
  return o;
}

void indoors(Sheet& s, double seconds) {
  const Question& q = s.q;
  if (!q.volume) return;
  const double peak = procedures::room_peak(q.charge, seconds, *q.volume, q.changes);
  const double airing = procedures::airing_time(peak, s.chosen, q.changes);
  const std::string changes = base::number_text(q.changes * 3600, 1, s.display.numerals);
  const FigureInput in_room = input("room_volume", Dimension::volume, *q.volume, s.display);
  s.answer.figure("room_peak_share", Dimension::quality, peak / s.here,
                  {s.charge(),
                   in_room,
                   {"air_changes", changes},
                   input("release_time", Dimension::duration, seconds, s.display),
                   s.lower()});
  s.answer.figure("airing_time", Dimension::duration, airing,
                  {input("room_peak", Dimension::density, peak, s.display, 2),
                   {"air_changes", changes},
                   s.lower(),
                   s.share()});
  if (peak <= s.chosen) {
    s.answer.say({"indoors_below",
                  {},
                  {word("peak", Dimension::quality, peak / s.here, s.display),
                   word("share", Dimension::quality, q.share, s.display)}});
    return;
  }
  s.answer.say({"indoors",
                {},
                {word("peak", Dimension::quality, peak / s.here, s.display),
                 {"changes", changes},
                 word("time", Dimension::duration, airing, s.display),
                 word("share", Dimension::quality, q.share, s.display)}});
}
void dilution(Sheet& s, const Outdoors& o) {
  const Question& q = s.q;
  const base::Display metric{base::UnitSystem::metric, s.display.site, s.display.numerals};
  if (o.jet) {
    s.answer.say(
        {"how_released",
         {},
         {{"bore", base::show(Dimension::length, q.bore, metric, 1).text()},
          word("length", Dimension::length, q.length, s.display, 1),
          word("flow", Dimension::mass_flow, o.flow, s.display),
          word("share", Dimension::quality, q.share, s.display),
          {"jet", range_text(Dimension::length, o.jet->low, o.jet->high, s.display, s.answer.wording(), 1)},
          word("calm", Dimension::length, o.calm, s.display, tenths(o.calm)),
          {"wind", speed_text(q.wind, s.display)},
          word("section", Dimension::length, o.wind, s.display, tenths(o.wind))}});
    if (*o.momentum < o.jet->high)
      s.answer.say(
          {"jet_sinks", {}, {word("reach", Dimension::length, *o.momentum, s.display, tenths(*o.momentum))}});
  }
  s.answer.say({"assumptions",
                {},
                {word("pressure", Dimension::pressure, q.p, s.display),
                 word("t", Dimension::temperature, q.air.T, s.display)}});
}

}  // namespace coldwright::service::flammable

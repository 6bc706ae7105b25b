#include "drawing/cycle.hpp"

#include <cmath>

namespace coldwright::drawing {
namespace {

using fluids::Fluid;
using fluids::State;

/// Along one pressure, with the corners at the dew and bubble points.
void isobar(const Fluid& fluid, double p, double h_from, double h_to, std::vector<Sample>& way) {
  std::vector<double> stops = {h_from, h_to};
  if (const auto line = fluid.saturation_at_p(p))
    for (const double h : {line->vapour.h, line->liquid.h})
      if ((h - h_from) * (h - h_to) < 0) stops.insert(stops.end() - 1, h);
  if (stops.size() == 4 && (stops[2] - stops[1]) * (h_to - h_from) < 0) std::swap(stops[1], stops[2]);
  for (std::size_t k = 1; k < stops.size(); ++k)
    for (int i = 1; i <= 10; ++i)
      if (const auto state = fluid.at_ph(p, stops[k - 1] + (stops[k] - stops[k - 1]) * i / 10))
        way.push_back(sample(*state));
}

void expansion(const Fluid& fluid, double p_from, double p_to, double h, std::vector<Sample>& way) {
  for (int i = 1; i <= 24; ++i) {
    const double p = p_from * std::pow(p_to / p_from, i / 24.0);
    if (const auto state = fluid.at_ph(p, h)) way.push_back(sample(*state));
  }
}

void compression(const Fluid& fluid, const State& in, const State& out, double efficiency,
                 std::vector<Sample>& way) {
  way.push_back(sample(in));
  for (int i = 1; i < 16; ++i) {
    const double p = in.p * std::pow(out.p / in.p, i / 16.0);
    const auto ideal = fluid.at_ps(p, in.s);
    if (!ideal) continue;
    if (const auto state = fluid.at_ph(p, in.h + (ideal->h - in.h) / efficiency))
      way.push_back(sample(*state));
  }
  way.push_back(sample(out));
}

Result<State> entering(const Fluid& fluid, const CycleGiven& given) {
  if (given.superheat <= 0) return fluid.at_px(given.p_low, 1);
  const auto dew = fluid.dew_temperature(given.p_low);
  if (!dew) return dew.problem();
  return fluid.at_Tp(*dew + given.superheat, given.p_low);
}

Result<State> leaving(const Fluid& fluid, const CycleGiven& given, const State& in) {
  if (given.T_discharge) return fluid.at_Tp(*given.T_discharge, given.p_high);
  const auto ideal = fluid.at_ps(given.p_high, in.s);
  if (!ideal) return ideal.problem();
  return fluid.at_ph(given.p_high, in.h + (ideal->h - in.h) / given.efficiency);
}

Result<State> liquid(const Fluid& fluid, const CycleGiven& given) {
  if (given.subcooling <= 0) return fluid.at_px(given.p_high, 0);
  const auto bubble = fluid.bubble_temperature(given.p_high);
  if (!bubble) return bubble.problem();
  return fluid.at_Tp(*bubble - given.subcooling, given.p_high);
}

}  // namespace

std::array<std::pair<const char*, const State*>, 4> corners(const Cycle& cycle) {
  return {{{"into_compressor", &cycle.compressor_in},
           {"out_of_compressor", &cycle.compressor_out},
           {"leaving_condenser", &cycle.liquid},
           {"into_evaporator", &cycle.coil_in}}};
}

Result<Cycle> make_cycle(const Fluid& fluid, const CycleGiven& given) {
  const auto in = entering(fluid, given);
  if (!in) return in.problem();
  const auto out = leaving(fluid, given, *in);
  if (!out) return out.problem();
  const auto condensed = liquid(fluid, given);
  if (!condensed) return condensed.problem();
  const auto coil = fluid.at_ph(given.p_low, condensed->h);
  if (!coil) return coil.problem();
  Cycle cycle{*in, *out, *condensed, *coil, {}, given.superheat, given.subcooling};
  const auto ideal = fluid.at_ps(given.p_high, in->s);
  const double rise = out->h - in->h;
  const double efficiency = ideal && rise > 0 ? (ideal->h - in->h) / rise : 1;
  compression(fluid, *in, *out, efficiency, cycle.way);
  isobar(fluid, given.p_high, out->h, condensed->h, cycle.way);
  expansion(fluid, given.p_high, given.p_low, condensed->h, cycle.way);
  isobar(fluid, given.p_low, coil->h, in->h, cycle.way);
  return cycle;
}

}  // namespace coldwright::drawing

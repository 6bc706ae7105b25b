#include "procedures/parts.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "circuit/operating_point.hpp"
#include "diagnosis/findings.hpp"
#include "procedures/worth.hpp"

namespace coldwright::procedures {
namespace {

constexpr std::array<double, 3> kRatings{249.85, 266.45, 280.35};  // K (common practice)
constexpr double kHorsepower = 745.7;                              // W

circuit::Conditions at_set_point(const circuit::Machine& m, double ambient, double site_pressure,
                                 double voltage_factor = 1) {
  return {ambient, m.set_point, m.compressor.rated_voltage * voltage_factor,
          circuit::air_density_ratio(site_pressure)};
}

Problem none_runs(const Belief& belief) {
  return {"cabinet", belief.kind.id, "a machine that runs at its set point in this air",
          "none of the machines drawn has a steady state there"};
}

class Tally {
 public:
  void add(double value) { values_.push_back({value, 1}); }
  diagnosis::Interval interval() const { return diagnosis::interval_of(values_); }
  int count() const { return static_cast<int>(values_.size()); }

 private:
  std::vector<diagnosis::Weighted> values_;
};

}  // namespace

BackPressure back_pressure_of(double evaporating) {
  std::size_t best = 0;
  for (std::size_t i = 1; i < kRatings.size(); ++i)
    if (std::abs(evaporating - kRatings[i]) < std::abs(evaporating - kRatings[best])) best = i;
  return static_cast<BackPressure>(best);
}

StartKind start_of(double shaft_power) {
  const double hp = shaft_power / kHorsepower;
  if (hp <= 1.0 / 3) return StartKind::resistance;
  return hp <= 0.75 ? StartKind::capacitor_start : StartKind::capacitor_start_run;
}

Result<PartSizes> part_sizes(const Belief& belief, double ambient, double site_pressure) {
  Tally bore, length, displacement, evaporating, cooling, input, current, charge, volume;
  PartSizes out{};
  for (const BelievedMachine& b : belief.machines) {
    const circuit::Machine& m = b.machine;
    bore.add(m.capillary.diameter);
    length.add(m.capillary.length);
    displacement.add(m.compressor.displacement);
    charge.add(m.charge);
    volume.add(m.condenser.volume + m.evaporator.volume + m.vessels.liquid_line + m.vessels.shell);
    const circuit::OperatingPoint p =
        circuit::operate(m, *belief.fluid, at_set_point(m, ambient, site_pressure), {});
    if (p.summary.status != circuit::Status::converged) continue;
    evaporating.add(p.T_evaporating);
    cooling.add(p.capacity);
    input.add(p.power);
    current.add(p.current);
    ++out.back_pressure[static_cast<std::size_t>(back_pressure_of(p.T_evaporating))];
    const circuit::Compressor& c = m.compressor;
    const double shaft = p.power - c.iron_loss - c.winding_ohms * p.current * p.current;
    ++out.start[static_cast<std::size_t>(start_of(shaft))];
  }
  if (evaporating.count() == 0) return none_runs(belief);
  for (double& p : out.back_pressure) p /= evaporating.count();
  for (double& p : out.start) p /= evaporating.count();
  out.capillary_bore = bore.interval();
  out.capillary_length = length.interval();
  out.displacement = displacement.interval();
  out.evaporating = evaporating.interval();
  out.cooling = cooling.interval();
  out.input = input.interval();
  out.current = current.interval();
  out.charge = charge.interval();
  out.circuit_volume = volume.interval();
  out.machines = evaporating.count();
  return out;
}

Result<YearlyEnergy> yearly_energy_of(const Belief& belief, double ambient, double site_pressure) {
  Tally sound, now, share_sound, share_now;
  double holds = 0, runs = 0, all = 0;
  for (const BelievedMachine& b : belief.machines) {
    const circuit::Machine& m = b.machine;
    const circuit::Conditions c = at_set_point(m, ambient, site_pressure);
    const circuit::OperatingPoint built = circuit::operate(m, *belief.fluid, c, {});
    if (built.summary.status != circuit::Status::converged) continue;
    const double load = m.load_per_kelvin * std::max(ambient - m.set_point, 2.0);
    const double share = std::min(load / built.capacity, 1.0);
    sound.add(yearly_energy(built.power, share));
    share_sound.add(share);
    all += 1;
    if (b.effects.mode != diagnosis::Mode::running) continue;
    if (!b.effects.departure.pumps) {
      // it turns all the time and moves nothing
      const circuit::OperatingPoint idle = circuit::equalise(m, *belief.fluid, c, b.effects.departure, true);
      runs += 1;
      now.add(yearly_energy(idle.power, 1));
      share_now.add(1);
      continue;
    }
    const circuit::OperatingPoint is =
        circuit::operate(m, *belief.fluid, at_set_point(m, ambient, site_pressure, b.effects.voltage_factor),
                         b.effects.departure, &built.solution);
    if (is.summary.status != circuit::Status::converged) continue;
    const double needed = load * b.effects.load_factor / is.capacity;
    runs += 1;
    holds += needed <= 1;
    now.add(yearly_energy(is.power, std::min(needed, 1.0)));
    share_now.add(std::min(needed, 1.0));
  }
  if (sound.count() == 0) return none_runs(belief);
  return YearlyEnergy{sound.interval(), now.interval(), share_sound.interval(), share_now.interval(),
                      holds / all,      runs / all,     sound.count()};
}

}  // namespace coldwright::procedures

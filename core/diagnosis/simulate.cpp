#include "diagnosis/simulate.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::diagnosis {
// The world may be built otherwise than our population: coils as a whole larger or smaller, more or less
// liquid held up, another suction exchanger, plates tied more loosely to running currents, worse clamp
// contact. Spreads are our estimate; they keep the answer honest on machines unlike those described
// (bench/diagnosis_table.cpp).
circuit::Shift doubted(const Scene& scene, const Latents& z) {
  circuit::Shift s = scene.shift;
  const auto factor = [&](Extra e, double spread) { return std::exp(scene.doubt * spread * z[index(e)]); };
  s.evaporator_td *= factor(Extra::doubt_td, 0.14);
  s.condenser_split *= factor(Extra::doubt_split, 0.14);
  s.hold_up *= factor(Extra::doubt_hold_up, 0.30);
  s.exchange *= factor(Extra::doubt_exchange, 0.18);
  s.plate_current_spread *= 1 + 0.7 * scene.doubt;
  return s;
}

namespace {

using circuit::ReadingKind;

constexpr double kOpenWinding = 1e6;  // ohm, what an open circuit counts as

Effects effects_of(const Scene& scene, const Hypothesis& h, const Latents& z, Simulated& out) {
  Effects e;
  for (std::size_t i = 0; i < h.causes.size(); ++i) {
    const CauseInfo& cause = scene.knowledge->causes[static_cast<std::size_t>(h.causes[i])];
    const double zs = z[index(i == 0 ? Extra::severity : Extra::severity_2)];
    const double s = severity_of(cause, zs);
    const double variant = normal_cdf(z[index(i == 0 ? Extra::variant : Extra::variant_2)]);
    (i == 0 ? out.severity : out.severity_2) = s;
    (i == 0 ? out.severity_share : out.severity_share_2) = normal_cdf(zs);
    Effects one;
    one.departure = e.departure;
    one.voltage_factor = e.voltage_factor;
    one.load_factor = e.load_factor;
    one.mode = e.mode;
    one.always_a_complaint = e.always_a_complaint;
    one.called_for = e.called_for;
    apply_cause(cause.id, s, variant, one);
    one.cools_as_sound = one.cools_as_sound && (i == 0 || e.cools_as_sound);
    e = one;
  }
  return e;
}

// A clamp reads between the pipe and the air around it.
double clamp(double pipe, double air, double pull) { return pipe + pull * (air - pipe); }

// Foreign gas is swept towards the condenser's end. There the liquid lies under it and comes nearer to the
// air, by this share of the way that is left for a mean gas pressure of so much; half-way through the coil
// there is less of it than in the mean, so that the tube is warmer. For the readings alone, since the balance
// knows the mean. Our estimate, sized on the virtual cabinet, where the gas travels by itself.
constexpr double kGasCools = 5e5;       // Pa
constexpr double kGasPastMiddle = 0.3;  // share of the mean that is missing half-way

struct UnderGas {
  double middle, liquid;  // K, of the tube
};

UnderGas under_gas(const circuit::OperatingPoint& p, const circuit::WorkingFluid& f, double foreign,
                   double air) {
  if (!(foreign > 0) || p.T_liquid <= air || p.summary.status == circuit::Status::equalised)
    return {p.T_condenser_middle, p.T_liquid};
  const double pressure =
      std::min(p.p_condensing + kGasPastMiddle * foreign, f.saturation_pressure(f.T_high()));
  return {p.T_condenser_middle + f.saturation(std::log(pressure)).T - p.T_condensing,
          air + (p.T_liquid - air) * std::exp(-foreign / kGasCools)};
}

void fill_readings(const circuit::Machine& m, const circuit::WorkingFluid& fluid, const Effects& e,
                   double voltage, double rotor, double pull, Simulated& s) {
  const circuit::OperatingPoint& p = s.point;
  const UnderGas under = under_gas(p, fluid, e.departure.noncondensable, s.true_ambient);
  const auto set = [&](ReadingKind kind, double value) {
    s.readings[static_cast<std::size_t>(kind)] = value;
  };
  set(ReadingKind::suction_pressure, p.p_suction);
  set(ReadingKind::discharge_pressure, p.p_discharge);
  set(ReadingKind::evaporator_inlet_temp,
      clamp(s.mode == Mode::running || s.mode == Mode::tripped ? p.T_evaporating : s.true_box, s.true_box,
            pull));
  if (p.summary.status == circuit::Status::equalised) set(ReadingKind::evaporator_inlet_temp, s.true_box);
  set(ReadingKind::evaporator_outlet_temp, clamp(p.T_evaporator_out, s.true_box, pull));
  set(ReadingKind::suction_line_temp, clamp(p.T_suction, s.true_ambient, pull));
  set(ReadingKind::discharge_line_temp, clamp(p.T_discharge, s.true_ambient, pull));
  set(ReadingKind::condenser_middle_temp, clamp(under.middle, s.true_ambient, pull));
  set(ReadingKind::liquid_line_temp, clamp(under.liquid, s.true_ambient, pull));
  set(ReadingKind::shell_temp, clamp(p.T_shell, s.true_ambient, pull));
  set(ReadingKind::evaporator_air_out_temp, p.T_evaporator_air_out);
  set(ReadingKind::condenser_air_out_temp, p.T_condenser_air_out);
  double current = p.current;
  if (s.mode == Mode::off) current = 0;
  if (s.mode == Mode::locked) current = m.design_current * rotor * voltage / m.compressor.rated_voltage;
  set(ReadingKind::compressor_current, current);
  set(ReadingKind::supply_voltage, voltage);
  set(ReadingKind::terminal_voltage, e.control_open ? 0 : voltage);
  const double cold = 1 / 1.2;  // copper about 50 K warmer in service than when measured
  set(ReadingKind::run_winding_ohms, e.winding_open ? kOpenWinding : m.compressor.winding_ohms * cold);
  set(ReadingKind::start_winding_ohms, m.compressor.start_winding_ohms * cold);
}

// Share of the shortfall that wouldn't be there without the cause. On the hottest days many a sound cabinet
// can't carry its load: that call is one of heat, not of the few grams too much that it may hold as well.
double due_to_the_cause(const Scene& scene, const circuit::Machine& m, circuit::Conditions c,
                        const Effects& e, const Simulated& s, circuit::Solution near) {
  const double usual_load = s.load / e.load_factor;
  // No need to solve for what even a pessimistic reckoning carries: capacity falls on either side of the
  // design point, by 1 %/K and 4 % at 6 K in the middle of our populations, by twice that at their edge.
  const double d = std::abs(c.ambient - m.design_ambient);
  if (m.design_capacity * (1 - 0.012 * d - 0.0015 * d * d) > 1.1 * usual_load) return 1;
  c.voltage /= e.voltage_factor;
  near.x = {m.lnp_e0, c.ambient + m.split0, m.h_eo0};
  const circuit::OperatingPoint sound = circuit::operate(m, *scene.fluid, c, {}, &near);
  if (sound.summary.status != circuit::Status::converged) return 1;
  const double shortfall = std::max(1.1 * s.load - s.capacity_at_set_point, 0.05 * s.load);
  return 1 - std::clamp((1.1 * usual_load - sound.capacity) / shortfall, 0.0, 1.0);
}

// Chance that a machine of this cooling capacity would have been called for: it can't carry 1.1 times its
// load. Load on a sound machine is called for as its prior says.
double complaint_chance(const Scene& scene, const circuit::Machine& m, circuit::Conditions c,
                        const Effects& e, Simulated& s) {
  if (s.mode == Mode::tripped || e.always_a_complaint) return 1;
  if (e.cools_as_sound && (scene.not_cooling || e.load_factor == 1)) return scene.not_cooling ? 1 : 0;
  c.box = m.set_point;
  circuit::Solution near =
      s.point.solution;  // the slopes of this moment serve; the start is the design point
  near.known = near.known && !near.tripped;
  near.x = {m.lnp_e0, c.ambient + m.split0, m.h_eo0};
  const circuit::OperatingPoint at_rest = circuit::operate(m, *scene.fluid, c, e.departure, &near);
  if (at_rest.summary.status == circuit::Status::tripped) return 1;
  if (at_rest.summary.status == circuit::Status::failed) return 0.5;
  s.load = m.load_per_kelvin * std::max(c.ambient - m.set_point, 2.0) * e.load_factor;
  s.capacity_at_set_point = at_rest.capacity;
  double fails = normal_cdf((1.1 * s.load - at_rest.capacity) / (0.05 * s.load));
  if (scene.not_cooling && fails > 1e-4) fails *= due_to_the_cause(scene, m, c, e, s, at_rest.solution);
  return std::max(1 - (1 - fails) * (1 - e.called_for), 1e-4);
}

// "No complaint" is said of a box that doesn't hold in one call of twenty: not noticed yet, or asked of the
// wrong person (our estimate).
constexpr double kUnnoticed = 0.05;
double chance_of_what_was_said(const Scene& scene, const circuit::Machine& m, const circuit::Conditions& c,
                               const Effects& e, Simulated& s) {
  if (scene.not_cooling) return complaint_chance(scene, m, c, e, s);
  if (scene.no_complaint) return 1 - (1 - kUnnoticed) * complaint_chance(scene, m, c, e, s);
  return 1;
}

// The machine of these latents (already in their place), and what it stands in; notes severities,
// surroundings and the motor's state in `s`.
std::optional<Built> assemble(const Scene& scene, const Hypothesis& h, const Latents& z, Simulated& s) {
  circuit::MachineLatents mz{};
  std::copy(z.begin(), z.begin() + circuit::kMachineLatents, mz.begin());
  auto machine = circuit::machine_from(mz, *scene.plate, *scene.kind, *scene.fluid, doubted(scene, z));
  if (!machine) return std::nullopt;
  Built built{std::move(*machine), effects_of(scene, h, z, s), {}};
  Effects& e = built.effects;
  e.departure.charge = std::max(e.departure.charge - scene.let_out / built.machine.charge, 0.02);
  s.mode = e.mode;
  s.by_degree = scene.not_cooling && !e.always_a_complaint && !e.cools_as_sound;
  s.true_ambient = scene.ambient + scene.ambient_sigma * z[index(Extra::ambient_error)];
  s.true_box = std::min(scene.box + scene.box_sigma * z[index(Extra::box_error)], s.true_ambient + 15);
  const double voltage =
      built.machine.compressor.rated_voltage * e.voltage_factor * (1 + 0.015 * z[index(Extra::supply)]);
  built.conditions = {s.true_ambient, s.true_box, voltage, circuit::air_density_ratio(scene.site_pressure)};
  return built;
}

}  // namespace

Simulated simulate(const Scene& scene, const Hypothesis& h, const Latents& z, const circuit::Solution* near) {
  if (scene.prior != nullptr) {
    Scene plain = scene;
    plain.prior = nullptr;
    return simulate(plain, h, scene.prior->place(z), near);
  }
  Simulated s;
  const auto built = assemble(scene, h, z, s);
  if (!built) return s;
  const circuit::Machine& machine = built->machine;
  const Effects& e = built->effects;
  const circuit::Conditions& c = built->conditions;
  if (s.mode == Mode::running) {
    s.point = circuit::operate(machine, *scene.fluid, c, e.departure, near);
    if (s.point.summary.status == circuit::Status::tripped) s.mode = Mode::tripped;
  } else {
    s.point = circuit::equalise(machine, *scene.fluid, c, e.departure, false);
  }
  if (s.point.summary.status == circuit::Status::failed) return s;
  s.ok = true;
  s.charge = machine.charge * e.departure.charge;
  s.unloaded_current = circuit::motor(machine.compressor, machine.compressor.friction, c.voltage).current;
  const double pull_high = scene.pull_high + 0.08 * scene.doubt;
  const double pull = scene.pull_low + (pull_high - scene.pull_low) * normal_cdf(z[index(Extra::clamp_pull)]);
  const double rotor = 4 + 2.5 * normal_cdf(z[index(Extra::rotor)]);
  fill_readings(machine, *scene.fluid, e, c.voltage, rotor, pull, s);
  const circuit::OperatingPoint rest = circuit::equalise(machine, *scene.fluid, c, e.departure, false);
  s.readings[static_cast<std::size_t>(ReadingKind::standing_pressure)] = rest.p_suction;
  s.complaint = chance_of_what_was_said(scene, machine, c, e, s);
  return s;
}

std::optional<Built> build(const Scene& scene, const Hypothesis& h, const Latents& z) {
  Simulated unused;
  return assemble(scene, h, scene.prior == nullptr ? z : scene.prior->place(z), unused);
}

}  // namespace coldwright::diagnosis

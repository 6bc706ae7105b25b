#include "lab/simulation.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace coldwright::lab {

namespace {

constexpr double kInrush = 0.4;         // s until a healthy motor is at speed
constexpr double kOverloadCloses = 45;  // K of the bimetal above its surroundings

double exponential(RandomStream& random, double mean) { return -mean * std::log(random.uniform()); }

}  // namespace

void build_in(const Fault& f, Cabinet& c) {
  if (f.id == "low_charge" && f.ramp == 0) c.charge *= 1 - f.severity;
  if (f.id == "overcharge") c.charge *= 1 + f.severity;
  if (f.id == "noncondensable") {
    // the partial pressure it has once it sits in the condenser's half that holds gas
    const double space = 0.5 * c.condenser.volume + c.shell.plenum;
    c.foreign_gas += f.severity * space / (kGasConstant * 315);
  }
}

Condition condition_at(const std::vector<Fault>& faults, double time) {
  Condition is;
  for (const Fault& f : faults) {
    if (time < f.begins) continue;
    const double grown = f.ramp > 0 ? std::min((time - f.begins) / f.ramp, 1.0) : 1;
    const double s = f.severity * grown;
    if (f.id == "high_load") {
      is.load *= 1 + (f.severity - 1) * grown;
    } else if (f.id == "control") {
      is.control_open = true;
    } else if (f.id == "start_or_winding") {
      (f.variant < 0.5 ? is.rotor_stuck : is.winding_open) = true;
    } else if (f.id == "low_voltage") {
      is.voltage *= 1 - (1 - f.severity) * grown;
    } else if (f.id == "worn_valves") {
      is.suction_leak = 0.9 * s * f.variant;
      is.discharge_leak = s * (1 - f.variant);
    } else if (f.id == "not_pumping") {
      is.pumps = false;
    } else if (f.id == "low_charge" && f.ramp > 0) {
      is.leak = f.severity;  // kg/s at the design's suction pressure
    } else if (f.id == "restriction") {
      is.capillary_open *= 1 - s;
    } else if (f.id == "moisture_freeze") {
      is.ice_plug = f.severity;
    } else if (f.id == "dirty_condenser") {
      is.condenser_air *= 1 - s;
      is.condenser_surface *= 1 - 0.3 * s;
    } else if (f.id == "condenser_fan") {
      is.condenser_air *= 1 - s;
    } else if (f.id == "evaporator_fan") {
      is.evaporator_air *= 1 - s;
    } else if (f.id == "hunting") {
      // Feed that swings, as slugs of oil or vapour in the tube make it; period one to three minutes.
      is.capillary_open *= 1 - 0.5 * s * (1 + std::sin(2 * std::numbers::pi * time / (60 + 120 * f.variant)));
    } else if (f.id == "iced_evaporator") {
      is.defrost_dead = true;
    }
  }
  return is;
}

Simulation::Simulation(Cabinet cabinet, std::shared_ptr<const Refrigerant> refrigerant, Life life,
                       RandomStream random)
    : life_(std::move(life)), random_(random) {
  for (const Fault& f : life_.faults) build_in(f, cabinet);
  plant_ = std::make_unique<Plant>(std::move(cabinet), std::move(refrigerant));
  std::vector<double> y = plant_->at_rest(life_.start, life_.start_box);
  const Layout& l = plant_->layout();
  for (int i = 0; i < l.evaporator; ++i)
    y[static_cast<std::size_t>(l.frost_at + i)] = life_.start_frost / l.evaporator;
  if (life_.start_frost > 0)
    for (int i = 0; i < l.evaporator; ++i)
      y[static_cast<std::size_t>(l.metal_at + l.first_evaporator + i)] = std::min(life_.start_box, 272.0);
  integrator_ = std::make_unique<Integrator>(*plant_, std::move(y), life_.tolerance);
  const Box& box = plant_->cabinet().box;
  next_door_ = life_.doors && box.doors_per_hour > 0 ? exponential(random_, 3600 / box.doors_per_hour)
                                                     : std::numeric_limits<double>::infinity();
  const double every = plant_->cabinet().control.defrost_every;
  next_defrost_ = every > 0 && !life_.hold_box ? (0.3 + 0.7 * random_.uniform()) * every
                                               : std::numeric_limits<double>::infinity();
}

Condition Simulation::condition() const {
  Condition is = condition_at(life_.faults, time());
  is.pumps = is.pumps && pumping_;
  return is;
}

void Simulation::decide() {
  const double now = time();
  const Cabinet& c = plant_->cabinet();
  const Layout& l = plant_->layout();
  const std::vector<double>& y = integrator_->state();
  const auto state = [&y](int i) { return y[static_cast<std::size_t>(i)]; };

  for (const Fault& f : life_.faults)
    if (f.id == "pumping_lost_at_times" && now >= f.begins && now >= next_turn_) {
      pumping_ = next_turn_ > 0 ? !pumping_ : f.variant >= 0.5;
      next_turn_ = now + exponential(random_, pumping_ ? 1500 : 1100) + 60;
    }
  const Condition is = condition();

  if (now >= next_door_ && !door_open_) {
    door_open_ = true;
    door_until_ = now + c.box.door_seconds * (0.5 + random_.uniform());
  } else if (door_open_ && now >= door_until_) {
    door_open_ = false;
    next_door_ = now + exponential(random_, 3600 / (c.box.doors_per_hour * is.load));
  }

  const double off_for = now - stopped_;
  if (calling_ && state(l.sensor) < c.control.cut_out) calling_ = false;
  if (!calling_ && state(l.sensor) > c.control.cut_in) calling_ = true;
  if (now >= next_defrost_ && !defrosting_) {
    defrosting_ = true;
    defrost_since_ = now;
  }
  if (defrosting_) {
    double coldest = 400;
    for (int i = 0; i < l.evaporator; ++i)
      coldest = std::min(coldest, state(l.metal_at + l.first_evaporator + i));
    const bool warm = c.control.electric_defrost && coldest > c.control.defrost_ends_at;
    if (warm || now - defrost_since_ >= c.control.defrost_for) {
      defrosting_ = false;
      next_defrost_ = now + c.control.defrost_every;
    }
  }
  const double bimetal = state(l.overload);
  if (!overload_open_ && bimetal > 25 * c.motor.overload_ratio * c.motor.overload_ratio) {
    overload_open_ = true;
    trips_.push_back(now);
  }
  if (overload_open_ && bimetal < kOverloadCloses) overload_open_ = false;

  const bool wanted = life_.hold_box || (calling_ && !defrosting_);
  const bool powered = wanted && !is.control_open && !is.winding_open && !overload_open_;
  const bool ready = life_.hold_box || off_for >= c.control.shortest_off;
  if (!powered) {
    if (motor_ != Turning::standing) stopped_ = now;
    motor_ = Turning::standing;
  } else if (motor_ == Turning::standing && ready) {
    motor_ = Turning::locked;
    locked_since_ = now;
    starts_.push_back(now);
  } else if (motor_ == Turning::locked && now - locked_since_ >= kInrush - 1e-9) {
    const Seen seen = integrator_->look();
    const double difference = seen.cells.front().p - seen.cells.back().p;
    const double volts = life_.outside.voltage * is.voltage / c.motor.voltage;
    if (!is.rotor_stuck && volts >= c.motor.starts_at &&
        difference < c.motor.starts_against * volts * volts) {
      motor_ = Turning::running;
      started_ = now;
    }
  } else if (motor_ == Turning::running) {
    const double volts = life_.outside.voltage * is.voltage / c.motor.voltage;
    if (volts < 0.6) {
      motor_ = Turning::locked;
      locked_since_ = now;
    }
  }

  Switches s;
  s.motor = motor_;
  s.condenser_fan = wanted && !is.control_open;
  s.evaporator_fan = !(defrosting_ && c.control.electric_defrost);
  s.heater = defrosting_ && c.control.electric_defrost;
  s.door_open = door_open_;
  s.hold_box = life_.hold_box;
  if (!decided_ || !(s == switches_) || !(is == condition_)) integrator_->set(s, is, life_.outside);
  decided_ = true;
  switches_ = s;
  condition_ = is;
}

double Simulation::chunk() const {
  if (motor_ == Turning::locked) return time() - locked_since_ < kInrush ? kInrush : 1.0;
  return door_open_ ? 2.0 : 10.0;
}

Result<bool> Simulation::advance(double seconds) {
  const double end = time() + seconds;
  while (time() < end - 1e-9) {
    decide();
    double to = std::min(end, time() + chunk());
    if (!door_open_ && next_door_ > time()) to = std::min(to, std::max(next_door_, time() + 0.1));
    auto done = integrator_->advance(to);
    if (!done) return done;
  }
  return true;
}

Readable Simulation::read() const {
  const Layout& l = plant_->layout();
  const Cabinet& c = plant_->cabinet();
  const std::vector<double>& y = integrator_->state();
  const Seen seen = integrator_->look();
  const auto state = [&y](int i) { return y[static_cast<std::size_t>(i)]; };
  const auto cell = [&](int i) -> const Content& { return seen.cells[static_cast<std::size_t>(i)]; };
  const Condition is = condition();
  Readable r;
  r.time = time();
  r.suction_pressure = cell(l.shell_gas).p;
  r.discharge_pressure = cell(0).p;
  // A tube's metal outside the coil is near what flows in it.
  const auto tube = [&](int i) { return 0.8 * cell(i).T + 0.2 * state(l.metal_at + i); };
  r.evaporator_inlet = tube(l.first_evaporator);
  r.evaporator_outlet = tube(l.suction - 1);
  r.suction_line = state(l.metal_at + l.suction + 1);
  r.discharge_line = state(l.metal_at);
  r.condenser_middle = tube(1 + l.condenser / 2);
  r.liquid_line = tube(l.drier);
  r.ambient = plant_->ambient(time(), life_.outside);
  r.shell = 0.7 * plant_->body_temperature(y.data()) + 0.3 * r.ambient;
  r.box_air = state(l.air);
  r.product = state(l.product);
  r.evaporator_air_out = seen.evaporator_air_out;
  r.condenser_air_out = seen.condenser_air_out;
  r.current = seen.compressor.current;
  r.power = seen.compressor.power;
  r.supply_voltage = life_.outside.voltage * is.voltage;
  const bool fed = motor_ != Turning::standing || (overload_open_ && !is.control_open && calling_);
  r.terminal_voltage = is.control_open || !(fed || (is.winding_open && calling_)) ? 0 : r.supply_voltage;
  const double T = plant_->body_temperature(y.data());
  r.run_winding_ohms =
      is.winding_open ? std::numeric_limits<double>::infinity() : warm_ohms(c.motor.winding, T);
  r.start_winding_ohms = warm_ohms(c.motor.start_winding, T);
  r.motor_turns = motor_ == Turning::running;
  r.motor_hums = motor_ == Turning::locked;
  r.calls_for_cold = calling_ && !defrosting_;
  r.running_for = motor_ == Turning::running ? time() - started_ : 0;
  r.condenser_air = seen.condenser_share;
  r.evaporator_air = seen.evaporator_share;
  for (const Fault& f : life_.faults) {
    if (time() < f.begins) continue;
    if (f.id == "dirty_condenser") r.dirt = 1 - condition_at({f}, time()).condenser_air;
    if (f.id == "condenser_fan") r.condenser_fan = 1 - f.severity;
    if (f.id == "evaporator_fan") r.evaporator_fan = 1 - f.severity;
  }
  if (!switches_.condenser_fan && r.condenser_fan == 1) r.condenser_fan = 0;
  r.frost = air_taken_by_frost(seen.frost / c.box.frost_full);
  return r;
}

}  // namespace coldwright::lab

// Why, in physics. Every statement compares something read, seen or inferred with what a sound machine would
// show in the same conditions, or with a relation that holds for any refrigerant circuit. Which statements
// appear follows from the numbers alone, never from the name of the cause; the wording lives in data/wording.
#include <algorithm>
#include <cmath>

#include "diagnosis/findings.hpp"

namespace coldwright::diagnosis {
namespace {

using circuit::ReadingKind;

struct Found {
  double weight;  // how far from sound, in spreads
  Statement statement;
};

class Reasoner {
 public:
  Reasoner(const Inquiry& q, const std::vector<Contribution>& contributions,
           const std::vector<Suspect>& suspects)
      : q_(q), contributions_(contributions), suspects_(suspects) {
    for (const auto& h : q.posterior.items)
      for (const auto& p : h.particles)
        if (h.probability * p.weight > 1e-9) now_.emplace_back(&p.sim, h.probability * p.weight);
    for (const auto& p : q.sound)
      if (p.sim.ok && (p.sim.mode == Mode::running)) sound_.emplace_back(&p.sim, 1.0);
  }

  std::vector<Statement> all() {
    motor();
    suction_side();
    coil_outlet();
    condenser();
    discharge();
    supply();
    inferred();
    seen();
    std::stable_sort(found_.begin(), found_.end(),
                     [](const Found& a, const Found& b) { return a.weight > b.weight; });
    std::vector<Statement> out;
    for (Found& f : found_)
      if (out.size() < 7) out.push_back(std::move(f.statement));
    return out;
  }

 private:
  const Inquiry& q_;
  const std::vector<Contribution>& contributions_;
  const std::vector<Suspect>& suspects_;
  bool nothing_moves_ = false;  // said already, with the suction's saturation
  std::vector<std::pair<const Simulated*, double>> now_, sound_;
  std::vector<Found> found_;

  std::optional<double> read(ReadingKind kind) const {
    if (std::any_of(suspects_.begin(), suspects_.end(), [&](const Suspect& x) { return x.kind == kind; }))
      return std::nullopt;
    for (const Reading& r : q_.evidence.readings)
      if (r.kind == kind) return r.value;
    return std::nullopt;
  }
  template <class F>
  Interval over(const std::vector<std::pair<const Simulated*, double>>& machines, F of) const {
    std::vector<Weighted> v;
    for (const auto& [sim, w] : machines) v.push_back({of(*sim), w});
    return interval_of(std::move(v));
  }
  template <class F>
  Interval sound(F of) const {
    return over(sound_, of);
  }
  double air() const { return q_.the_case.box.value_or(q_.scene.box); }
  double ambient() const { return q_.the_case.ambient.value_or(q_.scene.ambient); }

  void say(double weight, std::string key, std::vector<Value> values,
           std::vector<std::pair<std::string, std::string>> words = {}) {
    found_.push_back({weight, {std::move(key), std::move(values), std::move(words)}});
  }
  // Departure of x from an interval's middle, one where it leaves the interval on that side; `floor` keeps a
  // narrow interval from shouting.
  static double departure(double x, const Interval& i, double floor) {
    return (x - i.mid) / std::max(x > i.mid ? i.high - i.mid : i.mid - i.low, floor);
  }

  // "…_low", "…_high" or, when unremarkable, "…_as_expected" with a small weight.
  void compare(const std::string& key, Unit unit, double x, const Interval& usual, double floor) {
    const double d = departure(x, usual, floor);
    const std::string suffix = d > 1 ? "_high" : d < -1 ? "_low" : "_as_expected";
    say(std::abs(d) > 1 ? std::abs(d) : 0.3, key + suffix,
        {{"value", unit, x},
         {"low", unit, usual.low},
         {"high", unit, usual.high},
         {"usual", unit, usual.mid}});
  }

  void motor() {
    const auto current = read(ReadingKind::compressor_current);
    if (!current) return;
    const Interval usual = sound([](const Simulated& s) { return s.point.current; });
    const Interval idle = over(now_, [](const Simulated& s) { return s.unloaded_current; });
    const std::vector<Value> values{{"value", Unit::current, *current},
                                    {"low", Unit::current, usual.low},
                                    {"high", Unit::current, usual.high},
                                    {"idle", Unit::current, idle.mid}};
    const Interval wet = over(now_, [](const Simulated& s) {
      return s.point.summary.status == circuit::Status::equalised ? 1.0 : 0.0;
    });
    if (*current < 0.08 * usual.mid) {
      say(9, "motor_draws_nothing", values);
    } else if (*current > 2.5 * usual.high) {
      say(9, "motor_locked", values);
    } else if (std::abs(*current - idle.mid) < 0.25 * idle.mid && *current < usual.low && wet.mid > 0.5) {
      nothing_pumped(*current, idle.mid, usual);
    } else {
      compare("current", Unit::current, *current, usual, 0.12 * usual.mid);
    }
  }

  // The motor turns at its unloaded current: is the evaporator at the temperature of its own air?
  void nothing_pumped(double current, double idle, const Interval& usual) {
    const auto p = read(ReadingKind::suction_pressure);
    const auto inlet = read(ReadingKind::evaporator_inlet_temp);
    const std::vector<Value> motor{{"current", Unit::current, current},
                                   {"idle", Unit::current, idle},
                                   {"usual", Unit::current, usual.mid}};
    std::vector<Value> values = motor;
    if (p) {
      const double T = q_.scene.fluid->saturation_temperature(std::log(*p));
      values.push_back({"saturation", Unit::temperature, T});
      values.push_back({"air", Unit::temperature, air()});
      values.push_back({"gap", Unit::temperature_difference, std::abs(air() - T)});
      nothing_moves_ = std::abs(air() - T) < 5;
      if (nothing_moves_) return say(10, "turns_without_pumping", values);
    } else if (inlet && air() - *inlet < 4) {
      values.push_back({"coil", Unit::temperature, *inlet});
      values.push_back({"air", Unit::temperature, air()});
      return say(10, "turns_without_pumping_coil", values);
    }
    say(5, "current_at_idle", motor);
  }

  void suction_side() {
    const auto p = read(ReadingKind::suction_pressure);
    if (!p || nothing_moves_) return;
    const double T = q_.scene.fluid->saturation_temperature(std::log(*p));
    const double td = air() - T;
    const Interval usual = sound([](const Simulated& s) { return s.true_box - s.point.T_evaporating; });
    const double d = departure(td, usual, 2.5);
    const std::string key = d > 1              ? "suction_far_below_air"
                            : d < -1 && td < 0 ? "suction_above_air"
                            : d < -1           ? "suction_near_air"
                                               : "suction_as_expected";
    say(std::abs(d) > 1 ? std::abs(d) : 0.3, key,
        {{"pressure", Unit::pressure, *p},
         {"saturation", Unit::temperature, T},
         {"air", Unit::temperature, air()},
         {"gap", Unit::temperature_difference, std::abs(td)},
         {"usual", Unit::temperature_difference, usual.mid}});
  }

  void coil_outlet() {
    const auto out = read(ReadingKind::evaporator_outlet_temp);
    if (!out) return;
    std::optional<double> evaporating = read(ReadingKind::evaporator_inlet_temp);
    if (const auto p = read(ReadingKind::suction_pressure))
      evaporating = q_.scene.fluid->saturation_temperature(std::log(*p));
    if (!evaporating) return;
    const Interval usual = sound([](const Simulated& s) {
      return s.readings[static_cast<std::size_t>(ReadingKind::evaporator_outlet_temp)] -
             s.point.T_evaporating;
    });
    compare("superheat", Unit::temperature_difference, *out - *evaporating, usual, 2.5);
  }

  void condenser() {
    const auto middle = read(ReadingKind::condenser_middle_temp),
               liquid = read(ReadingKind::liquid_line_temp);
    if (middle) {
      const Interval usual = sound([](const Simulated& s) {
        return s.readings[static_cast<std::size_t>(ReadingKind::condenser_middle_temp)] - s.true_ambient;
      });
      compare("split", Unit::temperature_difference, *middle - ambient(), usual, 2.5);
    }
    if (middle && liquid && *middle - ambient() > 1.5) {
      const auto share = [](double m, double l, double a) { return 100 * (m - l) / std::max(m - a, 1.5); };
      const Interval usual = sound([&](const Simulated& s) {
        return share(s.readings[static_cast<std::size_t>(ReadingKind::condenser_middle_temp)],
                     s.readings[static_cast<std::size_t>(ReadingKind::liquid_line_temp)], s.true_ambient);
      });
      compare("liquid_cooling", Unit::percent, share(*middle, *liquid, ambient()), usual, 14);
    }
    if (const auto p = read(ReadingKind::discharge_pressure); p && middle) {
      const double gap = *p - q_.scene.fluid->saturation_pressure(*middle);
      const Interval usual = sound([&](const Simulated& s) {
        return s.point.p_discharge -
               q_.scene.fluid->saturation_pressure(
                   s.readings[static_cast<std::size_t>(ReadingKind::condenser_middle_temp)]);
      });
      if (departure(gap, usual, 0.7e5) > 1)
        say(departure(gap, usual, 0.7e5), "pressure_above_saturation",
            {{"pressure", Unit::pressure, *p},
             {"middle", Unit::temperature, *middle},
             {"saturation", Unit::pressure, q_.scene.fluid->saturation_pressure(*middle)}});
    }
  }

  void discharge() {
    const auto T = read(ReadingKind::discharge_line_temp);
    if (!T) return;
    const Interval usual = sound([](const Simulated& s) {
      return s.readings[static_cast<std::size_t>(ReadingKind::discharge_line_temp)];
    });
    compare("discharge", Unit::temperature, *T, usual, 8);
  }

  void supply() {
    const double rated = q_.scene.plate->rated_voltage.value_or(q_.scene.kind->rated_voltage);
    if (const auto V = read(ReadingKind::supply_voltage); V && *V < 0.92 * rated)
      say(6 * (1 - *V / rated) / 0.1, "voltage_low",
          {{"value", Unit::voltage, *V}, {"rated", Unit::voltage, rated}});
    if (const auto V = read(ReadingKind::terminal_voltage); V && *V < 0.2 * rated)
      say(9, "no_voltage_at_motor", {{"value", Unit::voltage, *V}, {"rated", Unit::voltage, rated}});
    for (ReadingKind kind : {ReadingKind::run_winding_ohms, ReadingKind::start_winding_ohms})
      if (const auto R = read(kind); R && *R > 1e4)
        say(10, "winding_open", {}, {{"reading", std::string(circuit::info(kind).id)}});
  }

  // The side nobody measured: what the flow and the charge must be for all of this to fit together.
  void inferred() {
    const HypothesisPosterior* leader = nullptr;
    for (const auto& h : q_.posterior.items)
      if (!leader || h.probability > leader->probability) leader = &h;
    if (!leader || leader->rounds == 0) return;
    std::vector<std::pair<const Simulated*, double>> machines;
    for (const Particle& p : leader->particles)
      if (p.weight > 1e-9) machines.emplace_back(&p.sim, p.weight);
    const Interval capacity = over(machines, [](const Simulated& s) { return s.point.capacity; });
    const Interval usual = sound([](const Simulated& s) { return s.point.capacity; });
    const bool as_usual = capacity.low <= usual.mid && usual.mid <= capacity.high;
    if (usual.mid > 0 && !as_usual) {
      const double share = 100 * capacity.mid / usual.mid;
      say(share < 80 ? 2 + (100 - share) / 40 : 0.4, share < 80 ? "capacity_short" : "capacity_near_usual",
          {{"share", Unit::percent, share},
           {"value", Unit::power, capacity.mid},
           {"usual", Unit::power, usual.mid}});
    }
    const Interval liquid = over(machines, [](const Simulated& s) { return s.point.quality_liquid_line; });
    if (liquid.mid > 0.01) say(2.5, "vapour_in_liquid_line", {{"share", Unit::percent, 100 * liquid.mid}});
  }

  void seen() {
    for (std::size_t k = 0; k < q_.evidence.seen.size(); ++k) {
      const Contribution& c = contributions_[q_.evidence.readings.size() + k];
      if (c.information_bits < 0.15 || c.log_odds <= 0) continue;
      const Seen& s = q_.evidence.seen[k];
      say(1 + 2 * c.information_bits, "seen", {},
          {{"subject", s.model->subject}, {"state", s.model->values[s.value]}});
    }
  }
};

}  // namespace

std::vector<Statement> reasons(const Inquiry& q, const std::vector<Contribution>& contributions,
                               const std::vector<Suspect>& suspects) {
  return Reasoner(q, contributions, suspects).all();
}

std::vector<Statement> cautions(const Inquiry& q, const Answer& answer) {
  std::vector<Statement> out;
  const std::string& refrigerant = q.scene.fluid->designation();
  const auto& tame = q.scene.knowledge->no_flame;
  const bool flammable = std::find(tame.begin(), tame.end(), refrigerant) == tame.end();
  if (flammable) out.push_back({"caution_flammable", {}, {{"refrigerant", refrigerant}}});
  if (flammable && !answer.next.empty() && answer.next.front().opens_circuit)
    out.push_back({"caution_opening", {}, {}});
  if (flammable && std::none_of(q.evidence.readings.begin(), q.evidence.readings.end(),
                                [](const Reading& r) { return circuit::info(r.kind).opens_circuit; }))
    out.push_back({"caution_stay_closed", {}, {}});
  out.push_back({"caution_electrical", {}, {}});
  out.push_back({"caution_defer", {}, {}});
  return out;
}

}  // namespace coldwright::diagnosis

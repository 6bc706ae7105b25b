#include "lab/draw_visit.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::lab {

namespace {

struct Scenario {
  std::vector<Fault> faults;
  double room = 298, load = 1;
  Surroundings outside;
};

bool always_a_call(const std::string& id) {
  return id == "control" || id == "start_or_winding" || id == "not_pumping" ||
         id == "pumping_lost_at_times" || id == "moisture_freeze" || id == "sound";
}

double between(RandomStream& random, double low, double high) {
  return low + (high - low) * random.uniform();
}

const Drawable& pick(const std::vector<const Drawable*>& from, RandomStream& random) {
  double total = 0;
  for (const Drawable* d : from) total += d->weight;
  double u = random.uniform() * total;
  for (const Drawable* d : from)
    if ((u -= d->weight) <= 0) return *d;
  return *from.back();
}

std::vector<const Drawable*> pick_causes(const VisitOptions& options, const Kind& kind,
                                         RandomStream& random) {
  std::vector<const Drawable*> all, paired;
  for (const Drawable& d : options.causes) {
    if (d.weight <= 0 || (d.id == "condenser_fan" && kind.still_air)) continue;
    all.push_back(&d);
    if (d.in_pairs) paired.push_back(&d);
  }
  if (paired.size() < 2 || random.uniform() >= options.pairs) return {&pick(all, random)};
  for (;;) {
    const Drawable &a = pick(paired, random), &b = pick(paired, random);
    const auto both = [&](const char* x, const char* y) {
      return (a.id == x && b.id == y) || (a.id == y && b.id == x);
    };
    if (a.id == b.id || both("low_charge", "overcharge") || both("restriction", "moisture_freeze") ||
        both("dirty_condenser", "condenser_fan") || both("evaporator_fan", "iced_evaporator"))
      continue;
    return a.id < b.id ? std::vector<const Drawable*>{&a, &b} : std::vector<const Drawable*>{&b, &a};
  }
}

Scenario draw_scenario(const std::vector<const Drawable*>& causes, const Designed& unit,
                       RandomStream& random) {
  Scenario s;
  s.room = 273.15 + between(random, 18, 40);
  s.outside.ambient = s.room;
  s.outside.humidity = between(random, 0.35, 0.75);
  s.outside.voltage = unit.plate_voltage * std::clamp(1 + 0.025 * random.normal(), 0.93, 1.06);
  for (const Drawable* d : causes) {
    const double severity = between(random, std::min(d->severity_low, d->severity_high),
                                    std::max(d->severity_low, d->severity_high));
    s.faults.push_back({d->id, severity, random.uniform(), 0, 0});
    if (d->id == "high_load") s.load *= severity;
    if (d->id == "low_voltage") s.outside.voltage = unit.plate_voltage;  // the severity tells the rest
  }
  return s;
}

// Frost that takes this share of the air flow, kg.
double frost_for(double share, const Box& box) {
  double low = 0, high = 20;
  for (int i = 0; i < 50; ++i) {
    const double t = 0.5 * (low + high);
    (air_taken_by_frost(t) < share ? low : high) = t;
  }
  return low * box.frost_full;
}

double frost_of(const Scenario& s, const Box& box) {
  for (const Fault& f : s.faults)
    if (f.id == "iced_evaporator") return frost_for(f.severity, box);
  return 0;
}

// Whether the box could not be held: on the bench at its set point, in this weather.
Result<bool> would_call(const Scenario& s, const Designed& unit,
                        std::shared_ptr<const Refrigerant> refrigerant, const VisitOptions& options,
                        RandomStream random) {
  for (const Fault& f : s.faults)
    if (always_a_call(f.id)) return true;
  Life life;
  life.start = s.room;
  life.start_box = unit.set_point;
  life.hold_box = true;
  life.doors = false;
  life.outside = s.outside;
  life.tolerance = options.tolerance;
  life.faults = s.faults;
  life.start_frost = frost_of(s, unit.cabinet.box);
  Simulation bench(unit.cabinet, std::move(refrigerant), std::move(life), random);
  if (auto done = bench.advance(1800); !done) return done.problem();
  double cooling = 0;
  constexpr int samples = 10;
  for (int i = 0; i < samples; ++i) {
    if (auto done = bench.advance(60); !done) return done.problem();
    cooling += bench.look().evaporator_heat / samples;
  }
  return cooling < 1.1 * load_at_set_point(unit, s.room, s.load);
}

}  // namespace

double load_at_set_point(const Designed& unit, double room, double load_factor) {
  const Box& b = unit.cabinet.box;
  const double walls = b.wall_in * b.wall_out / (b.wall_in + b.wall_out);
  const double dT = room - unit.set_point;
  const double door = 1200 * b.door_exchange * b.doors_per_hour * b.door_seconds / 3600 * dT * 1.5;
  return walls * dT + b.fan + load_factor * door;
}

Result<Visit> draw_visit(const VisitOptions& options, const Kind& kind, const Designed& unit,
                         std::shared_ptr<const Refrigerant> refrigerant, RandomStream random) {
  RandomStream choice = random.fork(1), weather = random.fork(2), life_random = random.fork(3);
  const std::vector<const Drawable*> causes = pick_causes(options, kind, choice);
  Scenario s = draw_scenario(causes, unit, weather);
  bool called = !options.call_conditioned;
  for (int i = 0; i < 25 && !called; ++i) {
    auto answer =
        would_call(s, unit, refrigerant, options, life_random.fork(100 + static_cast<std::uint64_t>(i)));
    if (!answer) return answer.problem();
    called = *answer;
    if (!called) s = draw_scenario(causes, unit, weather);
  }
  Visit v;
  v.box_holds = !called;
  v.archetype = kind.id;
  v.refrigerant = kind.refrigerant;
  v.plate_charge = unit.plate_charge;
  v.plate_current = unit.plate_current;
  v.plate_voltage = unit.plate_voltage;
  v.set_point = unit.set_point;
  v.site_pressure = s.outside.site_pressure;
  for (const Fault& f : s.faults) v.truth.push_back({f.id, f.severity});

  Life life;
  life.start = s.room;
  life.start_box = std::min(unit.set_point + between(life_random, 4, 14), s.room - 2);
  life.outside = s.outside;
  life.tolerance = options.tolerance;
  life.faults = s.faults;
  life.start_frost = frost_of(s, unit.cabinet.box);
  bool thawed = false;
  for (const Fault& f : s.faults) thawed = thawed || (f.id == "moisture_freeze" && f.variant >= 0.5);
  const bool soon = thawed || life_random.uniform() < options.unsteady;
  const double before = 60 * (soon ? between(life_random, 3, 14) : between(life_random, 30, 100));
  Simulation run(unit.cabinet, refrigerant, std::move(life), life_random.fork(9));
  if (auto done = run.advance(before); !done) return done.problem();
  const auto within_hour = [&](const std::vector<double>& times) {
    return static_cast<int>(
        std::count_if(times.begin(), times.end(), [&](double t) { return t > before - 3600; }));
  };
  v.starts_last_hour = within_hour(run.starts());
  v.trips_last_hour = within_hour(run.trips());
  {
    // All valves of time open: everything at room temperature in one volume.
    const Plant& plant = run.plant();
    double mass = run.state()[static_cast<std::size_t>(plant.layout().dissolved)], gas = 0, space = 0;
    for (int i = 0; i < plant.layout().cells; ++i) {
      mass += run.state()[static_cast<std::size_t>(2 * i)];
      space += plant.volume(i);
      if (plant.layout().gas) gas += run.state()[static_cast<std::size_t>(plant.layout().gas_at + i)];
    }
    const Saturated at = refrigerant->saturated(s.room);
    double p = at.p;
    for (int i = 0; i < 30; ++i) {  // what oil holds at the pressure there would be
      const double oil =
          dissolved_at(p / at.p) * plant.cabinet().correlations.oil * plant.cabinet().shell.oil;
      const double free = std::max(mass - oil, 0.05 * mass);
      p = 0.5 * (p + std::min(at.p, free / space / at.rho_v * at.p));
    }
    v.standing_pressure = p + gas * kGasConstant * s.room / space;
  }
  const int samples = static_cast<int>(options.minutes / options.every);
  for (int i = 0; i <= samples; ++i) {
    if (i > 0)
      if (auto done = run.advance(60 * options.every); !done) return done.problem();
    Readable r = run.read();
    r.time -= before;
    v.course.push_back(r);
  }
  return v;
}

}  // namespace coldwright::lab

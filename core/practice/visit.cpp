#include "practice/visit.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "procedures/pull_down.hpp"

namespace coldwright::practice {
namespace {

using circuit::QuantityKind;
using circuit::ReadingKind;
using diagnosis::Extra;
using diagnosis::Hypothesis;
using diagnosis::Simulated;

// Forks of a visit's stream, one for each purpose.
enum Label : std::uint64_t { kKind = 1, kPlate, kSurroundings, kCause, kMachine, kBox, kRunning };

constexpr double kPressureSettles = 1.5, kTemperatureSettles = 3;  // min
constexpr double kStartingCurrent = 0.08;  // above the settled one, of a warm motor just started
constexpr int kTries = 60;                 // machines of one cause before another cause is drawn
constexpr int kDraws = 20;                 // causes and plates

/// What a level draws.
struct Setting {
  double share_low, share_high;  // of the severities' range
  double pairs;                  // chance of two causes
  double doubt;                  // how far the world may differ from the population
  double clamp;                  // latent of the clamps' pull
};
Setting setting(Level level) {
  switch (level) {
    case Level::first:
      return {0.7, 0.98, 0, 0, -1};
    case Level::working_day:
      return {0.25, 0.98, 0, 0.5, 0};
    case Level::hard:
      return {0.08, 0.5, 0.45, 1, 1.3};
  }
  return {};
}

/// Not for a beginner: what comes and goes, and nothing wrong at all.
bool plain(const std::string& cause) {
  return cause != "sound" && cause != "pumping_lost_at_times" && cause != "moisture_freeze";
}

// Flatter than life, so that a rare cause comes up while somebody practises.
double chance(const diagnosis::Knowledge& k, const Hypothesis& h) {
  double weight = 1;
  for (int cause : h.causes) weight *= std::sqrt(k.causes[static_cast<std::size_t>(cause)].weight);
  return weight;
}

Hypothesis cause_drawn(const diagnosis::Knowledge& k, const circuit::Archetype& kind, Level level,
                       RandomStream random) {
  const bool pair = random.uniform() < setting(level).pairs;
  std::vector<Hypothesis> open;
  double total = 0;
  for (const Hypothesis& h : diagnosis::hypotheses(k, kind.condenser)) {
    if ((h.causes.size() > 1) != pair || (level == Level::first && !plain(h.id))) continue;
    total += chance(k, h);
    open.push_back(h);
  }
  double left = random.uniform() * total;
  for (const Hypothesis& h : open)
    if ((left -= chance(k, h)) <= 0) return h;
  return open.back();
}

double around(const circuit::Spread& spread, double z) {
  return spread.median * std::exp(std::log(spread.ratio) * std::clamp(z, -1.5, 1.5));
}

circuit::Nameplate plate_drawn(const circuit::Archetype& kind, const std::string& refrigerant,
                               RandomStream random) {
  circuit::Nameplate plate;
  plate.archetype = kind.id;
  plate.refrigerant = refrigerant;
  plate.charge = std::round(around(kind.charge, random.normal()) * 1000) / 1000;  // as plates print them
  plate.rated_current = std::round(around(kind.rated_current, random.normal()) * 10) / 10;
  plate.rated_voltage = kind.rated_voltage;
  plate.set_point = kind.set_point_K;
  return plate;
}

/// A drawn machine, with its box on its way.
struct Drawn {
  std::shared_ptr<const circuit::WorkingFluid> fluid;
  circuit::Archetype kind;
  circuit::Nameplate plate;
  diagnosis::Scene scene;  // `plate`, `kind` and `fluid` are put in by scene()
  Hypothesis truth;
  diagnosis::Latents z;
  procedures::Cooling cooling;
  double load;       // W/K
  double mass;       // J/K
  double start;      // K, box on arrival
  double set_point;  // K; the control holds it there
  std::optional<double> running;

  diagnosis::Scene in_place() const {
    diagnosis::Scene s = scene;
    s.plate = &plate;
    s.kind = &kind;
    s.fluid = fluid.get();
    return s;
  }

  double box_at(const History& h) const {
    double box = start, now = 0;
    const auto pass = [&](double until, bool on) {
      until = std::min(until, h.minutes);
      if (until <= now) return;
      procedures::Cooling carries = cooling;
      if (!on) std::fill(carries.capacity.begin(), carries.capacity.end(), 0.0);
      box = procedures::Course(carries, load, scene.ambient, box).at((until - now) * 60 / mass);
      box = std::max(box, set_point);
      now = until;
    };
    for (const auto& [from, to] : h.off) {
      pass(from, true);
      pass(to, false);
    }
    pass(h.minutes, true);
    return box;
  }

  std::optional<double> running_at(const History& h) const {
    if (!h.off.empty()) return h.minutes - h.off.back().second;
    if (running) return *running + h.minutes;
    return std::nullopt;
  }

  // On the way from standing still to what the settled machine shows.
  void unsettle(Simulated& s, double minutes) const {
    const double standing = s.readings[static_cast<std::size_t>(ReadingKind::standing_pressure)];
    for (const circuit::ReadingInfo& row : circuit::reading_table()) {
      double& y = s.readings[static_cast<std::size_t>(row.kind)];
      const bool in_the_box = row.kind == ReadingKind::evaporator_inlet_temp ||
                              row.kind == ReadingKind::evaporator_outlet_temp ||
                              row.kind == ReadingKind::evaporator_air_out_temp;
      if (row.quantity == QuantityKind::pressure)
        y += (standing - y) * std::exp(-minutes / kPressureSettles);
      else if (row.quantity == QuantityKind::temperature)
        y += ((in_the_box ? s.true_box : s.true_ambient) - y) * std::exp(-minutes / kTemperatureSettles);
      else if (row.quantity == QuantityKind::current)
        y *= 1 + kStartingCurrent * std::exp(-minutes / kPressureSettles);
    }
  }

  Moment at(const History& h) const {
    diagnosis::Scene now = in_place();
    now.box = box_at(h);
    now.let_out = h.let_out;
    Moment m{diagnosis::simulate(now, truth, z), std::nullopt, {}};
    if (m.sim.mode != diagnosis::Mode::running) return m;
    m.minutes_running = running_at(h);
    if (m.minutes_running) unsettle(m.sim, *m.minutes_running);
    return m;
  }
};

/// Where the box stands on arrival: near where load and capacity agree, as far as somebody would call for it.
double arrival_box(const Drawn& d, RandomStream random) {
  const double low = d.set_point + 3 + 4 * random.uniform();
  const double high = std::min(d.set_point + 13 + 5 * random.uniform(), d.scene.ambient - 1);
  const double rest = procedures::Course(d.cooling, d.load, d.scene.ambient, 0.5 * (low + high)).at(1e6);
  return std::clamp(rest + random.normal(), low, std::max(low, high));
}

std::optional<double> running_drawn(Level level, RandomStream random) {
  const double u = random.uniform();
  if (level == Level::first) return std::nullopt;  // for hours
  if (level == Level::working_day) return std::round(20 + 60 * u);
  return random.uniform() < 0.6 ? std::round(2 + 6 * u) : std::round(15 + 40 * u);
}

/// One machine of this cause, where it computes and would have been called for.
std::optional<Drawn> machine_drawn(Drawn d, Level level, RandomStream random) {
  const Setting of = setting(level);
  for (std::size_t i = 0; i < d.z.size(); ++i) d.z[i] = random.fork(i).normal();
  for (const Extra e : {Extra::severity, Extra::severity_2})
    d.z[diagnosis::index(e)] =
        normal_quantile(of.share_low + (of.share_high - of.share_low) *
                                           random.fork(100 + static_cast<std::uint64_t>(e)).uniform());
  d.z[diagnosis::index(Extra::clamp_pull)] = of.clamp;
  d.scene.box = d.set_point + 8;
  const diagnosis::Scene scene = d.in_place();
  const auto built = diagnosis::build(scene, d.truth, d.z);
  if (!built) return std::nullopt;
  const Simulated s = diagnosis::simulate(scene, d.truth, d.z);
  if (!s.ok || random.fork(200).uniform() >= s.complaint) return std::nullopt;
  auto cooling =
      procedures::cooling_of(*built, *d.fluid, d.set_point - 2, std::max(d.scene.ambient, d.set_point + 18));
  if (!cooling) return std::nullopt;
  d.cooling = std::move(*cooling);
  d.load = built->machine.load_per_kelvin * built->effects.load_factor;
  d.mass = procedures::thermal_mass(built->machine.design_capacity, std::nullopt)
               .of(std::clamp(random.fork(201).normal(), -1.5, 1.5));
  d.start = arrival_box(d, random.fork(kBox));
  d.running = running_drawn(level, random.fork(kRunning));
  if (!diagnosis::simulate(
           [&] {
             diagnosis::Scene there = d.in_place();
             there.box = d.start;
             return there;
           }(),
           d.truth, d.z)
           .ok)
    return std::nullopt;
  return d;
}

Visit visit_of(std::uint64_t seed, Level level, Drawn drawn, const diagnosis::Knowledge& knowledge) {
  const auto d = std::make_shared<const Drawn>(std::move(drawn));
  Visit v;
  v.seed = seed;
  v.level = level;
  v.kind = d->kind;
  v.plate = d->plate;
  v.refrigerant = *d->plate.refrigerant;
  v.ambient = d->scene.ambient;
  v.box = d->start;
  v.site_pressure = d->scene.site_pressure;
  v.truth = d->truth;
  v.machine = d->z;
  v.fluid = d->fluid;
  v.knowledge = &knowledge;
  for (std::size_t i = 0; i < d->truth.causes.size(); ++i) {
    const diagnosis::CauseInfo& cause = knowledge.causes[static_cast<std::size_t>(d->truth.causes[i])];
    const double z = d->z[diagnosis::index(i == 0 ? Extra::severity : Extra::severity_2)];
    v.faults.push_back({cause.id, diagnosis::severity_of(cause, z), normal_cdf(z)});
  }
  v.at = [d](const History& h) { return d->at(h); };
  return v;
}

}  // namespace

std::string_view to_word(Level level) {
  switch (level) {
    case Level::first:
      return "first";
    case Level::working_day:
      return "working_day";
    case Level::hard:
      return "hard";
  }
  return "";
}

std::optional<Level> level_from(std::string_view word) {
  for (const Level level : {Level::first, Level::working_day, Level::hard})
    if (to_word(level) == word) return level;
  return std::nullopt;
}

std::string kind_drawn(std::uint64_t seed, Level level, const diagnosis::Knowledge& knowledge) {
  RandomStream random = RandomStream(seed).fork(kKind + 100 * static_cast<std::uint64_t>(level));
  const auto n = static_cast<double>(knowledge.archetypes.size());
  return knowledge.archetypes[static_cast<std::size_t>(random.uniform() * n)].id;
}

double clamp_pull(Level level) {
  return 0.02 + (0.12 + 0.08 * setting(level).doubt - 0.02) * normal_cdf(setting(level).clamp);
}

diagnosis::Scene scene_of(const Visit& v) {
  diagnosis::Scene s{};
  s.plate = &v.plate;
  s.kind = &v.kind;
  s.fluid = v.fluid.get();
  s.knowledge = v.knowledge;
  s.ambient = v.ambient;
  s.box = v.box;
  s.ambient_sigma = s.box_sigma = 0;
  s.site_pressure = v.site_pressure;
  s.not_cooling = true;
  s.doubt = setting(v.level).doubt;
  return s;
}

Result<Visit> draw_visit(std::uint64_t seed, Level level, const std::string& kind,
                         std::shared_ptr<const circuit::WorkingFluid> fluid,
                         const diagnosis::Knowledge& knowledge) {
  const auto found = std::find_if(knowledge.archetypes.begin(), knowledge.archetypes.end(),
                                  [&](const auto& a) { return a.id == kind; });
  if (found == knowledge.archetypes.end()) {
    std::string all;
    for (const auto& a : knowledge.archetypes) all += (all.empty() ? "" : ", ") + a.id;
    return Problem{"cabinet", "\"" + kind + "\"", all, "no such kind of cabinet"};
  }
  const RandomStream of_visit = RandomStream(seed).fork(1000 + static_cast<std::uint64_t>(level));
  RandomStream surroundings = of_visit.fork(kSurroundings);
  Visit blank;
  blank.level = level;
  blank.ambient = 273.15 + 20 + 13 * surroundings.uniform();
  blank.knowledge = &knowledge;
  Drawn d{};
  d.fluid = std::move(fluid);
  d.kind = *found;
  d.scene = scene_of(blank);
  for (std::uint64_t draw = 0; draw < kDraws; ++draw) {
    d.plate = plate_drawn(d.kind, d.fluid->designation(), of_visit.fork(kPlate).fork(draw));
    d.set_point = *d.plate.set_point;
    d.truth = cause_drawn(knowledge, d.kind, level, of_visit.fork(kCause).fork(draw));
    for (std::uint64_t tried = 0; tried < kTries; ++tried)
      if (auto made = machine_drawn(d, level, of_visit.fork(kMachine).fork(draw * kTries + tried)))
        return visit_of(seed, level, std::move(*made), knowledge);
  }
  return Problem{"seed", std::to_string(seed), "another seed", "no machine of this kind came out of it"};
}

}  // namespace coldwright::practice

#include "judge/standin.hpp"

#include <algorithm>
#include <cmath>

#include "diagnosis/simulate.hpp"

namespace coldwright::judge {
namespace {

using circuit::ReadingKind;
using namespace diagnosis;

constexpr int kMoments = 241;         // two hours by 30 s
constexpr double kRunsTripped = 240;  // s that a machine on its overload runs and rests, our estimate
constexpr double kRestsTripped = 300;

Scene world(const circuit::Nameplate& plate, const circuit::Archetype& kind,
            const circuit::WorkingFluid& fluid, const Knowledge& knowledge) {
  Scene scene{};
  scene.plate = &plate;
  scene.kind = &kind;
  scene.fluid = &fluid;
  scene.knowledge = &knowledge;
  scene.ambient_sigma = scene.box_sigma = 0;  // what is read of them is the technician's business
  scene.site_pressure = 101325;
  scene.not_cooling = true;
  scene.shift = {1.19, 0.84, 0.6, 0.75, 1.8};
  scene.pull_low = scene.pull_high = 0;  // and so is what a clamp makes of a pipe
  return scene;
}

const Hypothesis& pick(const std::vector<Hypothesis>& all, RandomStream& random) {
  const double u = random.uniform();
  double sum = 0;
  for (const Hypothesis& h : all)
    if ((sum += std::exp(h.log_prior)) >= u) return h;
  return all.back();
}

// What is wrong, as it shows to the eye.
void show(lab::Readable& r, const std::string& cause, double severity, double dirt) {
  r.dirt = std::max(r.dirt, cause == "dirty_condenser" ? severity : dirt);
  if (cause == "iced_evaporator") r.frost = severity;
  if (cause == "condenser_fan") r.condenser_fan = severity > 0.86 ? 0 : 0.4;
  if (cause == "evaporator_fan") r.evaporator_fan = severity > 0.93 ? 0 : 0.4;
  if (cause == "control") r.calls_for_cold = false;
}

lab::Readable still(const Simulated& s) {
  const auto of = [&](ReadingKind kind) { return s.readings[static_cast<std::size_t>(kind)]; };
  lab::Readable r;
  r.suction_pressure = of(ReadingKind::suction_pressure);
  r.discharge_pressure = of(ReadingKind::discharge_pressure);
  r.evaporator_inlet = of(ReadingKind::evaporator_inlet_temp);
  r.evaporator_outlet = of(ReadingKind::evaporator_outlet_temp);
  r.suction_line = of(ReadingKind::suction_line_temp);
  r.discharge_line = of(ReadingKind::discharge_line_temp);
  r.condenser_middle = of(ReadingKind::condenser_middle_temp);
  r.liquid_line = of(ReadingKind::liquid_line_temp);
  r.shell = of(ReadingKind::shell_temp);
  r.box_air = r.product = s.true_box;
  r.evaporator_air_out = of(ReadingKind::evaporator_air_out_temp);
  r.condenser_air_out = of(ReadingKind::condenser_air_out_temp);
  r.ambient = s.true_ambient;
  r.current = of(ReadingKind::compressor_current);
  r.power = s.point.power;
  r.supply_voltage = of(ReadingKind::supply_voltage);
  r.terminal_voltage = of(ReadingKind::terminal_voltage);
  r.run_winding_ohms = of(ReadingKind::run_winding_ohms);
  r.start_winding_ohms = of(ReadingKind::start_winding_ohms);
  r.motor_turns = s.mode == Mode::running || s.mode == Mode::tripped;
  r.motor_hums = s.mode == Mode::locked;
  return r;
}

std::vector<lab::Readable> course_of(lab::Readable r, Mode mode) {
  std::vector<lab::Readable> course;
  for (int i = 0; i < kMoments; ++i) {
    r.time = 30.0 * i;
    const double phase = std::fmod(r.time, kRunsTripped + kRestsTripped);
    if (mode == Mode::tripped) r.motor_turns = phase < kRunsTripped;
    r.running_for = !r.motor_turns ? 0 : mode == Mode::tripped ? phase : 3600 + r.time;
    lab::Readable now = r;
    if (mode == Mode::tripped && !r.motor_turns) now.current = now.power = 0;
    course.push_back(now);
  }
  return course;
}

}  // namespace

lab::Visit draw_standin(const Knowledge& knowledge, const circuit::WorkingFluid& fluid, std::uint64_t seed) {
  const auto kind = std::find_if(knowledge.archetypes.begin(), knowledge.archetypes.end(),
                                 [](const auto& a) { return a.id == "reach_in_cooler"; });
  RandomStream random(seed);
  circuit::Nameplate plate;
  plate.archetype = kind->id;
  plate.charge = 0.130;
  plate.rated_current = 2.0;
  plate.rated_voltage = 115;
  plate.set_point = kind->set_point_K;
  Scene scene = world(plate, *kind, fluid, knowledge);
  const auto all = hypotheses(knowledge, kind->condenser);
  const Hypothesis& h = pick(all, random);
  Simulated s;
  Latents z{};
  do {
    scene.ambient = 273.15 + 18 + 22 * random.uniform();
    scene.box = 273.15 + 8 + 12 * random.uniform();
    for (double& x : z) x = random.normal();
    s = simulate(scene, h, z);
  } while (!s.ok || random.uniform() >= s.complaint);

  lab::Visit visit;
  visit.seed = seed;
  visit.archetype = kind->id;
  visit.refrigerant = "R290";
  visit.plate_charge = *plate.charge;
  visit.plate_current = *plate.rated_current;
  visit.plate_voltage = *plate.rated_voltage;
  visit.set_point = *plate.set_point;
  visit.site_pressure = scene.site_pressure;
  visit.standing_pressure = s.readings[static_cast<std::size_t>(ReadingKind::standing_pressure)];
  visit.trips_last_hour = s.mode == Mode::tripped || s.mode == Mode::locked ? 6 : 0;
  visit.starts_last_hour = s.mode == Mode::tripped ? 6 : 0;
  lab::Readable r = still(s);
  const double u = random.uniform();
  for (std::size_t i = 0; i < h.causes.size(); ++i) {
    const CauseInfo& cause = knowledge.causes[static_cast<std::size_t>(h.causes[i])];
    visit.truth.push_back({cause.id, i == 0 ? s.severity : s.severity_2});
    show(r, cause.id, visit.truth.back().severity, 0.2 * u * u);
  }
  visit.course = course_of(r, s.mode);
  return visit;
}

}  // namespace coldwright::judge

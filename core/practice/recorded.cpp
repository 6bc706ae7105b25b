#include "practice/recorded.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::practice {
namespace {

using circuit::ReadingKind;
using diagnosis::Extra;
using diagnosis::Mode;
using diagnosis::Simulated;

constexpr double kOpenWinding = 1e6;  // ohm, as the diagnosis counts an open one

/// A thermometer on a tube reads between the metal and the air around it.
double clamped(double tube, double air, double pull) { return tube + pull * (air - tube); }

RecordedMoment between(const std::vector<RecordedMoment>& course, double seconds) {
  if (seconds <= course.front().time) return course.front();
  for (std::size_t i = 1; i < course.size(); ++i) {
    if (course[i].time < seconds) continue;
    const RecordedMoment &a = course[i - 1], &b = course[i];
    const double x = (seconds - a.time) / std::max(b.time - a.time, 1e-9);
    RecordedMoment m = a;
    const auto mix = [&](double RecordedMoment::*of) {
      if (std::isfinite(a.*of) && std::isfinite(b.*of)) m.*of = a.*of + x * (b.*of - a.*of);
    };
    using R = RecordedMoment;
    for (double R::*of :
         {&R::suction_pressure, &R::discharge_pressure, &R::evaporator_inlet, &R::evaporator_outlet,
          &R::suction_line, &R::discharge_line, &R::condenser_middle, &R::liquid_line, &R::shell, &R::box_air,
          &R::evaporator_air_out, &R::condenser_air_out, &R::ambient, &R::current, &R::supply_voltage,
          &R::terminal_voltage})
      mix(of);
    if (a.running_for > 0) m.running_for = a.running_for + seconds - a.time;
    return m;
  }
  return course.back();
}

Mode mode_of(const RecordedMoment& m, int trips) {
  if (m.motor_turns) return trips > 0 ? Mode::tripped : Mode::running;
  if (m.motor_hums) return Mode::locked;
  return trips > 0 ? Mode::tripped : Mode::off;
}

void fill(Simulated& s, const RecordedMoment& m, double standing, double pull) {
  const auto set = [&](ReadingKind kind, double value) {
    s.readings[static_cast<std::size_t>(kind)] = value;
  };
  set(ReadingKind::suction_pressure, m.suction_pressure);
  set(ReadingKind::discharge_pressure, m.discharge_pressure);
  set(ReadingKind::standing_pressure, standing);
  set(ReadingKind::evaporator_inlet_temp, clamped(m.evaporator_inlet, m.box_air, pull));
  set(ReadingKind::evaporator_outlet_temp, clamped(m.evaporator_outlet, m.box_air, pull));
  set(ReadingKind::suction_line_temp, clamped(m.suction_line, m.ambient, pull));
  set(ReadingKind::discharge_line_temp, clamped(m.discharge_line, m.ambient, pull));
  set(ReadingKind::condenser_middle_temp, clamped(m.condenser_middle, m.ambient, pull));
  set(ReadingKind::liquid_line_temp, clamped(m.liquid_line, m.ambient, pull));
  set(ReadingKind::shell_temp, clamped(m.shell, m.ambient, pull));
  set(ReadingKind::evaporator_air_out_temp, m.evaporator_air_out);
  set(ReadingKind::condenser_air_out_temp, m.condenser_air_out);
  set(ReadingKind::compressor_current, m.current);
  set(ReadingKind::supply_voltage, m.supply_voltage);
  set(ReadingKind::terminal_voltage, m.terminal_voltage);
  set(ReadingKind::run_winding_ohms, std::isfinite(m.run_winding_ohms) ? m.run_winding_ohms : kOpenWinding);
  set(ReadingKind::start_winding_ohms,
      std::isfinite(m.start_winding_ohms) ? m.start_winding_ohms : kOpenWinding);
}

// What nobody could mistake in the recorded machine. The limits between the words are our estimate.
std::vector<std::pair<std::string, std::string>> plain_to_see(const RecordedMoment& m, int trips) {
  const auto fan = [](double speed) { return speed < 0.1 ? "stopped" : speed < 0.8 ? "slow" : "running"; };
  std::vector<std::pair<std::string, std::string>> seen{
      {"compressor", trips > 0       ? "cycling_on_overload"
                     : m.motor_turns ? "running"
                     : m.motor_hums  ? "humming"
                                     : "off"},
      {"evaporator_fan", fan(m.evaporator_fan)},
      {"condenser_face", m.dirt < 0.15  ? "clean"
                         : m.dirt < 0.5 ? "dusty"
                                        : "blocked"},
      {"control_call", m.calls_for_cold ? "calling" : "not_calling"}};
  if (m.motor_turns) seen.emplace_back("condenser_fan", fan(m.condenser_fan));
  if (m.frost > 0.4) seen.emplace_back("evaporator_coil", "iced_over");
  return seen;
}

std::optional<std::size_t> place(const diagnosis::Knowledge& k, const std::string& cause) {
  for (std::size_t i = 0; i < k.causes.size(); ++i)
    if (k.causes[i].id == cause) return i;
  return std::nullopt;
}

}  // namespace

Result<Visit> recorded_visit(const Recorded& recorded, std::shared_ptr<const circuit::WorkingFluid> fluid,
                             const diagnosis::Knowledge& knowledge) {
  const Problem broken{"data/practice/" + recorded.id + ".json", "what can't be taken",
                       "a known cabinet, one or two known causes and a course",
                       "the file wasn't made for this program"};
  const auto kind = std::find_if(knowledge.archetypes.begin(), knowledge.archetypes.end(),
                                 [&](const auto& a) { return a.id == recorded.cabinet; });
  if (kind == knowledge.archetypes.end() || recorded.course.empty() || recorded.truth.empty() ||
      recorded.truth.size() > 2)
    return broken;
  Visit v;
  v.seed = recorded.seed;
  v.level = recorded.level;
  v.kind = *kind;
  v.plate.archetype = kind->id;
  v.plate.refrigerant = v.refrigerant = recorded.refrigerant;
  v.plate.charge = recorded.charge;
  v.plate.rated_current = recorded.current;
  v.plate.rated_voltage = recorded.voltage;
  v.plate.set_point = recorded.set_point;
  v.ambient = recorded.course.front().ambient;
  v.box = recorded.course.front().box_air;
  v.site_pressure = recorded.site_pressure;
  v.fluid = std::move(fluid);
  v.knowledge = &knowledge;
  v.of_its_kind = true;
  std::vector<std::pair<std::size_t, RecordedFault>> faults;
  for (const RecordedFault& fault : recorded.truth) {
    const auto at = place(knowledge, fault.cause);
    if (!at) return broken;
    faults.emplace_back(*at, fault);
  }
  std::sort(faults.begin(), faults.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  for (std::size_t i = 0; i < faults.size(); ++i) {
    const diagnosis::CauseInfo& cause = knowledge.causes[faults[i].first];
    const double range = cause.severity_high - cause.severity_low;
    const double share = std::clamp((faults[i].second.severity - cause.severity_low) / range, 0.001, 0.999);
    v.faults.push_back({cause.id, faults[i].second.severity, share});
    v.truth.causes.push_back(static_cast<int>(faults[i].first));
    v.truth.id += (i == 0 ? "" : "+") + cause.id;
    v.machine[diagnosis::index(i == 0 ? Extra::severity : Extra::severity_2)] = normal_quantile(share);
  }
  const auto kept = std::make_shared<const Recorded>(recorded);
  const double pull = clamp_pull(v.level);
  const std::vector<Fault> shares = v.faults;
  v.at = [kept, pull, shares](const History& h) {
    const RecordedMoment now = between(kept->course, h.minutes * 60);
    Moment m;
    m.sim.ok = true;
    m.sim.mode = mode_of(now, kept->trips_last_hour);
    m.sim.true_box = now.box_air;
    m.sim.true_ambient = now.ambient;
    m.sim.severity_share = shares.front().share;
    if (shares.size() > 1) m.sim.severity_share_2 = shares[1].share;
    fill(m.sim, now, kept->standing_pressure, pull);
    if (now.motor_turns && now.running_for > 0 && now.running_for < 2 * 3600)
      m.minutes_running = now.running_for / 60;
    m.seen = plain_to_see(now, kept->trips_last_hour);
    return m;
  };
  return v;
}

}  // namespace coldwright::practice

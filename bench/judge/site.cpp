#include "judge/site.hpp"

#include <algorithm>
#include <cmath>

#include "judge/eyes.hpp"

namespace coldwright::judge {
namespace {

using circuit::QuantityKind;
using circuit::ReadingKind;

constexpr double kWait = 12;         // min, for the motor to start again
constexpr double kWaitForCall = 45;  // and where the control has had enough cold
constexpr double kLockedOverPlate =
    4;  // current of a standing rotor over the plate's, where no sample caught one
constexpr double kProbeSettles = 15;     // min, before the box's temperature is written down
constexpr double kArrivalMinutes = 3;    // plate, ambient, box
constexpr double kOpenOnTheMeter = 1e6;  // ohm, what is written down for an open winding

// Readings of the machine at work; volts and ohms are taken as it stands.
bool wants_motor(ReadingKind kind) {
  const QuantityKind q = circuit::info(kind).quantity;
  return kind != ReadingKind::standing_pressure &&
         (q == QuantityKind::pressure || q == QuantityKind::temperature || q == QuantityKind::current);
}

bool at_work(const lab::Readable& r, ReadingKind kind) {
  return r.motor_turns || (kind == ReadingKind::compressor_current && r.motor_hums);
}

double step(double value, double resolution) { return std::round(value / resolution) * resolution; }

}  // namespace

Site::Site(const lab::Visit& visit, RandomStream random)
    : visit_(visit), random_(random), technician_(hire(random.fork(1))), start_known_(false) {
  start_known_ = random_.fork(2).uniform() < 0.6;
  turn_control_down();
}

// A machine that rests because its control has had enough is turned down and starts: as it would have by
// itself later, so the course is lived from there on.
void Site::turn_control_down() {
  const auto& course = visit_.course;
  if (course.front().calls_for_cold || course.front().motor_turns) return;
  const auto starts =
      std::find_if(course.begin(), course.end(), [](const lab::Readable& r) { return r.motor_turns; });
  if (starts != course.end()) ahead_ = starts->time - course.front().time;
}

const lab::Readable& Site::at(double minutes) const {
  const auto& course = visit_.course;
  const auto later = std::upper_bound(course.begin(), course.end(), 60 * minutes + ahead_,
                                      [](double t, const lab::Readable& r) { return t < r.time; });
  return later == course.begin() ? course.front() : *(later - 1);
}

diagnosis::Case Site::arrival() {
  cost_.minutes += kArrivalMinutes;
  diagnosis::Case c;
  c.nameplate.archetype = visit_.archetype;
  c.nameplate.refrigerant = visit_.refrigerant;
  if (visit_.plate_charge > 0) c.nameplate.charge = visit_.plate_charge;
  if (visit_.plate_current > 0) c.nameplate.rated_current = visit_.plate_current;
  if (visit_.plate_voltage > 0) c.nameplate.rated_voltage = visit_.plate_voltage;
  if (visit_.set_point > 0) c.nameplate.set_point = visit_.set_point;
  c.site_pressure = visit_.site_pressure;
  RandomStream own = random_.fork(3);
  // Besides the probe's own error: where it was held.
  c.ambient = step(now().ambient + technician_.air_probe_offset + 0.5 * own.normal(), 0.1);
  c.box = step(at(kProbeSettles).box_air + technician_.air_probe_offset + 0.5 * own.normal(), 0.1);
  c.observations.push_back({"complaint", visit_.box_holds ? "none" : "not_cooling", ""});
  return c;
}

std::optional<double> Site::minutes_running(const lab::Readable& r) const {
  if (!r.motor_turns) return std::nullopt;
  const bool seen = r.running_for < 60 * cost_.minutes;
  return seen || start_known_ ? std::optional(r.running_for / 60) : std::nullopt;
}

diagnosis::Observation Site::look(const std::string& subject, double minutes) {
  const double from = 60 * cost_.minutes;
  cost_.minutes += minutes;
  std::uint64_t label = 1000;
  for (char c : subject) label = label * 31 + static_cast<unsigned char>(c);
  return {subject,
          seen(visit_, technician_, subject, from + ahead_, 60 * cost_.minutes + ahead_, random_.fork(label)),
          ""};
}

void Site::wait_for_motor(ReadingKind kind) {
  const double before = cost_.minutes;
  while (!at_work(now(), kind) && cost_.minutes < before + kWait) cost_.minutes += 0.5;
  if (!at_work(now(), kind)) cost_.minutes = before;  // it is known not to start: nobody waits for that
}

// What is read at the end of these minutes. The machine may have stopped meanwhile: then the last moment at
// work. An attempt to start lasts seconds, which the course's samples miss: who holds a clamp or a probe
// there sees it, so one is looked for in the whole course.
const lab::Readable& Site::moment(ReadingKind kind, double minutes) const {
  const lab::Readable& end = now();
  if (kind == ReadingKind::terminal_voltage ||
      (kind == ReadingKind::compressor_current && !at_work(end, kind))) {
    const lab::Readable* best = &end;
    for (const lab::Readable& r : visit_.course)
      if (kind == ReadingKind::terminal_voltage
              ? r.terminal_voltage > best->terminal_voltage && visit_.trips_last_hour > 0
              : r.motor_hums)
        best = &r;
    return *best;
  }
  if (!wants_motor(kind) || at_work(end, kind)) return end;
  const lab::Readable* r = &end;
  while (r > &visit_.course.front() && r->time > 60 * (cost_.minutes - minutes) + ahead_ &&
         !at_work(*r, kind))
    --r;
  return at_work(*r, kind) ? *r : end;
}

diagnosis::Reading Site::read(ReadingKind kind) {
  const auto& row = circuit::info(kind);
  if (wants_motor(kind) || (kind == ReadingKind::terminal_voltage && !now().calls_for_cold))
    wait_for_motor(kind);
  cost_.minutes += row.minutes;
  if (row.opens_circuit) {
    cost_.grams += row.grams_lost;
    if (open_.insert(kind == ReadingKind::discharge_pressure).second) ++cost_.openings;
  }
  const lab::Readable& r = moment(kind, row.minutes);
  diagnosis::Reading reading{kind, value(kind, r, random_.fork(100 + static_cast<std::uint64_t>(kind))),
                             std::nullopt, std::nullopt, ""};
  if (wants_motor(kind)) reading.minutes_running = minutes_running(r);
  return reading;
}

bool Site::ever_turns() const {
  return std::any_of(visit_.course.begin(), visit_.course.end(),
                     [](const lab::Readable& r) { return r.motor_turns; });
}

double Site::temperature(ReadingKind kind, const lab::Readable& r, RandomStream& own, bool mistaken) const {
  const Technician& t = technician_;
  if (kind == ReadingKind::evaporator_air_out_temp || kind == ReadingKind::condenser_air_out_temp) {
    const bool cold = kind == ReadingKind::evaporator_air_out_temp;
    const double air = cold ? r.evaporator_air_out : r.condenser_air_out, room = cold ? r.box_air : r.ambient;
    // The probe stands in a stream that isn't of one temperature, and in part beside it.
    const double beside = mistaken ? 0.8 : 0.1 * own.uniform();
    return air + beside * (room - air) + t.air_probe_offset + 0.5 * own.normal();
  }
  double pipe = 0, air = r.ambient;
  switch (kind) {
    case ReadingKind::evaporator_inlet_temp:
      pipe = r.evaporator_inlet, air = r.box_air;
      break;
    case ReadingKind::evaporator_outlet_temp:
      pipe = r.evaporator_outlet, air = r.box_air;
      break;
    case ReadingKind::suction_line_temp:
      pipe = r.suction_line;
      break;
    case ReadingKind::discharge_line_temp:
      pipe = r.discharge_line;
      break;
    case ReadingKind::condenser_middle_temp:
      pipe = r.condenser_middle, air = 0.5 * (r.ambient + r.condenser_air_out);
      break;
    case ReadingKind::liquid_line_temp:
      pipe = r.liquid_line;
      break;
    default:
      pipe = r.shell;
  }
  // Contact differs from place to place; a mistake is a clamp that hardly touches.
  const double pull = mistaken ? 0.6 : std::min(t.clamp_pull * std::exp(0.35 * own.normal()), 0.5);
  return pipe + pull * (air - pipe) + t.clamp_offset[static_cast<int>(kind) % 2] + 0.3 * own.normal();
}

double Site::value(ReadingKind kind, const lab::Readable& r, RandomStream own) const {
  const Technician& t = technician_;
  const bool mistaken = own.uniform() < t.mistakes;
  const auto gauge = [&](double pressure, bool high) {
    const double full = high ? kHighFullScale : kLowFullScale;
    const double error = (high ? t.high_gauge_class : t.low_gauge_class) * full * own.normal() +
                         (high ? t.high_gauge_zero : t.low_gauge_zero);
    // Read off the other scale printed beside, or a valve left half shut.
    const double above_air = (pressure - visit_.site_pressure) * (mistaken ? 0.7 : 1) + error;
    return std::max(step(above_air, high ? 1e4 : 2e3), -0.98 * visit_.site_pressure) + visit_.site_pressure;
  };
  const auto ohms = [&](double winding) {
    if (mistaken || !(winding < kOpenOnTheMeter)) return kOpenOnTheMeter;  // or a probe that makes no contact
    return step((winding + t.lead_ohms) * t.ohms_gain, 0.1);
  };
  switch (kind) {
    case ReadingKind::suction_pressure:
      return gauge(r.suction_pressure, false);
    case ReadingKind::discharge_pressure:
      return gauge(r.discharge_pressure, true);
    case ReadingKind::standing_pressure:
      return gauge(visit_.standing_pressure, visit_.standing_pressure - visit_.site_pressure > kLowFullScale);
    case ReadingKind::compressor_current: {
      // A mistake is a clamp around the whole machine's lead, fans included.
      const bool missed = !r.motor_turns && !r.motor_hums && visit_.trips_last_hour > 0 && !ever_turns();
      const double tried =
          missed ? kLockedOverPlate * visit_.plate_current * r.supply_voltage / visit_.plate_voltage : 0;
      const double amps = std::max(r.current, tried) + (mistaken ? 0.6 : 0);
      return std::max(step(amps * t.amps_gain + (amps > 0 ? t.amps_offset + 0.01 * own.normal() : 0), 0.01),
                      0.0);
    }
    case ReadingKind::supply_voltage:
      return step(r.supply_voltage * t.volts_gain + 0.5 * own.normal(), 0.1);
    case ReadingKind::terminal_voltage:
      if (mistaken) return 0;  // a probe that makes no contact
      return std::max(step(r.terminal_voltage * t.volts_gain + 0.5 * own.normal(), 0.1), 0.0);
    case ReadingKind::run_winding_ohms:
      return ohms(r.run_winding_ohms);
    case ReadingKind::start_winding_ohms:
      return ohms(r.start_winding_ohms);
    default:
      return step(temperature(kind, r, own, mistaken), 0.1);
  }
}

bool steady(const lab::Visit& visit) {
  const lab::Readable& first = visit.course.front();
  if (first.motor_turns && first.running_for < 20 * 60) return false;
  if (!first.motor_turns && visit.starts_last_hour > 0) return false;
  return std::all_of(visit.course.begin(), visit.course.end(), [&](const lab::Readable& r) {
    return r.time > 40 * 60 || r.motor_turns == first.motor_turns;
  });
}

}  // namespace coldwright::judge

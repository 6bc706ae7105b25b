#include "diagnosis/instruments.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/normal.hpp"

namespace coldwright::diagnosis {
namespace {

using circuit::QuantityKind;
using circuit::ReadingKind;

// Instruments: gauge 1 % and 0.7 psi (high side 1.5 psi), clamp thermometer 1 K besides its pull to the air,
// air probe 0.5 K, clamp meter 2 % and 0.02 A, voltmeter 1 %, ohmmeter 3 % on windings that differ by 12 %
// among motors. Common practice and our estimate; a reading that states its accuracy replaces them.
double instrument_default(const Reading& r, double site_pressure) {
  const double psi = 6894.757;
  switch (circuit::info(r.kind).quantity) {
    case QuantityKind::pressure:
      return std::hypot(0.01 * (r.value - site_pressure),
                        (r.kind == ReadingKind::suction_pressure ? 0.7 : 1.5) * psi);
    case QuantityKind::temperature:
      return r.kind == ReadingKind::evaporator_air_out_temp || r.kind == ReadingKind::condenser_air_out_temp
                 ? 0.7
                 : 1.0;
    case QuantityKind::current:
      return std::hypot(0.02 * r.value, 0.02);
    case QuantityKind::voltage:
      return std::max(0.01 * r.value, 1.0);
    case QuantityKind::resistance:
      return 0.12;
  }
  return 0;
}

// Model discrepancy: what a machine built otherwise than ours may add. Our estimate, set by robust residuals
// under the true cause on the virtual cabinet's tuning seed
// (docs/decisions/0016-discrepancy-from-the-lab.md).
double discrepancy(const Reading& r) {
  switch (r.kind) {
    case ReadingKind::suction_pressure:
      return 0.08 * r.value;
    case ReadingKind::discharge_pressure:
      return 0.05 * r.value;
    case ReadingKind::standing_pressure:
      return 0.12 * r.value;
    case ReadingKind::evaporator_inlet_temp:
      return 1.3;
    case ReadingKind::evaporator_outlet_temp:
      return 2.2;
    case ReadingKind::suction_line_temp:
      return 3.8;
    case ReadingKind::discharge_line_temp:
      return 5.5;
    case ReadingKind::condenser_middle_temp:
      return 0.9;
    case ReadingKind::liquid_line_temp:
      return 1.1;
    case ReadingKind::shell_temp:
      return 9.0;
    case ReadingKind::evaporator_air_out_temp:
      return 2.0;
    case ReadingKind::condenser_air_out_temp:
      return 1.8;
    case ReadingKind::compressor_current:
      return 0.07 * r.value;
    case ReadingKind::supply_voltage:
      return 0.005 * r.value;
    case ReadingKind::terminal_voltage:
      return 0.01 * r.value;
    case ReadingKind::run_winding_ohms:
    case ReadingKind::start_winding_ohms:
      return 0.10;
  }
  return 0;
}

// What is added to it where the machine runs far from its design: a condenser that gets no air, a coil that
// gets little liquid or is dry in part. Set by the same residuals, which grew that way
// (docs/decisions/0018-what-the-evidence-held.md).
double discrepancy_far_off(const Reading& r, const Strain& s) {
  switch (r.kind) {
    case ReadingKind::suction_line_temp:
      return 0.8 * s.hot;
    case ReadingKind::discharge_line_temp:
      return std::hypot(0.4 * s.hot, 0.5 * s.starved);
    case ReadingKind::evaporator_inlet_temp:
      return 0.25 * s.starved;
    case ReadingKind::evaporator_outlet_temp:
      return s.partly_dry;
    case ReadingKind::condenser_middle_temp:
      return 0.06 * s.hot;
    case ReadingKind::liquid_line_temp:
      return 0.075 * s.hot;
    case ReadingKind::suction_pressure:
      return 0.005 * s.starved * r.value;
    default:
      return 0;
  }
}

// A motor that is believed to run may stand at the moment in which its current is read: its control has had
// enough, or its overload is open. Our estimate.
constexpr double kRestShare = 0.03;

double blunder_width(const Reading& r) {
  switch (circuit::info(r.kind).quantity) {
    case QuantityKind::pressure:
      return 0.6 * r.value + 5e4;
    case QuantityKind::temperature:
      return 20;
    case QuantityKind::current:
      return 0.6 * r.value + 0.3;
    case QuantityKind::voltage:
      return 0.5 * r.value + 20;
    case QuantityKind::resistance:
      return 2;
  }
  return 0;
}

// A machine just started is still on its way: how far a reading lies from where it stands after three
// quarters of an hour falls as exp(-minutes / time). The condenser's side is there in minutes, the shell and
// what hangs on it takes longest. Pressures and current as a share of the reading. Robust spreads over starts
// in the virtual cabinet, tuning seed (our estimate; docs/decisions/0016-discrepancy-from-the-lab.md).
struct Settling {
  double at_start, minutes;
};

Settling settling(ReadingKind kind) {
  switch (kind) {
    case ReadingKind::suction_pressure:
      return {0.16, 15};
    case ReadingKind::discharge_pressure:
      return {0.07, 12};
    case ReadingKind::evaporator_inlet_temp:
      return {11, 10};
    case ReadingKind::evaporator_outlet_temp:
      return {4, 8};
    case ReadingKind::suction_line_temp:
      return {12, 12};
    case ReadingKind::discharge_line_temp:
      return {15, 16};
    case ReadingKind::condenser_middle_temp:
      return {2.5, 10};
    case ReadingKind::liquid_line_temp:
      return {1.5, 10};
    case ReadingKind::shell_temp:
      return {12, 18};
    case ReadingKind::evaporator_air_out_temp:
      return {2, 8};
    case ReadingKind::condenser_air_out_temp:
      return {1, 10};
    case ReadingKind::compressor_current:
      return {0.06, 13};
    case ReadingKind::standing_pressure:
    case ReadingKind::supply_voltage:
    case ReadingKind::terminal_voltage:
    case ReadingKind::run_winding_ohms:
    case ReadingKind::start_winding_ohms:
      return {0, 1};
  }
  return {0, 1};
}

double unsteadiness(const Reading& r) {
  if (!r.minutes_running) return 0;
  const Settling s = settling(r.kind);
  const double left = s.at_start * std::exp(-std::max(*r.minutes_running, 0.0) / s.minutes);
  return circuit::info(r.kind).quantity == QuantityKind::temperature ? left : left * r.value;
}

}  // namespace

Strain strain(const Case& c) {
  const auto read = [&](ReadingKind kind) -> std::optional<double> {
    for (const Reading& r : c.readings)
      if (r.kind == kind) return r.value;
    return std::nullopt;
  };
  const auto middle = read(ReadingKind::condenser_middle_temp);
  const auto in = read(ReadingKind::evaporator_inlet_temp), out = read(ReadingKind::evaporator_outlet_temp);
  Strain s;
  if (middle && c.ambient) s.hot = std::clamp(*middle - *c.ambient - 14, 0.0, 30.0);
  if (in && out) {
    const double superheat = *out - *in;
    s.starved = std::clamp(superheat - 5, 0.0, 20.0);
    // Nothing where the coil is wet throughout, most from 4 to 10 K, half of that where it is dry throughout.
    s.partly_dry = superheat < 10 ? std::clamp(1.7 * (superheat - 1), 0.0, 5.0)
                                  : std::max(5 - (superheat - 10) / 6, 2.5);
  }
  return s;
}

double scale(circuit::ReadingKind kind, double value) {
  return circuit::info(kind).quantity == QuantityKind::resistance ? std::log(std::max(value, 1e-3)) : value;
}

Uncertainty uncertainty(const Reading& r, double site_pressure, double share, const Strain& strain) {
  Uncertainty u{};
  u.instrument = r.accuracy ? *r.accuracy : instrument_default(r, site_pressure);
  if (r.accuracy && circuit::info(r.kind).quantity == QuantityKind::resistance)
    u.instrument = *r.accuracy / std::max(r.value, 1e-3);
  u.unsteady = unsteadiness(r);
  u.model = share * std::hypot(discrepancy(r), discrepancy_far_off(r, strain));
  u.total = std::sqrt(u.instrument * u.instrument + u.unsteady * u.unsteady + u.model * u.model);
  u.blunder = blunder_width(r);
  return u;
}

bool read_at_rest(const Reading& r, double predicted) {
  return r.kind == ReadingKind::compressor_current && r.value < 0.1 * predicted;
}

double log_likelihood(const Reading& r, const Uncertainty& u, double predicted) {
  if (read_at_rest(r, predicted))
    return std::log(kRestShare) + normal_log_density(r.value / u.total) - std::log(u.total);
  const double d = scale(r.kind, r.value) - scale(r.kind, predicted);
  const double right = normal_log_density(d / u.total) - std::log(u.total);
  const double wide = normal_log_density(d / (u.blunder + u.total)) - std::log(u.blunder + u.total);
  const double a = std::log(1 - kBlunderShare) + right, b = std::log(kBlunderShare) + wide;
  return std::max(a, b) + std::log1p(std::exp(-std::abs(a - b)));
}

}  // namespace coldwright::diagnosis

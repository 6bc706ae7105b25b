#include "diagnosis/instruments.hpp"

#include <algorithm>
#include <cmath>

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

// Model discrepancy: what a machine built otherwise than ours may add. Our estimate, sized on populations
// shifted in coil size, hold-up, suction exchange and clamp contact (bench/diagnosis_table.cpp).
double discrepancy(const Reading& r) {
  switch (r.kind) {
    case ReadingKind::suction_pressure:
      return 0.035 * r.value;
    case ReadingKind::discharge_pressure:
      return 0.035 * r.value;
    case ReadingKind::standing_pressure:
      return 0.03 * r.value;
    case ReadingKind::evaporator_inlet_temp:
      return 1.2;
    case ReadingKind::evaporator_outlet_temp:
      return 1.5;
    case ReadingKind::suction_line_temp:
      return 3.0;
    case ReadingKind::discharge_line_temp:
      return 5.0;
    case ReadingKind::condenser_middle_temp:
      return 1.5;
    case ReadingKind::liquid_line_temp:
      return 1.5;
    case ReadingKind::shell_temp:
      return 6.0;
    case ReadingKind::evaporator_air_out_temp:
      return 1.2;
    case ReadingKind::condenser_air_out_temp:
      return 1.5;
    case ReadingKind::compressor_current:
      return 0.05 * r.value;
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

// A machine just started: pressures and temperatures are still moving with a time constant near eight minutes
// (our estimate for a plug-in cabinet's circuit; the box itself is an input and may be warm).
double unsteadiness(const Reading& r) {
  if (!r.minutes_running) return 0;
  const double left = std::exp(-std::max(*r.minutes_running, 0.0) / 8);
  switch (circuit::info(r.kind).quantity) {
    case QuantityKind::pressure:
      return 0.25 * left * r.value;
    case QuantityKind::temperature:
      return 9 * left;
    case QuantityKind::current:
      return 0.10 * left * r.value;
    default:
      return 0;
  }
}

}  // namespace

double scale(circuit::ReadingKind kind, double value) {
  return circuit::info(kind).quantity == QuantityKind::resistance ? std::log(std::max(value, 1e-3)) : value;
}

Uncertainty uncertainty(const Reading& r, double site_pressure, double share) {
  Uncertainty u{};
  u.instrument = r.accuracy ? *r.accuracy : instrument_default(r, site_pressure);
  if (r.accuracy && circuit::info(r.kind).quantity == QuantityKind::resistance)
    u.instrument = *r.accuracy / std::max(r.value, 1e-3);
  u.unsteady = unsteadiness(r);
  u.model = share * discrepancy(r);
  u.total = std::sqrt(u.instrument * u.instrument + u.unsteady * u.unsteady + u.model * u.model);
  u.blunder = blunder_width(r);
  return u;
}

double log_likelihood(const Reading& r, const Uncertainty& u, double predicted) {
  const double d = scale(r.kind, r.value) - scale(r.kind, predicted);
  const double right = normal_log_density(d / u.total) - std::log(u.total);
  const double wide = normal_log_density(d / (u.blunder + u.total)) - std::log(u.blunder + u.total);
  const double a = std::log(1 - kBlunderShare) + right, b = std::log(kBlunderShare) + wide;
  return std::max(a, b) + std::log1p(std::exp(-std::abs(a - b)));
}

}  // namespace coldwright::diagnosis

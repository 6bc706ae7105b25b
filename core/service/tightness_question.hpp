// What the use case "tightness" was asked: sides and their plates, what is joined by which tube, the gas, the
// readings. Kept to service/.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fluids/fluid.hpp"
#include "procedures/tightness.hpp"
#include "service/request.hpp"

namespace coldwright::service {

struct TightnessQuestion {
  fluids::Fluid fluid, nitrogen;
  double T = 293.15, p_air = 101325;
  std::vector<procedures::Side> sides{};  // low, high
  std::optional<double> allowed{};        // Pa absolute, where every connected side has its plate
  std::optional<double> wanted_pressure{};
  procedures::Known volume{};                     // m3, of what is connected
  procedures::Known volume_low{}, volume_high{};  // m3; zero where nobody said
  bool volume_from_plate = false, tube_from_plate = false;
  std::optional<procedures::Joined> joined{};  // both sides, through the capillary alone
  procedures::TightnessGauge gauge{};
  bool gauge_assumed = false, temperature_sigma_assumed = false, no_temperature = false;
  double coldest_below = 0;
  std::optional<double> to{};  // K, at which the gauge's reading is wanted
  bool refrigerant_assumed = false;
  double wanted_leak = 0;       // kg of refrigerant a year
  double service_pressure = 0;  // Pa absolute, at which it would leak
  double tracer = 0;            // share of the pressure at the start
  std::vector<procedures::TightnessReading> readings{};

  double test_pressure() const;  // Pa absolute: wanted, or the first reading's
};

const std::vector<std::string>& tightness_keys();

/// A test pressure above the plate of what is connected is refused with the side that limits it; readings out
/// of order are asked about by what reads them.
Result<TightnessQuestion> ask_tightness(Request& request, base::SitePressure site,
                                        std::optional<base::UnitSystem>& spoken_in);

}  // namespace coldwright::service

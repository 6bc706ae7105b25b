// A request's plate ("cabinet", "charge", "rated_current", ...) and the machines that it leaves plausible,
// for procedures that need a tube or a volume nobody measured. Kept to service/.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/field_units.hpp"
#include "circuit/machine.hpp"
#include "circuit/working_fluid.hpp"
#include "fluids/fluid.hpp"
#include "service/request.hpp"

namespace coldwright::service {

/// The keys read here: "cabinet", "charge", "rated_current", "rated_voltage", "frequency", "set_point".
const std::vector<std::string>& plate_keys();

struct PlausiblePlate {
  fluids::Fluid fluid;
  circuit::WorkingFluid table;
  std::vector<circuit::Machine> machines;
};

/// Nothing when the request names no cabinet. The refrigerant is the request's or else the cabinet's usual
/// one. What can't be taken is remembered in the request: an unknown cabinet, a refrigerant that glides, a
/// plate that contradicts itself.
std::optional<PlausiblePlate> plausible_plate(Request& request, int count,
                                              std::optional<base::UnitSystem>& spoken_in);

/// A spread: a difference or a share of `of`, as "0.02 mm" or "5 %"; `usual` when the key is absent.
double spread(Request& request, std::string_view key, base::Dimension dimension, double of, double usual,
              std::optional<base::UnitSystem>& spoken_in);

/// A tube's bore (0.1 to 5 mm) or length (0.05 to 30 m), and a temperature where circuits are worked on (-60
/// to 80 C); nothing when the key is absent.
std::optional<double> tube_bore(Request& request, std::string_view key,
                                std::optional<base::UnitSystem>& spoken_in);
std::optional<double> tube_length(Request& request, std::string_view key,
                                  std::optional<base::UnitSystem>& spoken_in);
std::optional<double> site_temperature(Request& request, std::string_view key,
                                       std::optional<base::UnitSystem>& spoken_in);

/// Decimals beside the usual: a bore to a hundredth of a millimetre, a tube's length to the centimetre, a
/// large leak or volume to whole units.
inline constexpr int kBoreDecimals = 1, kLengthDecimals = 2;
int leak_decimals(double kilograms_a_second);

}  // namespace coldwright::service

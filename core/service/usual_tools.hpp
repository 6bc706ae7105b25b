// What a technician's tools are taken for until it is said otherwise. Kept to service/.
#pragma once

namespace coldwright::service {

inline constexpr double kUsualBore = 4.8e-3;   // m, inside of a quarter-inch service hose (common practice)
inline constexpr double kUsualLength = 1.524;  // m, five feet of it (common practice)
inline constexpr double kLongestHose = 60, kWidestHose = 0.05;  // m: beyond is a slip (our estimate)

/// A gauge reads within 1 % or one psi (our estimate).
inline constexpr double kGaugeShare = 0.01, kGaugeLeast = 6894.8;  // of the reading; Pa

}  // namespace coldwright::service

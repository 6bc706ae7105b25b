// Numbers that several procedures reckon with. Kept to procedures/.
#pragma once

namespace coldwright::procedures {

inline constexpr double kGasConstant = 8.314462618;      // J/(mol K), exact since 2019
inline constexpr double kOneSided = 1.6448536269514722;  // spreads of a normal law that 95 % lie below

}  // namespace coldwright::procedures

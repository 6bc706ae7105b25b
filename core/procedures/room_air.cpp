#include "procedures/room_air.hpp"

namespace coldwright::procedures {

double limit_here(double tabulated, const RoomAir& air) {
  return tabulated * air.p / 101325 * 298.15 / air.T;
}

double volume_share(double charge, double M, double volume, const RoomAir& air) {
  return charge / M * 8.314462618 * air.T / (air.p * volume);
}

double smallest_volume(double charge, double limit, double share) { return charge / (limit * share); }

double largest_charge(double volume, double limit, double share) { return volume * limit * share; }

}  // namespace coldwright::procedures

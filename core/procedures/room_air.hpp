// A charge let out into a room: how dense it is once mixed with all the air, against the density at which it
// burns.
//
// The lower flammability limit is a share of the volume, so as a density it goes with the air's: the
// tabulated value at 25 C and 101.325 kPa times (p/101325)(298.15/T) (perfect gas). Evenly mixed is the best
// case: a gas heavier than air lies on the floor first.
#pragma once

namespace coldwright::procedures {

struct RoomAir {
  double T;  // K
  double p;  // Pa, the site's
};

/// kg/m3 at which it begins to burn here, from the tabulated one at 25 C and 101.325 kPa.
double limit_here(double tabulated, const RoomAir& air);

/// Share of the volume that `charge` (kg) of molar mass M (kg/mol) takes in `volume` (m3).
double volume_share(double charge, double M, double volume, const RoomAir& air);

/// Smallest volume (m3) in which all of `charge` (kg), evenly mixed, stays at `share` of the limit (kg/m3).
double smallest_volume(double charge, double limit, double share);
/// Largest charge (kg) for a volume (m3).
double largest_charge(double volume, double limit, double share);

}  // namespace coldwright::procedures

// The capillary tube, integrated along its length.
#pragma once

#include "lab/correlations.hpp"

namespace coldwright::lab {

struct Tube {
  double length = 3, bore = 0.8e-3;  // m
  double roughness = 0.8e-6;         // m, our estimate for drawn copper
  double contact = 1.2;              // m of it beside the suction line, ending half a metre before its end
  double contact_end = 0.4;          // m from the outlet
};

/// What stands before the tube. `quality` below zero for liquid colder than saturation: then T tells.
struct Before {
  double p, T, h;
  bool liquid;
};

/// The length of tube that this flow, kg/s, would need from the state before it down to p_out, or down to
/// where it chokes if that comes first; `heat`, W, is given to the suction line along the contact. Marching
/// is in steps of pressure, so that a choked end is where the length stops growing. Two-phase flow is
/// homogeneous in equilibrium.
double length_for(const Refrigerant& r, const Correlations& with, const Tube& tube, const Before& before,
                  double p_out, double flow, double heat);

}  // namespace coldwright::lab

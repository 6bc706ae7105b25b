// Viscosity, thermal conductivity and surface tension from the correlations in FluidData.
#pragma once

#include "fluids/equation.hpp"

namespace coldwright::fluids {

/// Pa s. Precondition: the fluid has viscosity data and (T, rho) is one phase inside the limits.
double viscosity(const FluidData& fluid, double T, double rho);

/// W/(m K), critical enhancement included. Same preconditions, with conductivity data too.
double conductivity(const FluidData& fluid, double T, double rho);

/// N/m; zero at and above the correlation's own critical temperature.
double surface_tension(const SurfaceTensionData& data, double T);

}  // namespace coldwright::fluids

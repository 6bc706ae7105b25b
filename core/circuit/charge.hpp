// Where the refrigerant is: void fraction in two-phase zones and what the oil dissolves.
#pragma once

namespace coldwright::circuit {

/// Void fraction at quality x by Zivi's minimum-entropy-production slip ratio, S = (rho_l/rho_v)^(1/3)
/// [zivi1964]. x in 0..1.
double zivi_void(double x, double rho_l, double rho_v);

/// Mean of zivi_void over quality running linearly from xa to xb (uniform heat flux), in closed form.
double zivi_void_mean(double xa, double xb, double rho_l, double rho_v);

/// Mean density of a two-phase zone, kg/m3. `hold_up` multiplies the liquid share: Zivi alone puts too
/// little liquid into small coils at low flow (hold-up 1.0-2.2, our estimate from the feasibility study).
double two_phase_mean_density(double xa, double xb, double rho_l, double rho_v, double hold_up);

/// Refrigerant dissolved per kg of oil at p/p_sat(T_oil) = r: w = a r (1 + 1.5 r^2) as a mass share of the
/// mixture, returned as kg per kg of oil. `a` 0.15-0.30: our estimate for hydrocarbons in mineral and
/// R134a in ester oil.
double dissolved_in_oil(double r, double a);

}  // namespace coldwright::circuit

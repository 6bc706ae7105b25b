// The published coefficients of one refrigerant as plain values, each block with the key of its
// paper in data/references.bib. A loader fills this from data/refrigerants/; Fluid::make checks it.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace coldwright::fluids {

/// n delta^d tau^t exp(-g delta^l) exp(-tau^m); without the first exponential for l = 0, without the second
/// for m = 0.
struct PowerTerm {
  double n, t;
  int d, l;
  double g = 1, m = 0;
};

/// n delta^d tau^t exp(-eta (delta - epsilon)^2 - beta (tau - gamma)^2)
struct GaussianTerm {
  double n, t;
  int d;
  double eta, epsilon, beta, gamma;
};

/// n delta^d tau^t exp(-eta (delta - epsilon)^2 + 1/(beta (tau - gamma)^2 + b)) [gao2020]
struct GaoTerm {
  double n, t;
  int d;
  double eta, epsilon, beta, gamma, b;
};

/// n delta Delta^b exp(-C (delta - 1)^2 - D (tau - 1)^2), Delta = theta^2 + B ((delta - 1)^2)^a,
/// theta = (1 - tau) + A ((delta - 1)^2)^(1/(2 beta)) [span1996]
struct NonAnalyticTerm {
  double n, a, b, beta, A, B, C, D;
};

struct ResidualPart {
  std::vector<PowerTerm> power;  // ordered by (l, g): arrange() does it
  std::vector<GaussianTerm> gaussian;
  std::vector<GaoTerm> gao;
  std::vector<NonAnalyticTerm> non_analytic;

  /// Puts the power terms in the order in which they are summed; call after the last was added.
  void arrange();
};

/// alpha0 = ln delta + a1 + a2 tau + c ln tau + sum n tau^t + sum m ln(1 - exp(-theta tau))
struct IdealPart {
  struct Power {
    double n, t;
  };
  struct Einstein {
    double m, theta;
  };
  double a1 = 0, a2 = 0;              // as published
  double shift_a1 = 0, shift_a2 = 0;  // moves the zero of s and h to the IIR reference state
  double log_tau = 0;                 // c
  std::vector<Power> power;
  std::vector<Einstein> einstein;
};

/// A function on [low, high] in N pieces, each a Chebyshev series of the same length. Piece i reaches
/// from (i/N)^2 to ((i+1)/N)^2 of the span: finer towards `low`, where the critical point lies.
struct PiecewiseChebyshev {
  double low = 0, high = 0;
  int terms = 0;                     // a piece
  std::vector<double> coefficients;  // piece after piece
  int pieces() const { return terms > 0 ? static_cast<int>(coefficients.size()) / terms : 0; }
};

/// The saturation line fitted to the converged phase equilibrium of the same equation.
/// x = sqrt(1 - T/T_crit): in it an analytic equation of state has no kink at the critical point.
struct SaturationCurves {
  double T_crit = 0, p_crit = 0, rho_crit = 0;  // of the equation itself: dp/drho = d2p/drho2 = 0
  PiecewiseChebyshev ln_p;                      // of x, p in Pa
  PiecewiseChebyshev rho_liquid;                // of x, kg/m3
  PiecewiseChebyshev ln_rho_vapour;             // of x, kg/m3
  PiecewiseChebyshev T_of_z;                    // K, of z = sqrt(ln(p_crit/p)), smooth for the same reason
  double stated_error = 0;  // largest relative error of p, rho and T against the converged solution
};

/// The bubble and dew lines of a blend, fitted to the converged equilibria of its mixture model.
/// x = sqrt(1 - T/T_crit), y = sqrt(ln(p_scale/p)).
struct BlendCurves {
  double T_crit = 0, p_crit = 0, rho_crit = 0;  // K, Pa, kg/m3, of the blend as a whole
  double T_low = 0, T_high = 0;                 // K, where the lines begin and end
  double T_clear = 0, p_clear = 0;  // above either, no part of the lines beyond T_high is left: one phase
  double p_scale = 0;               // Pa
  PiecewiseChebyshev ln_p_bubble, ln_p_dew;   // of x, p in Pa
  PiecewiseChebyshev rho_bubble, ln_rho_dew;  // of x, kg/m3
  PiecewiseChebyshev T_bubble, T_dew;         // of y, K
  // Where a solve of the other phase starts, of x: ln of each partial density in mol/m3, to about a part in
  // 1e4.
  std::vector<PiecewiseChebyshev> vapour_at_bubble, liquid_at_dew;
  double stated_error = 0;  // largest relative error of p, T and the densities
};

struct BlendModel;    // the mixture itself, see blend_model.hpp
struct ScalingModel;  // its components' transport by scaling, see transport_scaling.hpp

/// eta = eta0(T) (1 + N_A sigma^3 B*(T*) rho) + residual, see transport.cpp.
struct ViscosityData {
  std::string reference;
  double stated_uncertainty = 0;    // largest relative uncertainty its authors state in our range
  double epsilon_over_k = 0;        // K
  double sigma = 0;                 // m
  double dilute_constant = 0;       // Pa s / (kg/mol K)^0.5 m2
  double dilute_M = 0;              // kg/mol, the molar mass that the paper used
  std::vector<double> collision_a;  // ln S* = sum a_i (ln T*)^t_i
  std::vector<double> collision_t;
  std::vector<double> initial_b;  // B* = sum b_i T*^t_i
  std::vector<double> initial_t;
  double residual_T = 0;    // K
  double residual_rho = 0;  // mol/m3
  struct Term {
    double a, d, t;  // a delta^d tau^t, Pa s, tau = residual_T / T
  };
  std::vector<Term> terms;
  struct ClosePacking {
    double f = 0, d = 0;       // f in Pa s: f delta^d (1/(delta0 - delta) - 1/delta0)
    std::vector<double> g, h;  // delta0 = sum g tau^h / sum p tau^q
    std::vector<double> p, q;
  } packing;
};

/// lambda = lambda0(T) + sum B (rho/rho_red)^d tau^t + critical enhancement, see transport.cpp.
struct ConductivityData {
  std::string reference;
  double stated_uncertainty = 0;
  double dilute_T = 0;         // K
  std::vector<double> dilute;  // sum A_i (T/dilute_T)^i, W/(m K)
  double residual_T = 0, residual_rho = 0;
  struct Term {
    double b, d, t;
  };
  std::vector<Term> terms;
  // Simplified Olchowy-Sengers crossover [olchowy1989].
  double critical_R0 = 0, critical_Gamma = 0, critical_gamma = 0, critical_nu = 0;
  double xi0 = 0;    // m
  double q_D = 0;    // 1/m
  double T_far = 0;  // K, where the enhancement is taken to have died out
  double critical_T = 0, critical_p = 0, critical_rho = 0;  // published critical point it scales with
};

/// sigma = sum a (1 - T/T_c)^n
struct SurfaceTensionData {
  std::string reference;
  double stated_uncertainty = 0;
  double T_c = 0;
  struct Term {
    double a, n;
  };
  std::vector<Term> terms;
};

/// p_melt = p0 + a ((T/T0)^c - 1): above it the liquid has frozen.
struct MeltingLine {
  std::string reference;
  double T0 = 0, p0 = 0, a = 0, c = 0;
};

/// One equation of state in the form alpha = alpha0 + alphar: of a pure fluid as published, or of a blend at
/// one composition as its components and their pairs add up to (see mixture.hpp).
struct Formula {
  double M = 0;             // kg/mol
  double R = 0;             // J/(mol K), the gas constant that the paper used
  double T_reducing = 0;    // K
  double rho_reducing = 0;  // mol/m3
  IdealPart ideal;
  ResidualPart residual;
};

struct FluidData : Formula {
  std::string designation;                  // "R290"
  std::string name;                         // "propane"
  std::string equation_reference;           // key in data/references.bib
  std::string estimated_by;                 // how, where there is no published equation; else empty
  double T_triple = 0, T_max = 0;           // K
  double p_max = 0;                         // Pa
  SaturationCurves saturation;              // of a pure fluid
  std::shared_ptr<const BlendModel> blend;  // set for a blend, and then everything above is the whole blend's
  std::optional<MeltingLine> melting;
  std::optional<ViscosityData> viscosity;
  std::optional<ConductivityData> conductivity;
  std::optional<SurfaceTensionData> surface_tension;
  std::shared_ptr<const ScalingModel> scaling;  // where the three above are not set
};

/// How two components mix. T_r and 1/rho_r of the mixture are quadratic in composition, with
///   2 x_i x_j beta gamma (x_i + x_j)/(beta^2 x_i + x_j)  times  sqrt(T_i T_j)  or  (v_i^(1/3) + v_j^(1/3))^3
///   / 8
struct PairData {
  std::size_t i = 0, j = 0;
  double beta_T = 1, gamma_T = 1, beta_v = 1, gamma_v = 1;
  double F = 0;              // weight of the departure function
  ResidualPart departure;    // empty where F is 0
  std::string source;        // key in data/references.bib
  bool estimated = false;    // no published parameters
  std::string estimated_by;  // how
};

}  // namespace coldwright::fluids

// The multi-fluid model of a blend at any composition [kunz2012, section 3]: the residual Helmholtz energies
// of the pure fluids at the mixture's reduced temperature and density, mixed, with a departure function of
// each pair where one was published.
//
// Everything is a function of T and the partial molar densities rho_k: with psi = rho alphar, the pressure
// and the fugacities of all components are derivatives of one function. psi's first and second derivatives
// come from jets of the pair and fluid terms and the chain rule through tau and delta.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "fluids/fluid_data.hpp"
#include "fluids/helmholtz.hpp"

namespace coldwright::fluids {

inline constexpr int most_components = 8;
inline constexpr double mixture_gas_constant = 8.31446261815324;  // J/(mol K) [newell2018]

using Amounts = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, most_components, 1>;
using Pairs = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, most_components, most_components>;

/// One phase at one T and rho_k.
struct MixturePoint {
  double rho = 0;         // mol/m3
  double p = 0, p_T = 0;  // Pa, Pa/K at constant rho_k
  Amounts p_k;            // dp/drho_k, Pa m3/mol
  Amounts ln_f, ln_f_T;   // ln rho_k + dpsi/drho_k: ln f_k up to a function of T alone
  Pairs ln_f_k;           // d(dpsi/drho_k)/drho_j, without the ideal 1/rho_k, m3/mol
};

/// h and s of one phase of a mixture, per mole.
struct MolarCaloric {
  double h, s;  // J/mol, J/(mol K)
};

class Mixture {
 public:
  /// Every pair of components once. At most most_components.
  Mixture(std::vector<FluidData> components, std::vector<PairData> pairs);

  std::size_t size() const { return components_.size(); }
  const std::vector<FluidData>& components() const { return components_; }
  const std::vector<PairData>& pairs() const { return pairs_; }
  double molar_mass(std::size_t k) const { return components_[k].M; }
  double molar_mass(const Amounts& mole_fractions) const {
    double out = 0;
    for (std::size_t k = 0; k < size(); ++k)
      out += mole_fractions(static_cast<Eigen::Index>(k)) * molar_mass(k);
    return out;
  }

  /// Cost: about a microsecond for each two components.
  MixturePoint at(double T, const Amounts& rho) const;
  MolarCaloric caloric(double T, const Amounts& rho) const;

  /// T_r (K) and rho_r (mol/m3) at mole fractions x.
  struct Reducing {
    double T, rho;
  };
  Reducing reducing(const Amounts& x) const;

  /// The same model at one composition as one equation, for states of the whole blend in one phase.
  Formula at_composition(const Amounts& mole_fractions) const;

 private:
  struct Sums;
  Sums sums(double T, const Amounts& rho, bool second_order) const;

  std::vector<FluidData> components_;
  std::vector<PairData> pairs_;
  std::vector<double> T_pair_, v_pair_;  // 2 gamma sqrt(T_i T_j) and the like, a pair
};

}  // namespace coldwright::fluids

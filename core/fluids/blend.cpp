#include "fluids/blend.hpp"

#include <algorithm>

#include "fluids/blend_lines.hpp"

namespace coldwright::fluids {
namespace {

constexpr double ice_point = 273.15;  // K: h = 200 kJ/kg and s = 1 kJ/(kg K) in liquid there

/// To that reference state, where the blend has a liquid there.
void shift_reference(FluidData& data, BlendModel& model) {
  if (!(model.curves.T_low < ice_point && ice_point < model.curves.T_high)) return;
  const double rho = model.bubble_density(ice_point);
  const Caloric at = caloric(data, ice_point, rho);
  model.shift_h = 200e3 - (at.u + model.bubble_pressure(ice_point) / rho);
  model.shift_s = 1e3 - at.s;
  data.ideal.shift_a2 += model.shift_h * data.M / (data.R * data.T_reducing);
  data.ideal.shift_a1 -= model.shift_s * data.M / data.R;
}

}  // namespace

Result<FluidData> make_blend(const std::string& designation, std::vector<FluidData> components,
                             std::vector<PairData> pairs, const std::vector<double>& mass_fractions) {
  const std::size_t n = components.size();
  if (n < 2 || n > most_blend_components || mass_fractions.size() != n || pairs.size() != n * (n - 1) / 2)
    return Problem{"refrigerant", designation, "2 to 8 components, a share of each, every pair once",
                   "that is what makes a blend"};
  Mixture mixture(std::move(components), std::move(pairs));
  const Amounts masses =
      Eigen::Map<const Eigen::VectorXd>(mass_fractions.data(), static_cast<Eigen::Index>(n));
  auto curves = fit_lines(designation, mixture, masses);
  if (!curves) return curves.problem();
  const Amounts moles = by_moles(mixture, masses);
  auto model =
      std::make_shared<BlendModel>(BlendModel{std::move(mixture), masses, moles, std::move(*curves), 0, 0});
  FluidData out;
  static_cast<Formula&>(out) = model->mixture.at_composition(moles);
  out.designation = designation;
  out.equation_reference = "kunz2012";
  out.T_triple = model->curves.T_low;
  out.T_max = 1e4;
  out.p_max = 1e9;
  for (const FluidData& component : model->mixture.components()) {
    out.T_max = std::min(out.T_max, component.T_max);
    out.p_max = std::min(out.p_max, component.p_max);
  }
  shift_reference(out, *model);
  out.blend = std::move(model);
  return out;
}

std::vector<std::string> component_designations(const FluidData& blend) {
  std::vector<std::string> out;
  for (const FluidData& component : blend.blend->mixture.components()) out.push_back(component.designation);
  return out;
}

std::vector<std::string> estimated_components(const FluidData& fluid) {
  std::vector<std::string> out;
  const auto add = [&](const FluidData& one) {
    if (!one.estimated_by.empty()) out.push_back(one.designation + " (" + one.estimated_by + ")");
  };
  if (!fluid.blend) add(fluid);
  if (fluid.blend)
    for (const FluidData& component : fluid.blend->mixture.components()) add(component);
  return out;
}

std::vector<std::string> estimated_pairs(const FluidData& fluid) {
  std::vector<std::string> out;
  if (!fluid.blend) return out;
  const Mixture& mixture = fluid.blend->mixture;
  for (const PairData& pair : mixture.pairs())
    if (pair.estimated)
      out.push_back(mixture.components()[pair.i].designation + "/" +
                    mixture.components()[pair.j].designation + " (" + pair.estimated_by + ")");
  return out;
}

std::vector<std::string> blend_sources(const FluidData& blend) {
  std::vector<std::string> out = {blend.equation_reference};
  const auto add = [&](const std::string& key) {
    if (std::find(out.begin(), out.end(), key) == out.end()) out.push_back(key);
  };
  for (const FluidData& component : blend.blend->mixture.components()) add(component.equation_reference);
  for (const PairData& pair : blend.blend->mixture.pairs()) add(pair.source);
  return out;
}

}  // namespace coldwright::fluids

// Fluid: checks every input against the limits, then hands it to the equation.
#include "fluids/fluid.hpp"

#include <cmath>

#include "base/root.hpp"
#include "fluids/equation.hpp"
#include "fluids/flash.hpp"
#include "fluids/fluid_scaling.hpp"
#include "fluids/problems.hpp"
#include "fluids/transport.hpp"

namespace coldwright::fluids {

struct Fluid::Model {
  Equation equation;
};

namespace {

constexpr double on_the_line = 1e-9;  // relative in p: closer to saturation, (T, p) doesn't name a phase

std::string holds_for(const Equation& equation) {
  return "the equation of state of " + equation.data().designation + " holds there";
}

std::optional<Problem> bad_temperature(const Equation& equation, double T) {
  const Limits& limits = equation.limits();
  if (T >= limits.T_min && T <= limits.T_max) return std::nullopt;  // before any text is made
  return outside("temperature", T, limits.T_min, limits.T_max, in_kelvin, holds_for(equation));
}

std::optional<Problem> bad_pressure(const Equation& equation, double p) {
  if (p > 0 && p <= equation.limits().p_max) return std::nullopt;
  if (auto problem = not_finite("pressure", p)) return problem;
  return Problem{"pressure", in_pascal(p), "above 0 to " + in_pascal(equation.limits().p_max) + " absolute",
                 p > 0 ? holds_for(equation) : "an absolute pressure is above zero"};
}

std::optional<Problem> frozen(const Equation& equation, double T, double p) {
  const double highest = equation.highest_pressure(T);
  if (p <= highest || T > equation.limits().T_crit) return std::nullopt;
  return Problem{"pressure", in_pascal(p), "at most " + in_pascal(highest) + " at " + in_kelvin(T),
                 equation.data().designation + " is solid above it"};
}

std::optional<Problem> bad_quality(double quality) {
  if (quality >= 0 && quality <= 1) return std::nullopt;
  return outside("quality", quality, 0, 1, as_fraction, "it is the vapour's share of the mass");
}

std::string side_by_side(const Equation& equation) {
  return "liquid and vapour of " + equation.data().designation +
         (equation.data().blend
              ? " are followed only between these, up to about 0.99 of the critical temperature"
              : " exist side by side only from the triple point to the critical point");
}

std::optional<Problem> not_saturated_T(const Equation& equation, double T, double highest) {
  if (T >= equation.limits().T_min && T <= highest) return std::nullopt;
  return outside("temperature", T, equation.limits().T_min, highest, in_kelvin, side_by_side(equation));
}

std::optional<Problem> not_saturated_p(const Equation& equation, double p, double highest) {
  if (p >= equation.p_two_phase_min() && p <= highest) return std::nullopt;
  return outside("pressure", p, equation.p_two_phase_min(), highest, in_pascal, side_by_side(equation));
}

Problem unclear(const Equation& equation, double T, double p) {
  return {"temperature and pressure", in_kelvin(T) + " and " + in_pascal(p),
          "a temperature up to " + in_kelvin(equation.T_two_phase_max()) + ", a pressure up to " +
              in_pascal(equation.p_two_phase_max()) + ", or a state well above both",
          "so close to the critical point of " + equation.data().designation + " (" +
              in_kelvin(equation.limits().T_crit) + ") its phases are not told apart"};
}

Problem no_split(const Equation& equation, const char* field, const std::string& given) {
  return {field, given, "a state away from the critical point",
          "the equilibrium of " + equation.data().designation + " was not found here"};
}

}  // namespace

Fluid::Fluid(std::shared_ptr<const Model> model) : model_(std::move(model)) {}

Result<Fluid> Fluid::make(FluidData data) {
  if (auto problem = Equation::check(data)) return *problem;
  return Fluid(std::make_shared<const Model>(Model{Equation(std::move(data))}));
}

const std::string& Fluid::designation() const { return model_->equation.data().designation; }
const Limits& Fluid::limits() const { return model_->equation.limits(); }
const FluidData& Fluid::data() const { return model_->equation.data(); }

Result<State> Fluid::at_Tp(double T, double p) const {
  const Equation& equation = model_->equation;
  if (auto problem = bad_temperature(equation, T)) return *problem;
  if (auto problem = bad_pressure(equation, p)) return *problem;
  if (auto problem = frozen(equation, T, p)) return *problem;
  const Branch branch = equation.branch_at(T, p);
  if (branch == Branch::unclear) return unclear(equation, T, p);
  if (branch == Branch::two_phase) {
    if (auto state = equation.two_phase_at_Tp(T, p)) return *state;
    return no_split(equation, "temperature and pressure", in_kelvin(T) + " and " + in_pascal(p));
  }
  if (T <= equation.T_two_phase_max() && !is_blend()) {
    const double p_sat = equation.bubble_pressure(T);
    if (std::abs(p / p_sat - 1) < on_the_line)
      return Problem{"temperature and pressure", in_kelvin(T) + " and " + in_pascal(p),
                     "a pressure off the saturation line",
                     "this is the saturation pressure at this temperature, where liquid, vapour and every "
                     "mixture of them exist: give the quality instead"};
  }
  return equation.at_Tp(T, p);
}

Result<State> Fluid::at_ph(double p, double h) const {
  const Equation& equation = model_->equation;
  if (auto problem = bad_pressure(equation, p)) return *problem;
  if (auto problem = not_finite("enthalpy", h)) return *problem;
  return at_pressure(equation, p, Caloric2nd::enthalpy, h);
}

Result<State> Fluid::at_ps(double p, double s) const {
  const Equation& equation = model_->equation;
  if (auto problem = bad_pressure(equation, p)) return *problem;
  if (auto problem = not_finite("entropy", s)) return *problem;
  return at_pressure(equation, p, Caloric2nd::entropy, s);
}

Result<State> Fluid::at_Trho(double T, double rho) const {
  const Equation& equation = model_->equation;
  if (auto problem = bad_temperature(equation, T)) return *problem;
  if (auto problem = not_finite("density", rho)) return *problem;
  if (!(rho > 0 && rho <= equation.densest()))
    return Problem{"density", in_density(rho), "above 0 to " + in_density(equation.densest()),
                   "no liquid inside the limits is denser"};
  if (T <= equation.T_two_phase_max()) {
    const double liquid = equation.bubble_density(T), vapour = equation.dew_density(T);
    if (rho < liquid && rho > vapour) {
      const double quality = (1.0 / rho - 1.0 / liquid) / (1.0 / vapour - 1.0 / liquid);
      std::optional<State> found = equation.two_phase_at_T(T, quality);
      if (is_blend()) {  // the volume is a little off the straight line between the ends
        const auto excess = [&](double q) {
          found = equation.two_phase_at_T(T, q);
          return found ? 1 / found->rho - 1 / rho : 0;
        };
        secant_root(excess, 0, 1, 1 / liquid - 1 / rho, 1 / vapour - 1 / rho, 1e-12 / rho);
      }
      if (found) return *found;
      return no_split(equation, "temperature and density", in_kelvin(T) + " and " + in_density(rho));
    }
  }
  const Caloric at = caloric(equation.data(), T, rho);
  const double highest = equation.highest_pressure(T);
  if (!(at.p <= highest))
    return Problem{"density", in_density(rho) + " at " + in_kelvin(T),
                   "a pressure of at most " + in_pascal(highest),
                   "this density would need " + in_pascal(at.p)};
  return equation.single_phase(T, at.p, rho, at);
}

Result<State> Fluid::at_px(double p, double quality) const {
  if (auto problem = bad_quality(quality)) return *problem;
  const Equation& equation = model_->equation;
  if (auto problem = not_saturated_p(equation, p, equation.p_two_phase_max())) return *problem;
  if (auto state = equation.two_phase_at_p(p, quality)) return *state;
  return no_split(equation, "pressure and quality", in_pascal(p) + " and " + as_fraction(quality));
}

Result<State> Fluid::at_Tx(double T, double quality) const {
  if (auto problem = bad_quality(quality)) return *problem;
  const Equation& equation = model_->equation;
  if (auto problem = not_saturated_T(equation, T, equation.T_two_phase_max())) return *problem;
  if (auto state = equation.two_phase_at_T(T, quality)) return *state;
  return no_split(equation, "temperature and quality", in_kelvin(T) + " and " + as_fraction(quality));
}

Result<Saturation> Fluid::saturation_at_T(double T) const {
  const Equation& equation = model_->equation;
  if (auto problem = not_saturated_T(equation, T, equation.T_two_phase_max())) return *problem;
  return equation.saturation_at_T(T);
}

Result<Saturation> Fluid::saturation_at_p(double p) const {
  const Equation& equation = model_->equation;
  if (auto problem = not_saturated_p(equation, p, equation.p_two_phase_max())) return *problem;
  return equation.saturation_at_p(p);
}

namespace {

Result<double> curve_at_T(const Equation& equation, double T, double (Equation::*curve)(double) const) {
  if (T >= equation.limits().T_min && T <= equation.T_curve_max()) return (equation.*curve)(T);
  return *not_saturated_T(equation, T, equation.T_curve_max());
}

Result<double> curve_at_p(const Equation& equation, double p, double (Equation::*curve)(double) const) {
  if (p >= equation.p_two_phase_min() && p <= equation.p_curve_max()) return (equation.*curve)(p);
  return *not_saturated_p(equation, p, equation.p_curve_max());
}

}  // namespace

Result<double> Fluid::bubble_pressure(double T) const {
  return curve_at_T(model_->equation, T, &Equation::bubble_pressure);
}
Result<double> Fluid::dew_pressure(double T) const {
  return curve_at_T(model_->equation, T, &Equation::dew_pressure);
}
Result<double> Fluid::bubble_temperature(double p) const {
  return curve_at_p(model_->equation, p, &Equation::bubble_temperature);
}
Result<double> Fluid::dew_temperature(double p) const {
  return curve_at_p(model_->equation, p, &Equation::dew_temperature);
}
double Fluid::T_two_phase_max() const { return model_->equation.T_two_phase_max(); }
bool Fluid::is_blend() const { return model_->equation.data().blend != nullptr; }

Result<Transport> Fluid::transport(const State& state) const {
  const Equation& equation = model_->equation;
  const FluidData& data = equation.data();
  if (!(data.viscosity && data.conductivity) && !data.scaling)
    return Problem{"transport", data.designation, "a refrigerant with transport data", "its data carry none"};
  if (state.phase == Phase::two_phase)
    return Problem{"state", "liquid and vapour together", "one phase",
                   "each phase has its own viscosity and conductivity: ask for the saturated ones"};
  if (auto problem = bad_temperature(equation, state.T)) return *problem;
  if (!state.single || !(state.rho > 0 && state.rho <= equation.densest()))
    return Problem{"state", in_density(state.rho) + " at " + in_kelvin(state.T),
                   "a state of this fluid off its critical point", "conductivity grows without bound there"};
  if (!(data.viscosity && data.conductivity)) return scaled_transport(equation, state);
  return Transport{viscosity(data, state.T, state.rho), conductivity(data, state.T, state.rho),
                   data.viscosity->stated_uncertainty, data.conductivity->stated_uncertainty};
}

Result<double> Fluid::surface_tension(double T) const {
  const Equation& equation = model_->equation;
  const auto& tension = equation.data().surface_tension;
  if (!tension && !equation.data().scaling)
    return Problem{"surface tension", designation(), "a refrigerant with surface tension data",
                   "its data carry none"};
  if (auto problem = not_saturated_T(equation, T, equation.T_curve_max())) return *problem;
  if (!tension) return scaled_tension(equation, T);
  return fluids::surface_tension(*tension, T);
}

}  // namespace coldwright::fluids

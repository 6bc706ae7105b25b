#include "fluids/flash.hpp"

#include <algorithm>
#include <cmath>

#include "base/root.hpp"
#include "fluids/blend_model.hpp"
#include "fluids/problems.hpp"

namespace coldwright::fluids {
namespace {

double of(const State& state, Caloric2nd kind) { return kind == Caloric2nd::enthalpy ? state.h : state.s; }

/// Follows one isobar: h or s and its slope as a function of T, each density started from the last.
class Isobar {
 public:
  Isobar(const Equation& equation, double p, Caloric2nd kind) : equation_(equation), p_(p), kind_(kind) {}

  /// Inside the two-phase temperatures a subcritical isobar is asked on one known branch.
  void stay_on(Branch branch) { fixed_ = branch; }

  std::pair<double, double> operator()(double T) {
    Branch branch = fixed_ && T <= equation_.T_two_phase_max() ? *fixed_ : equation_.branch_at(T, p_);
    // A blend near its critical point is asked only where one phase is left, on either side of T_clear.
    if (branch == Branch::unclear || branch == Branch::two_phase) branch = fixed_.value_or(Branch::liquid);
    const double guess = T_ > 0 ? rho_ - at_.dp_dT / at_.dp_drho * (T - T_) : 0;
    const Slice slice(equation_.data(), T);
    rho_ = equation_.density(slice, T, p_, branch, guess);
    T_ = T;
    at_ = slice.caloric(rho_);
    const double h = at_.u + p_ / rho_;
    return kind_ == Caloric2nd::enthalpy ? std::pair{h, at_.cp} : std::pair{at_.s, at_.cp / T};
  }

  /// Moves to T and from there to the value itself; false where T is not yet near enough for that.
  bool settle(double T, double value) {
    (*this)(T);
    return polish(value);
  }
  State state() const { return equation_.single_phase(T_, p_, rho_, at_); }

 private:
  bool polish(double value);

  const Equation& equation_;
  double p_;
  Caloric2nd kind_;
  std::optional<Branch> fixed_;
  double T_ = 0, rho_ = 0;
  Caloric at_{};
};

/// Brings the search for T, stopped at a part in 1e8, to the last bit. Near the critical point a last bit of
/// T moves the density, and with it h and s, by much more than a bit. Newton in (T, rho) together is regular
/// there, as d(p,h)/d(T,rho) never vanishes:
///   h_T = cv + p_T/rho    h_rho = (p_rho - T p_T/rho)/rho    s_T = cv/T    s_rho = -p_T/rho^2
bool Isobar::polish(double value) {
  for (int i = 0; i < 4; ++i) {
    const bool energy = kind_ == Caloric2nd::enthalpy;
    const double y = energy ? at_.u + at_.p / rho_ : at_.s;
    const double y_T = energy ? at_.cv + at_.dp_dT / rho_ : at_.cv / T_;
    const double y_rho = energy ? (at_.dp_drho - T_ * at_.dp_dT / rho_) / rho_ : -at_.dp_dT / (rho_ * rho_);
    const double off_p = p_ - at_.p, off_y = value - y;
    const double determinant = at_.dp_dT * y_rho - at_.dp_drho * y_T;
    const double step_T = (off_p * y_rho - at_.dp_drho * off_y) / determinant;
    const double step_rho = (at_.dp_dT * off_y - y_T * off_p) / determinant;
    if (!(std::abs(step_T) < 1e-6 * T_) || !(std::abs(step_rho) < 1e-2 * rho_)) return false;
    T_ += step_T;
    rho_ += step_rho;
    at_ = caloric(equation_.data(), T_, rho_);
    if (std::abs(step_T) < 1e-9 * T_ && std::abs(step_rho) < 1e-9 * rho_)
      return true;  // the next is below a bit
  }
  return true;
}

Problem beyond(const Equation& equation, double p, Caloric2nd kind, double value, double bound, bool hot) {
  const bool energy = kind == Caloric2nd::enthalpy;
  const auto show = energy ? in_energy : in_entropy;
  const std::string end = hot ? "at most " : "at least ";
  const double T = hot ? equation.limits().T_max : equation.coldest(p);
  return {energy ? "enthalpy" : "entropy", show(value), end + show(bound) + " at " + in_pascal(p),
          "beyond it the temperature would pass " + in_kelvin(T) +
              ", the limit of the equation of state of " + equation.data().designation};
}

/// T in [low, high] on one isobar; the ends have been found to enclose the value.
State solve(Isobar& isobar, double value, double low, double high, double guess) {
  const auto excess = [&](double T) {
    const auto [y, slope] = isobar(T);
    return std::pair{y - value, slope};
  };
  const RootSummary near = increasing_root(excess, low, high, guess, {1e-8, 200});
  if (!isobar.settle(near.x, value)) {
    // A part in 1e8 of T is far from the state this close to the critical point: search on in T alone.
    const RootSummary nearer = increasing_root(excess, low, high, near.x, {1e-13, 200});
    isobar.settle(nearer.x, value);
  }
  return isobar.state();
}

Result<State> one_sided(const Equation& equation, double p, Caloric2nd kind, double value,
                        const State& saturated, bool hot) {
  const double T_far = hot ? equation.limits().T_max : equation.coldest(p);
  Isobar isobar(equation, p, kind);
  isobar.stay_on(hot ? Branch::vapour : Branch::liquid);
  const double bound = isobar(T_far).first;
  if (hot ? value > bound : value < bound) return beyond(equation, p, kind, value, bound, hot);
  const double slope =
      kind == Caloric2nd::enthalpy ? saturated.single->cp : saturated.single->cp / saturated.T;
  double guess = saturated.T + (value - of(saturated, kind)) / slope;
  guess = hot ? std::min(guess, T_far) : std::max(guess, T_far);
  Isobar fresh(equation, p, kind);
  fresh.stay_on(hot ? Branch::vapour : Branch::liquid);
  return solve(fresh, value, std::min(T_far, saturated.T), std::max(T_far, saturated.T), guess);
}

Problem not_found(const Equation& equation, double p) {
  return Problem{"pressure", in_pascal(p), "a state away from the critical point",
                 "the equilibrium of " + equation.data().designation + " was not found here"};
}

/// Between the ends at one pressure: by the lever for a pure fluid, by its own equilibria for a blend.
Result<State> between(const Equation& equation, double p, Caloric2nd kind, double value, double y_liquid,
                      double y_vapour) {
  const double quality = (value - y_liquid) / (y_vapour - y_liquid);
  if (!equation.data().blend) return *equation.two_phase_at_p(p, quality);
  std::optional<State> found;
  const auto excess = [&](double q) {
    found = equation.two_phase_at_p(p, q);
    return found ? of(*found, kind) - value : 0;
  };
  const double small = 1e-12 * (std::abs(y_liquid) + std::abs(y_vapour));
  secant_root(excess, 0, 1, y_liquid - value, y_vapour - value, small);
  if (found) return *found;
  return not_found(equation, p);
}

/// One isobar without saturation on it, between its coldest and its hottest state.
Result<State> whole_isobar(const Equation& equation, double p, Caloric2nd kind, double value,
                           std::optional<Branch> branch) {
  const double cold = equation.coldest(p), hot = equation.limits().T_max;
  const auto fresh = [&] {
    Isobar isobar(equation, p, kind);
    if (branch) isobar.stay_on(*branch);
    return isobar;
  };
  const double y_hot = fresh()(hot).first;
  if (value > y_hot) return beyond(equation, p, kind, value, y_hot, true);
  const double y_cold = fresh()(cold).first;
  if (value < y_cold) return beyond(equation, p, kind, value, y_cold, false);
  Isobar isobar = fresh();
  return solve(isobar, value, cold, hot, cold + (hot - cold) * (value - y_cold) / (y_hot - y_cold));
}

/// A blend below the bubble pressure of its coldest place: vapour, and under its dew point that part of the
/// lens which isn't colder.
Result<State> below_bubbles(const Equation& equation, double p, Caloric2nd kind, double value) {
  const double cold = equation.limits().T_min;
  if (p <= equation.dew_pressure(cold)) return whole_isobar(equation, p, kind, value, Branch::vapour);
  const State dew = *equation.two_phase_at_p(p, 1);
  if (value >= of(dew, kind)) return one_sided(equation, p, kind, value, dew, true);
  std::optional<State> found = equation.two_phase_at_Tp(cold, p);
  if (!found) return not_found(equation, p);
  const double y_cold = of(*found, kind), y_dew = of(dew, kind);
  if (value < y_cold) return beyond(equation, p, kind, value, y_cold, false);
  const auto excess = [&](double T) {
    found = equation.two_phase_at_Tp(T, p);
    return found ? of(*found, kind) - value : 0;
  };
  secant_root(excess, cold, dew.T, y_cold - value, y_dew - value,
              1e-12 * (std::abs(y_cold) + std::abs(y_dew)));
  if (found) return *found;
  return not_found(equation, p);
}

}  // namespace

Result<State> at_pressure(const Equation& equation, double p, Caloric2nd kind, double value) {
  if (p >= equation.p_two_phase_min() && p <= equation.p_two_phase_max()) {
    const Saturation ends = equation.saturation_at_p(p);
    const double y_liquid = of(ends.liquid, kind), y_vapour = of(ends.vapour, kind);
    if (value < y_liquid) return one_sided(equation, p, kind, value, ends.liquid, false);
    if (value > y_vapour) return one_sided(equation, p, kind, value, ends.vapour, true);
    return between(equation, p, kind, value, y_liquid, y_vapour);
  }
  const auto& blend = equation.data().blend;
  if (blend && p < equation.p_two_phase_min()) return below_bubbles(equation, p, kind, value);
  auto found = whole_isobar(equation, p, kind, value, std::nullopt);
  if (found && blend && p < blend->curves.p_clear)
    return Problem{
        "pressure", in_pascal(p),
        "up to " + in_pascal(equation.p_two_phase_max()) + ", or above " + in_pascal(blend->curves.p_clear),
        "so close to the critical point of " + equation.data().designation +
            " its phases are not told apart"};
  return found;
}

}  // namespace coldwright::fluids

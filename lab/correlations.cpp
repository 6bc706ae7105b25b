#include "lab/correlations.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>

namespace coldwright::lab {

namespace {

struct Factor {
  std::string_view name;
  double Correlations::*value;
};
constexpr Factor kFactors[] = {
    {"condensing", &Correlations::condensing},
    {"boiling", &Correlations::boiling},
    {"air_side", &Correlations::air_side},
    {"friction", &Correlations::friction},
    {"exchange", &Correlations::exchange},
    {"hold_up", &Correlations::hold_up},
    {"oil", &Correlations::oil},
};
struct SlipName {
  std::string_view name;
  Slip slip;
};
constexpr SlipName kSlips[] = {
    {"smith", Slip::smith}, {"premoli", Slip::premoli}, {"zivi", Slip::zivi}, {"none", Slip::none}};

std::optional<Problem> take(std::string_view name, std::string_view value, Correlations& into) {
  if (name == "slip") {
    for (const SlipName& s : kSlips)
      if (s.name == value) return into.slip = s.slip, std::nullopt;
    return Problem{"slip", std::string(value), "smith, premoli, zivi or none", "no other is built in"};
  }
  if (name == "viscosity") {
    if (value != "cicchitti" && value != "dukler")
      return Problem{"viscosity", std::string(value), "cicchitti or dukler", "no other is built in"};
    into.viscosity = value == "dukler" ? TwoPhaseViscosity::dukler : TwoPhaseViscosity::cicchitti;
    return std::nullopt;
  }
  if (name == "flashing") {
    if (value != "delayed" && value != "at_once")
      return Problem{"flashing", std::string(value), "delayed or at_once", "no other is built in"};
    into.delayed_flashing = value == "delayed";
    return std::nullopt;
  }
  for (const Factor& f : kFactors) {
    if (f.name != name) continue;
    const std::string text(value);
    char* end = nullptr;
    const double x = std::strtod(text.c_str(), &end);
    if (end != text.c_str() + text.size() || !(x >= 0.2 && x <= 5))
      return Problem{std::string(name), text, "a factor from 0.2 to 5",
                     "further off no published correlation would be"};
    into.*f.value = x;
    return std::nullopt;
  }
  return Problem{
      "correlations", std::string(name),
      "slip, viscosity, flashing, condensing, boiling, air_side, friction, exchange, hold_up or oil",
      "nothing else can be changed"};
}

}  // namespace

Result<Correlations> correlations_from(std::string_view text) {
  Correlations c;
  while (!text.empty()) {
    const std::size_t comma = std::min(text.find(','), text.size());
    const std::string_view one = text.substr(0, comma);
    const std::size_t equals = one.find('=');
    if (equals == std::string_view::npos)
      return Problem{"correlations", std::string(one), "name=value, several parted by commas",
                     "there is no = in it"};
    if (auto problem = take(one.substr(0, equals), one.substr(equals + 1), c)) return *problem;
    text.remove_prefix(std::min(comma + 1, text.size()));
  }
  return c;
}

double slip_ratio(const Correlations& with, const Saturated& at, const Carrying& of, double x, double flux,
                  double bore) {
  if (with.slip == Slip::none) return 1;
  x = std::clamp(x, 1e-3, 1 - 1e-3);
  const double ratio = at.rho_l / at.rho_v;
  double slip = 1;
  if (with.slip == Slip::zivi) {
    slip = std::cbrt(ratio);  // [zivi1964]
  } else if (with.slip == Slip::smith) {
    // S = K + (1 - K) sqrt((rho_l/rho_v + K (1-x)/x) / (1 + K (1-x)/x)), K = 0.4 [smith1969]
    constexpr double K = 0.4;
    const double wet = K * (1 - x) / x;
    slip = K + (1 - K) * std::sqrt((ratio + wet) / (1 + wet));
  } else {
    // S = 1 + F1 (y / (1 + y F2) - y F2)^1/2, y = beta / (1 - beta) [premoli1971]
    const double re = std::max(flux, 5.0) * bore / of.mu_l;
    const double we = std::max(flux, 5.0) * std::max(flux, 5.0) * bore / (of.sigma * at.rho_l);
    const double F1 = 1.578 * std::pow(re, -0.19) * std::pow(ratio, 0.22);
    const double F2 = 0.0273 * we * std::pow(re, -0.51) * std::pow(ratio, -0.08);
    const double y = x / (1 - x) * ratio;
    slip = 1 + F1 * std::sqrt(std::max(y / (1 + y * F2) - y * F2, 0.0));
  }
  return std::max(1.0, with.hold_up * slip);
}

double flowing_quality(const Correlations& with, const Saturated& at, const Carrying& of, double quality,
                       double flux, double bore) {
  if (quality <= 0 || quality >= 1) return std::clamp(quality, 0.0, 1.0);
  // x / (1 - x) = S X / (1 - X) with X what stands there; S itself asks for x, so twice.
  const double standing = quality / (1 - quality);
  double x = quality;
  for (int i = 0; i < 3; ++i) {
    const double flowing = slip_ratio(with, at, of, x, flux, bore) * standing;
    x = flowing / (1 + flowing);
  }
  return x;
}

double one_phase(double flux, double bore, double mu, double k, double cp) {
  const double re = flux * bore / mu, pr = cp * mu / k;
  return std::max(4.36, 0.023 * std::pow(re, 0.8) * std::pow(pr, 0.4)) * k / bore;  // [dittus1930]
}

double condensing(double all_liquid, double x, double reduced) {
  // h = h_lo ((1-x)^0.8 + 3.8 x^0.76 (1-x)^0.04 / p_r^0.38) [shah1979]
  x = std::clamp(x, 0.0, 0.999);
  return all_liquid *
         (std::pow(1 - x, 0.8) + 3.8 * std::pow(x, 0.76) * std::pow(1 - x, 0.04) / std::pow(reduced, 0.38));
}

double boiling(double all_liquid, double x, double reduced, double ratio, double re, double pr,
               double molar_mass, double excess) {
  // h^2 = (F h_lo)^2 + (S h_pool)^2 [liu1991]; h_pool = 55 p_r^0.12 (-log10 p_r)^-0.55 M^-0.5 q^0.67
  // [cooper1984], so that q = (C dT)^(1/0.33) without asking for q first.
  x = std::clamp(x, 0.0, 0.95);
  reduced = std::min(reduced, 0.9);
  const double F = std::pow(1 + x * pr * (ratio - 1), 0.35);
  const double S = 1 / (1 + 0.055 * std::pow(F, 0.1) * std::pow(re, 0.16));
  const double C =
      55 * std::pow(reduced, 0.12) * std::pow(-std::log10(reduced), -0.55) / std::sqrt(molar_mass * 1000);
  const double dT = std::clamp(excess, 0.0, 15.0);
  const double pool = dT > 0 ? std::pow(C, 1 / 0.33) * std::pow(dT, 0.67 / 0.33) : 0;
  return std::hypot(F * all_liquid, S * pool);
}

double condensing(const Refrigerant& r, const Saturated& at, const Carrying& of, double x, double flux,
                  double bore) {
  return condensing(one_phase(flux, bore, of.mu_l, of.k_l, of.cp_l), x, at.p / r.p_critical());
}

double boiling(const Refrigerant& r, const Saturated& at, const Carrying& of, double x, double flux,
               double bore, double excess) {
  return boiling(one_phase(flux, bore, of.mu_l, of.k_l, of.cp_l), x, at.p / r.p_critical(),
                 at.rho_l / at.rho_v, flux * bore / of.mu_l, of.cp_l * of.mu_l / of.k_l, r.molar_mass(),
                 excess);
}

double friction_factor(double re, double roughness) {
  if (re < 2000) return 64 / std::max(re, 1.0);
  // 1 / sqrt(f) = -1.8 log10((e/3.7)^1.11 + 6.9/Re) [haaland1983], eased into the laminar line
  const auto turbulent = [&](double x) {
    const double a = -1.8 * std::log10(std::pow(roughness / 3.7, 1.11) + 6.9 / x);
    return 1 / (a * a);
  };
  if (re > 3500) return turbulent(re);
  const double t = (re - 2000) / 1500, ease = t * t * (3 - 2 * t);
  return (1 - ease) * 64 / re + ease * turbulent(re);
}

double underpressure(const Refrigerant& r, double T, double flux, double bore, double subcooling) {
  // (p_s - p_v) sqrt(k T) / sigma^1.5 = 0.679 v_v/(v_v - v_l) Re^0.914 (dT/Tc)^-0.208 (d/d')^-3.18,
  // d' = sqrt(k T / sigma) 1e4 [chen1990]
  const Saturated at = r.saturated(T);
  const Carrying of = r.carrying(T);
  constexpr double boltzmann = 1.380649e-23;
  const double kT = boltzmann * T;
  const double d = std::sqrt(kT / of.sigma) * 1e4;
  const double re = std::max(flux, 1.0) * bore / of.mu_l;
  const double v_l = 1 / at.rho_l, v_v = 1 / at.rho_v;
  const double cool = std::max(subcooling, 0.5) / r.T_critical();
  const double group =
      0.679 * v_v / (v_v - v_l) * std::pow(re, 0.914) * std::pow(cool, -0.208) * std::pow(bore / d, -3.18);
  return group * std::pow(of.sigma, 1.5) / std::sqrt(kT);
}

}  // namespace coldwright::lab

// What a property costs, and how many times less than solving the equation for it would.
// Prints one line a question: nanoseconds (best of five runs) and the ratio to the comparison named.
#include <chrono>
#include <cstdio>
#include <random>
#include <vector>

#include "fluids/phase_equilibrium.hpp"
#include "service/refrigerant_loader.hpp"

namespace {

using namespace coldwright;

constexpr int points = 2000;
double sink = 0;  // keeps the compiler from dropping unread answers

template <class F>
double nanoseconds(F&& question) {
  double best = 1e300;
  for (int run = 0; run < 5; ++run) {
    const auto start = std::chrono::steady_clock::now();
    for (std::size_t i = 0; i < points; ++i) sink += question(i);
    const std::chrono::duration<double, std::nano> took = std::chrono::steady_clock::now() - start;
    best = std::min(best, took.count() / points);
  }
  return best;
}

struct Points {
  std::vector<double> T, p, T_vapour, T_liquid, h_vapour, h_liquid, h_mixed, rho_vapour;
};

/// Evaporating and condensing temperatures of refrigeration, superheat to 50 K, subcooling to 30 K.
Points draw(const fluids::Fluid& fluid) {
  std::mt19937 random(1);
  std::uniform_real_distribution<double> uniform(0, 1);
  Points out;
  for (int i = 0; i < points; ++i) {
    const double T = 230 + 110 * uniform(random), p = *fluid.saturation_pressure(T);
    const auto ends = *fluid.saturation_at_T(T);
    out.T.push_back(T);
    out.p.push_back(p);
    out.T_vapour.push_back(T + 1 + 50 * uniform(random));
    out.T_liquid.push_back(T - 1 - 30 * uniform(random));
    const auto vapour = *fluid.at_Tp(out.T_vapour.back(), p);
    out.h_vapour.push_back(vapour.h);
    out.rho_vapour.push_back(vapour.rho);
    out.h_liquid.push_back(fluid.at_Tp(out.T_liquid.back(), p)->h);
    out.h_mixed.push_back(0.5 * (ends.liquid.h + ends.vapour.h));
  }
  return out;
}

void measure(const fluids::Fluid& fluid) {
  const Points at = draw(fluid);
  const double solved = nanoseconds([&](std::size_t i) {
    const auto ends = *fluid.saturation_at_T(at.T[i] * 1.001);  // a start as good as a neighbouring step's
    return fluids::equal_phases<double>(fluid.data(), at.T[i], ends.liquid.rho, ends.vapour.rho, 1e-10).p;
  });
  const double state =
      nanoseconds([&](std::size_t i) { return fluid.at_Trho(at.T_vapour[i], at.rho_vapour[i])->h; });
  const auto line = [&](const char* question, double took, double other, const char* against) {
    std::printf("%-6s %-28s %9.0f ns  %7.2f x %s\n", fluid.designation().c_str(), question, took,
                took / other, against);
  };
  const char* phases = "solving equal phases";
  const char* evaluation = "one evaluation at (T,rho)";
  line("saturation_pressure(T)",
       nanoseconds([&](std::size_t i) { return *fluid.saturation_pressure(at.T[i]); }), solved, phases);
  line("saturation_temperature(p)",
       nanoseconds([&](std::size_t i) { return *fluid.saturation_temperature(at.p[i]); }), solved, phases);
  line("saturation_at_T",
       nanoseconds([&](std::size_t i) { return fluid.saturation_at_T(at.T[i])->vapour.p; }), solved, phases);
  line("(T,rho)", state, state, evaluation);
  line("(T,p) vapour", nanoseconds([&](std::size_t i) { return fluid.at_Tp(at.T_vapour[i], at.p[i])->h; }),
       state, evaluation);
  line("(T,p) liquid", nanoseconds([&](std::size_t i) { return fluid.at_Tp(at.T_liquid[i], at.p[i])->h; }),
       state, evaluation);
  line("(p,h) vapour", nanoseconds([&](std::size_t i) { return fluid.at_ph(at.p[i], at.h_vapour[i])->T; }),
       state, evaluation);
  line("(p,h) liquid", nanoseconds([&](std::size_t i) { return fluid.at_ph(at.p[i], at.h_liquid[i])->T; }),
       state, evaluation);
  line("(p,h) two phases", nanoseconds([&](std::size_t i) { return fluid.at_ph(at.p[i], at.h_mixed[i])->T; }),
       state, evaluation);
  const auto warm = *fluid.at_Tp(at.T_vapour[0], at.p[0]);
  line("transport", nanoseconds([&](std::size_t) { return fluid.transport(warm)->viscosity; }), state,
       evaluation);
}

}  // namespace

int main() {
  for (const std::string& name : service::known_refrigerants()) {
    const auto fluid = service::load_fluid(name);
    if (!fluid) {
      std::fprintf(stderr, "%s\n", to_text(fluid.problem()).c_str());
      return 1;
    }
    measure(*fluid);
  }
  return sink == 0 ? 1 : 0;
}

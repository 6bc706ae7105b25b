// What a property costs: nanoseconds a state, best of several runs over the same questions, with a polynomial
// of the same length as the physical floor. One line a question:
//   NAME  QUESTION  NANOSECONDS
// With --states FILE the questions come from a file (one "KIND NAME a b" a line, as tools/compare_speed.py
// writes it), so that another library can be asked the same in the same run. Without, they are drawn here.
#include <chrono>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <map>
#include <random>
#include <sstream>
#include <string>
#include <vector>

#include "fluids/blend_model.hpp"
#include "fluids/phase_equilibrium.hpp"
#include "fluids/state_table.hpp"
#include "service/refrigerant_loader.hpp"

namespace {

using namespace coldwright;

double sink = 0;  // keeps the compiler from dropping unread answers

struct Questions {
  std::vector<double> a, b;
};

template <class F>
double nanoseconds(const Questions& on, F&& question) {
  double best = 1e300;
  for (int run = 0; run < 7; ++run) {
    const auto start = std::chrono::steady_clock::now();
    for (std::size_t i = 0; i < on.a.size(); ++i) sink += question(on.a[i], on.b[i]);
    const std::chrono::duration<double, std::nano> took = std::chrono::steady_clock::now() - start;
    best = std::min(best, took.count() / static_cast<double>(on.a.size()));
  }
  return best;
}

void line(const std::string& name, const char* what, double ns) {
  std::printf("%-10s %-34s %12.1f\n", name.c_str(), what, ns);
}

/// Superheated and subcooled states about a fridge's temperatures, half and half.
Questions draw(const fluids::Fluid& fluid, bool of_ph) {
  std::mt19937 random(1);
  std::uniform_real_distribution<double> uniform(0, 1);
  Questions out;
  const double T_low = std::max(230.0, fluid.limits().T_min + 5), T_high = 0.9 * fluid.limits().T_crit;
  while (out.a.size() < 2000) {
    const double p = *fluid.dew_pressure(T_low + (T_high - T_low) * uniform(random));
    const bool vapour = uniform(random) < 0.5;
    const double T = vapour ? *fluid.dew_temperature(p) + 1 + 50 * uniform(random)
                            : *fluid.bubble_temperature(p) - 1 - 30 * uniform(random);
    const auto state = fluid.at_Tp(T, p);
    if (!state) continue;
    out.a.push_back(of_ph ? p : T);
    out.b.push_back(of_ph ? state->h : p);
  }
  return out;
}

Questions draw_temperatures(const fluids::Fluid& fluid) {
  std::mt19937 random(2);
  std::uniform_real_distribution<double> uniform(0, 1);
  Questions out;
  const double T_low = std::max(230.0, fluid.limits().T_min + 5), T_high = 0.95 * fluid.limits().T_crit;
  for (int i = 0; i < 2000; ++i) {
    out.a.push_back(T_low + (T_high - T_low) * uniform(random));
    out.b.push_back(*fluid.dew_pressure(out.a.back()));
  }
  return out;
}

void measure_blend(const std::string& name, const fluids::Fluid& fluid, const Questions& T) {
  const fluids::BlendModel& model = *fluid.data().blend;
  line(name, "bubble_full(T)", nanoseconds(T, [&](double t, double) { return model.split_at_T(t, 0).p; }));
  line(name, "dew_full(T)", nanoseconds(T, [&](double t, double) { return model.split_at_T(t, 1).p; }));
  Questions few{{T.a.begin(), T.a.begin() + 200}, {T.b.begin(), T.b.begin() + 200}};
  line(name, "bubble_cold_start(T)", nanoseconds(few, [&](double t, double) {
         return fluids::split_at_temperature(model.mixture, model.mass_fractions, 0, t).p;
       }));
  line(name, "half_vapour_full(T)",
       nanoseconds(few, [&](double t, double) { return model.split_at_T(t, 0.5).p; }));
}

void measure(const std::string& name, const fluids::Fluid& fluid,
             const std::map<std::string, Questions>& given) {
  const auto asked = [&](const char* kind, auto&& drawn) {
    const auto found = given.find(kind);
    return found != given.end() ? found->second : drawn();
  };
  const Questions T = asked("T", [&] { return draw_temperatures(fluid); });
  const Questions Tp = asked("Tp", [&] { return draw(fluid, false); });
  const Questions ph = asked("ph", [&] { return draw(fluid, true); });
  line(name, "floor: polynomial of 8", nanoseconds(T, [](double t, double) {
         constexpr double c[] = {1, 0.5, 0.25, 0.125, 0.0625, 0.03125, 0.015625, 0.0078125};
         return fluids::eighth_order(c, t * 1e-3);
       }));
  line(name, "dew_pressure(T)", nanoseconds(T, [&](double t, double) { return *fluid.dew_pressure(t); }));
  line(name, "dew_temperature(p)",
       nanoseconds(T, [&](double, double p) { return *fluid.dew_temperature(p); }));
  line(name, "bubble_pressure(T)",
       nanoseconds(T, [&](double t, double) { return *fluid.bubble_pressure(t); }));
  if (fluid.is_blend()) {
    measure_blend(name, fluid, T);
  } else {
    line(name, "equal_phases_full(T)", nanoseconds(T, [&](double t, double) {
           const auto ends = *fluid.saturation_at_T(t * 1.001);  // a start as good as a neighbouring step's
           return fluids::equal_phases<double>(fluid.data(), t, ends.liquid.rho, ends.vapour.rho, 1e-10).p;
         }));
  }
  line(name, "(T,p)_full", nanoseconds(Tp, [&](double t, double p) { return fluid.at_Tp(t, p)->rho; }));
  line(name, "(p,h)_full", nanoseconds(ph, [&](double p, double h) { return fluid.at_ph(p, h)->T; }));
  const auto table = fluids::StateTable::make(fluid);
  if (!table) return;
  const auto or_zero = [](const std::optional<fluids::TableState>& state) { return state ? state->rho : 0; };
  line(name, "(T,p)_table", nanoseconds(Tp, [&](double t, double p) { return or_zero(table->at_Tp(t, p)); }));
  line(name, "(p,h)_table", nanoseconds(ph, [&](double p, double h) { return or_zero(table->at_ph(p, h)); }));
}

using Given = std::map<std::string, std::map<std::string, Questions>>;  // name, kind

Given read(const std::string& path) {
  Given out;
  std::ifstream in(path);
  std::string text, kind, name;
  while (std::getline(in, text)) {
    std::istringstream row(text);
    double a = 0, b = 0;
    if (!(row >> kind >> name >> a >> b)) continue;
    out[name][kind].a.push_back(a);
    out[name][kind].b.push_back(b);
  }
  return out;
}

}  // namespace

int main(int argc, char** argv) {
  Given given;
  std::vector<std::string> names;
  for (int i = 1; i < argc; ++i) {
    if (std::string(argv[i]) == "--states" && i + 1 < argc)
      given = read(argv[++i]);
    else
      names.emplace_back(argv[i]);
  }
  for (const auto& [name, questions] : given) names.push_back(name);
  if (names.empty()) names = {"R134a", "R290", "R600a", "R410A", "R404A", "R448A"};
  for (const std::string& name : names) {
    const auto fluid = service::load_fluid(name);
    if (!fluid) {
      std::fprintf(stderr, "%s\n", to_text(fluid.problem()).c_str());
      return 1;
    }
    measure(name, *fluid, given[name]);
  }
  return sink == 0 ? 1 : 0;
}

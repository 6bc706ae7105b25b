// Estimates gamma_T of binary pairs without published parameters from the printed normal boiling points of
// the blends that contain them, and writes data/blends/estimated_pairs.json.
//   fit_pairs tests/data/fluids/published_boiling_points.csv data/blends/estimated_pairs.json
// One number a pair, least squares of bubble and dew temperature at 101.325 kPa (0.5 K each) with a weak pull
// to 1 (the Lorentz-Berthelot rule, 0.06). Prints for each blend the difference before, after, and after a
// fit that left this blend out: the last one says how far a blend that nobody printed may be off.
#include <Eigen/Dense>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "fluids/blend_model.hpp"
#include "service/refrigerant_loader.hpp"

namespace {

// Blends with R218 are left out: their published pairs with R22 and R134a decide, and no gamma_T of the small
// hydrocarbon's pair brings their boiling points nearer than 1.4 K.

using namespace coldwright;

constexpr double boiling_p = 101325, printed_within = 0.5, pull = 0.06;  // Pa, K, -

using PairName = std::pair<std::string, std::string>;
using Gammas = std::map<PairName, double>;

struct Blend {
  std::string name;
  double bubble = 0, dew = 0;  // K, printed
  fluids::FluidData data;
};

PairName name_of(const fluids::Mixture& mixture, const fluids::PairData& pair) {
  return {mixture.components()[pair.i].designation, mixture.components()[pair.j].designation};
}

std::vector<Blend> read(const char* path) {
  std::vector<Blend> out;
  std::ifstream in(path);
  for (std::string line; std::getline(in, line);) {
    std::istringstream row(line);
    std::string name, bubble, dew;
    std::getline(row, name, ',');
    std::getline(row, bubble, ',');
    std::getline(row, dew, ',');
    auto data = service::load_fluid_data(name);
    if (name.empty() || name[0] == '#' || !data || !data->blend) continue;
    bool estimated = false, fluorocarbon = false;
    for (const auto& pair : data->blend->mixture.pairs()) estimated = estimated || pair.estimated;
    for (const auto& component : data->blend->mixture.components())
      fluorocarbon = fluorocarbon || component.designation == "R218";
    if (estimated && !fluorocarbon)
      out.push_back({name, std::stod(bubble) + 273.15, std::stod(dew) + 273.15, std::move(*data)});
  }
  return out;
}

/// Ours less printed, bubble and dew, with these gammas for the estimated pairs.
std::array<double, 2> difference(const Blend& blend, const Gammas& gammas) {
  const fluids::BlendModel& model = *blend.data.blend;
  std::vector<fluids::PairData> pairs = model.mixture.pairs();
  for (fluids::PairData& pair : pairs) {
    const auto found = gammas.find(name_of(model.mixture, pair));
    if (pair.estimated) pair.gamma_T = found != gammas.end() ? found->second : 1.0;
  }
  const fluids::Mixture mixture(model.mixture.components(), std::move(pairs));
  const auto bubble = fluids::split_at_pressure(mixture, model.mass_fractions, 0, boiling_p);
  const auto dew = fluids::split_at_pressure(mixture, model.mass_fractions, 1, boiling_p);
  if (!bubble.converged || !dew.converged) std::fprintf(stderr, "%s: no equilibrium\n", blend.name.c_str());
  return {bubble.T - blend.bubble, dew.T - blend.dew};
}

Gammas fit(const std::vector<Blend>& blends, const std::string& without) {
  Gammas out;
  for (const Blend& blend : blends)
    for (const auto& pair : blend.data.blend->mixture.pairs())
      if (pair.estimated && blend.name != without) out[name_of(blend.data.blend->mixture, pair)] = 1.0;
  const auto n = static_cast<Eigen::Index>(out.size());
  for (int iteration = 0; iteration < 6; ++iteration) {
    Eigen::MatrixXd normal = Eigen::MatrixXd::Identity(n, n) / (pull * pull);
    Eigen::VectorXd right(n);
    Eigen::Index k = 0;
    for (const auto& [pair, gamma] : out) right(k++) = (1 - gamma) / (pull * pull);
    for (const Blend& blend : blends) {
      if (blend.name == without) continue;
      const auto here = difference(blend, out);
      Eigen::MatrixXd slope = Eigen::MatrixXd::Zero(2, n);
      k = 0;
      for (auto& [pair, gamma] : out) {
        constexpr double nudge = 1e-4;
        gamma += nudge;
        const auto there = difference(blend, out);
        gamma -= nudge;
        for (Eigen::Index i = 0; i < 2; ++i)
          slope(i, k) = (there[static_cast<std::size_t>(i)] - here[static_cast<std::size_t>(i)]) / nudge;
        ++k;
      }
      normal += slope.transpose() * slope / (printed_within * printed_within);
      right -= slope.transpose() * Eigen::Vector2d(here[0], here[1]) / (printed_within * printed_within);
    }
    const Eigen::VectorXd step = normal.ldlt().solve(right);
    k = 0;
    for (auto& [pair, gamma] : out) gamma += step(k++);
  }
  return out;
}

bool write(const char* path, const Gammas& gammas, const std::vector<Blend>& blends) {
  std::ofstream out(path);
  out << "{\n  \"made_by\": \"tools/fit_pairs.cpp\",\n"
         "  \"about\": \"pairs without published parameters: beta_T, beta_v and gamma_v are 1, gamma_T is "
         "fitted to the "
         "printed boiling points of the blends named\",\n"
         "  \"source\": \"our-estimate\",\n  \"pairs\": [\n";
  std::size_t left = gammas.size();
  for (const auto& [pair, gamma] : gammas) {
    std::string used;
    for (const Blend& blend : blends)
      for (const auto& one : blend.data.blend->mixture.pairs())
        if (name_of(blend.data.blend->mixture, one) == pair)
          used += std::string(used.empty() ? "" : ", ") + "\"" + blend.name + "\"";
    char value[32];
    std::snprintf(value, sizeof value, "%.5f", gamma);
    out << "    { \"of\": \"" << pair.first << "\", \"and\": \"" << pair.second
        << "\", \"gamma_T\": " << value << ", \"fitted_to\": [" << used << "] }"
        << (--left > 0 ? ",\n" : "\n");
  }
  out << "  ]\n}\n";
  return static_cast<bool>(out);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) {
    std::fprintf(stderr, "usage: fit_pairs BOILING_POINTS.csv ESTIMATED_PAIRS.json\n");
    return 2;
  }
  const std::vector<Blend> blends = read(argv[1]);
  const Gammas all = fit(blends, "");
  for (const auto& [pair, gamma] : all)
    std::printf("%s/%s  %.5f\n", pair.first.c_str(), pair.second.c_str(), gamma);
  std::printf("ours less printed, K, bubble dew: before | fitted | fitted without this blend\n");
  for (const Blend& blend : blends) {
    const auto before = difference(blend, {}), after = difference(blend, all),
               apart = difference(blend, fit(blends, blend.name));
    std::printf("%-8s %+.2f %+.2f | %+.2f %+.2f | %+.2f %+.2f\n", blend.name.c_str(), before[0], before[1],
                after[0], after[1], apart[0], apart[1]);
  }
  return write(argv[2], all, blends) ? 0 : 1;
}

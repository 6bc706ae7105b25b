#include "service/blend_loader.hpp"

#include "fluids/blend.hpp"
#include "service/embedded.hpp"
#include "service/json_reader.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

/// The published pair of the two components, if there is one.
std::optional<fluids::PairData> find_pair(const JsonReader& document, const std::string& a,
                                          const std::string& b, std::size_t at_a, std::size_t at_b) {
  for (const JsonReader& row : document.at("pairs").items()) {
    const std::string first = row.text("of"), second = row.text("and");
    const bool straight = first == a && second == b, turned = first == b && second == a;
    if (!straight && !turned) continue;
    fluids::PairData out{straight ? at_a : at_b,
                         straight ? at_b : at_a,
                         row.number("beta_T"),
                         row.number("gamma_T"),
                         row.number("beta_v"),
                         row.number("gamma_v"),
                         0,
                         {},
                         row.text("source"),
                         false,
                         ""};
    if (row.has("departure")) {
      out.F = row.number("F");
      out.departure = read_residual(document.at("departures").at(row.text("departure").c_str()));
    }
    return out;
  }
  return std::nullopt;
}

/// Without published parameters: from printed boiling points of blends where tools/fit_pairs.cpp had some,
/// else as if the two were alike.
fluids::PairData estimate_pair(const std::string& a, const std::string& b, std::size_t at_a,
                               std::size_t at_b) {
  fluids::PairData out;
  out.i = at_a;
  out.j = at_b;
  out.source = "our-estimate";
  out.estimated = true;
  out.estimated_by = "Lorentz-Berthelot rules";
  const json document = json::parse(embedded("blends/estimated_pairs.json").value_or("{}"), nullptr, false);
  if (!document.is_object() || !document.contains("pairs")) return out;
  std::optional<Problem> problem;
  for (const JsonReader& row : JsonReader(&document, "estimated_pairs", &problem).at("pairs").items()) {
    const std::string first = row.text("of"), second = row.text("and");
    if (!(first == a && second == b) && !(first == b && second == a)) continue;
    out.gamma_T = row.number("gamma_T");
    out.estimated_by = "fitted to printed boiling points of blends";
  }
  return out;
}

}  // namespace

Result<fluids::FluidData> load_blend(const std::string& designation,
                                     const std::vector<fluids::Share>& shares) {
  std::vector<fluids::FluidData> components;
  std::vector<double> mass_fractions;
  for (const fluids::Share& share : shares) {
    auto data = load_fluid_data(share.designation);
    if (!data) return data.problem();
    components.push_back(std::move(data.value()));
    mass_fractions.push_back(share.mass_fraction);
  }
  const json document = json::parse(embedded("blends/pairs.json").value_or("{}"), nullptr, false);
  std::optional<Problem> problem;
  const JsonReader reader(&document, "pairs", &problem);
  std::vector<fluids::PairData> pairs;
  for (std::size_t i = 0; i < components.size(); ++i)
    for (std::size_t j = i + 1; j < components.size(); ++j) {
      auto found = find_pair(reader, components[i].designation, components[j].designation, i, j);
      if (problem) return *problem;
      if (!found) {
        found = estimate_pair(components[i].designation, components[j].designation, i, j);
      }
      pairs.push_back(std::move(*found));
    }
  return fluids::make_blend(designation, std::move(components), std::move(pairs), mass_fractions);
}

}  // namespace coldwright::service

#include "service/transport_loader.hpp"

#include <algorithm>
#include <array>
#include <optional>
#include <string>

#include "service/embedded.hpp"
#include "service/json_reader.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::service {
namespace {

constexpr double angstrom = 1e-10;  // m

fluids::RegionUncertainty read_regions(const JsonReader& in) {
  return {in.number("liquid"), in.number("dense"), in.number("vapour")};
}

/// Exactly N numbers; fewer or more are a problem of the file.
template <std::size_t N>
std::array<double, N> read_numbers(const JsonReader& in, const char* key,
                                   std::optional<Problem>& first_problem) {
  std::array<double, N> out{};
  const auto numbers = in.at(key).numbers();
  if (numbers.size() == N) {
    std::copy(numbers.begin(), numbers.end(), out.begin());
  } else if (!first_problem) {
    first_problem =
        Problem{std::string("transport.json, ") + key, std::to_string(numbers.size()) + " numbers",
                std::to_string(N), "the method asks for as many"};
  }
  return out;
}

std::string read_compared_with(const JsonReader& in) {
  return in.has("compared_with") ? in.at("compared_with").text("source") : std::string();
}

fluids::ScalingComponent read_component(const JsonReader& in, std::optional<Problem>& first_problem) {
  fluids::ScalingComponent out;
  out.designation = in.text("designation");
  out.M = in.number("molar_mass_kg_per_mol");
  out.epsilon_over_k = in.number("epsilon_over_k_K");
  out.sigma = in.number("sigma_angstrom") * angstrom;
  const auto f_int = read_numbers<2>(in.at("dilute_gas"), "f_int", first_problem);
  out.f_int_constant = f_int[0];
  out.f_int_per_K = f_int[1];

  const JsonReader viscosity = in.at("viscosity");
  out.viscosity = {.reference = viscosity.text("source"),
                   .kind = viscosity.text("kind"),
                   .compared_with = read_compared_with(viscosity),
                   .n = read_numbers<3>(viscosity, "n", first_problem),
                   .xi = viscosity.number("xi"),
                   .uncertainty = read_regions(viscosity.at("uncertainty"))};

  const JsonReader conductivity = in.at("conductivity");
  const JsonReader critical = conductivity.at("critical");
  out.conductivity = {.reference = conductivity.text("source"),
                      .kind = conductivity.text("kind"),
                      .compared_with = read_compared_with(conductivity),
                      .n = read_numbers<4>(conductivity, "n", first_problem),
                      .xi = conductivity.number("xi"),
                      .phi0 = critical.number("phi0_m"),
                      .Gamma = critical.number("Gamma"),
                      .q_D = critical.number("q_D_per_m"),
                      .T_far = critical.number("T_far_K"),
                      .uncertainty = read_regions(conductivity.at("uncertainty"))};

  const JsonReader tension = in.at("surface_tension");
  out.tension_kind = tension.text("kind");
  out.tension = read_surface_tension(tension);
  out.parachor = tension.number("parachor");
  out.parachor_spread = tension.number("parachor_spread");
  return out;
}

}  // namespace

Result<fluids::ScalingTables> read_scaling_tables(std::string_view text) {
  const nlohmann::json document = nlohmann::json::parse(text, nullptr, false);
  if (document.is_discarded())
    return Problem{"transport.json", "text that is not JSON", "a JSON document", "the file is damaged"};
  std::optional<Problem> first_problem;
  const JsonReader in(&document, "transport", &first_problem);
  fluids::ScalingTables out;
  for (const JsonReader& row : in.at("components").items())
    out.components.push_back(read_component(row, first_problem));
  const JsonReader least = in.at("least_uncertainty_of_blends");
  out.blends = {read_regions(least.at("viscosity")), read_regions(least.at("conductivity")),
                least.number("surface_tension")};
  if (first_problem) return *first_problem;
  return out;
}

Result<fluids::ScalingTables> load_scaling_tables() {
  const auto text = embedded("transport.json");
  if (!text) return Problem{"transport.json", "no such file", "the file", "it is part of the program"};
  return read_scaling_tables(*text);
}

}  // namespace coldwright::service

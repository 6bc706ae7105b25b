#include "service/refrigerant_loader.hpp"

#include <algorithm>
#include <cctype>

#include "base/text.hpp"
#include "fluids/blend.hpp"
#include "fluids/transport_scaling.hpp"
#include "service/blend_loader.hpp"
#include "service/catalogue.hpp"
#include "service/embedded.hpp"
#include "service/json_reader.hpp"
#include "service/transport_loader.hpp"

namespace coldwright::service {
namespace {

using fluids::FluidData;
using nlohmann::json;

constexpr std::string_view folder = "refrigerants/";
constexpr std::string_view curves_ending = ".saturation.json";
constexpr std::string_view ending = ".json";

/// Letters and digits alone, in lower case: "R-290" and "r290" are one name.
std::string plain_name(std::string_view name) {
  std::string out;
  for (const char c : name) {
    const auto u = static_cast<unsigned char>(c);
    if (std::isalnum(u)) out.push_back(static_cast<char>(std::tolower(u)));
  }
  return out;
}

fluids::IdealPart read_ideal(const JsonReader& in) {
  fluids::IdealPart out;
  out.a1 = in.number("a1");
  out.a2 = in.number("a2");
  out.shift_a1 = in.at("iir_shift").number("a1");
  out.shift_a2 = in.at("iir_shift").number("a2");
  out.log_tau = in.number("log_tau");
  for (const auto& row : in.at("power").items()) out.power.push_back({row.number("n"), row.number("t")});
  for (const auto& row : in.at("einstein").items())
    out.einstein.push_back({row.number("m"), row.number("theta")});
  return out;
}

fluids::PiecewiseChebyshev read_curve(const JsonReader& in) {
  fluids::PiecewiseChebyshev out;
  out.low = in.number("low");
  out.high = in.number("high");
  out.terms = in.whole("terms");
  for (const auto& piece : in.at("pieces").items())
    for (const double c : piece.numbers()) out.coefficients.push_back(c);
  return out;
}

fluids::SaturationCurves read_saturation(const JsonReader& in) {
  fluids::SaturationCurves out;
  const JsonReader critical = in.at("own_critical_point");
  out.T_crit = critical.number("T_K");
  out.p_crit = critical.number("p_Pa");
  out.rho_crit = critical.number("rho_kg_per_m3");
  out.ln_p = read_curve(in.at("ln_p_of_x"));
  out.rho_liquid = read_curve(in.at("rho_liquid_of_x"));
  out.ln_rho_vapour = read_curve(in.at("ln_rho_vapour_of_x"));
  out.T_of_z = read_curve(in.at("T_of_z"));
  out.stated_error = in.number("stated_relative_error");
  return out;
}

fluids::ViscosityData read_viscosity(const JsonReader& in) {
  fluids::ViscosityData out;
  out.reference = in.text("source");
  out.stated_uncertainty = in.number("stated_uncertainty");
  out.epsilon_over_k = in.number("epsilon_over_k_K");
  out.sigma = in.number("sigma_m");
  const JsonReader dilute = in.at("dilute");
  out.dilute_constant = dilute.number("constant");
  out.dilute_M = dilute.number("molar_mass_kg_per_mol");
  for (const auto& row : dilute.at("collision").items()) {
    out.collision_a.push_back(row.number("a"));
    out.collision_t.push_back(row.number("t"));
  }
  for (const auto& row : in.at("initial_density").items()) {
    out.initial_b.push_back(row.number("b"));
    out.initial_t.push_back(row.number("t"));
  }
  const JsonReader residual = in.at("residual");
  out.residual_T = residual.number("T_K");
  out.residual_rho = residual.number("rho_mol_per_m3");
  for (const auto& row : residual.at("terms").items())
    out.terms.push_back({row.number("a_Pa_s"), row.number("d"), row.number("t")});
  const JsonReader packing = residual.at("close_packing");
  out.packing.f = packing.number("f_Pa_s");
  out.packing.d = packing.number("d");
  for (const auto& row : packing.at("numerator").items()) {
    out.packing.g.push_back(row.number("g"));
    out.packing.h.push_back(row.number("t"));
  }
  for (const auto& row : packing.at("denominator").items()) {
    out.packing.p.push_back(row.number("g"));
    out.packing.q.push_back(row.number("t"));
  }
  return out;
}

fluids::ConductivityData read_conductivity(const JsonReader& in) {
  fluids::ConductivityData out;
  out.reference = in.text("source");
  out.stated_uncertainty = in.number("stated_uncertainty");
  out.dilute_T = in.at("dilute").number("T_K");
  out.dilute = in.at("dilute").at("a_W_per_m_K").numbers();
  const JsonReader residual = in.at("residual");
  out.residual_T = residual.number("T_K");
  out.residual_rho = residual.number("rho_kg_per_m3");
  for (const auto& row : residual.at("terms").items())
    out.terms.push_back({row.number("b_W_per_m_K"), row.number("d"), row.number("t")});
  const JsonReader critical = in.at("critical_enhancement");
  out.critical_R0 = critical.number("R0");
  out.critical_Gamma = critical.number("Gamma");
  out.critical_gamma = critical.number("gamma");
  out.critical_nu = critical.number("nu");
  out.xi0 = critical.number("xi0_m");
  out.q_D = critical.number("q_D_per_m");
  out.T_far = critical.number("T_far_K");
  out.critical_T = critical.number("T_K");
  out.critical_p = critical.number("p_Pa");
  out.critical_rho = critical.number("rho_mol_per_m3");
  return out;
}

FluidData read_fluid(const JsonReader& in) {
  FluidData out;
  out.designation = in.text("designation");
  out.name = in.text("name");
  out.M = in.number("molar_mass_kg_per_mol");
  const JsonReader equation = in.at("equation_of_state");
  out.equation_reference = equation.text("source");
  if (equation.has("estimated_by")) out.estimated_by = equation.text("estimated_by");
  out.R = equation.number("gas_constant_J_per_mol_K");
  out.T_reducing = equation.at("reducing").number("T_K");
  out.rho_reducing = equation.at("reducing").number("rho_mol_per_m3");
  out.T_triple = equation.at("range").number("T_triple_K");
  out.T_max = equation.at("range").number("T_max_K");
  out.p_max = equation.at("range").number("p_max_Pa");
  out.ideal = read_ideal(equation.at("ideal"));
  out.residual = read_residual(equation.at("residual"));
  if (in.has("melting_line")) {
    const JsonReader line = in.at("melting_line");
    out.melting = fluids::MeltingLine{line.text("source"), line.number("T0_K"), line.number("p0_Pa"),
                                      line.number("a_Pa"), line.number("c")};
  }
  if (in.has("viscosity")) out.viscosity = read_viscosity(in.at("viscosity"));
  if (in.has("conductivity")) out.conductivity = read_conductivity(in.at("conductivity"));
  if (in.has("surface_tension")) out.surface_tension = read_surface_tension(in.at("surface_tension"));
  return out;
}

bool is_carried(std::string_view designation) {
  return embedded(std::string(folder) + std::string(designation) + std::string(ending)).has_value();
}

bool is_refrigerant_file(std::string_view path) {
  return path.starts_with(folder) && path.ends_with(ending) && !path.ends_with(curves_ending);
}

std::string_view stem(std::string_view path) {
  return path.substr(folder.size(), path.size() - folder.size() - ending.size());
}

/// Why a designation of the catalogue has no properties here; none when it has.
std::optional<Problem> not_carried(const CatalogueEntry& entry, std::string_view typed) {
  for (const CatalogueComponent& component : entry.components)
    if (!is_carried(component.designation))
      return Problem{"refrigerant", base::quoted(typed, 40),
                     "a refrigerant whose properties are carried here",
                     entry.designation + " is in the catalogue, but the equation of state of " +
                         component.designation + " isn't carried"};
  return std::nullopt;
}

std::vector<fluids::Share> shares(const CatalogueEntry& entry) {
  std::vector<fluids::Share> out;
  for (const CatalogueComponent& component : entry.components)
    out.push_back({component.designation, component.mass_fraction});
  return out;
}

}  // namespace

fluids::SurfaceTensionData read_surface_tension(const JsonReader& in) {
  fluids::SurfaceTensionData out;
  out.reference = in.text("source");
  out.stated_uncertainty = in.number("stated_uncertainty");
  out.T_c = in.number("T_c_K");
  for (const auto& row : in.at("terms").items())
    out.terms.push_back({row.number("a_N_per_m"), row.number("n")});
  return out;
}

fluids::ResidualPart read_residual(const JsonReader& in) {
  fluids::ResidualPart out;
  for (const auto& row : in.at("power").items())
    out.power.push_back({row.number("n"), row.number("t"), row.whole("d"), row.whole("l"),
                         row.has("g") ? row.number("g") : 1.0, row.has("m") ? row.number("m") : 0.0});
  if (in.has("gaussian"))
    for (const auto& row : in.at("gaussian").items())
      out.gaussian.push_back({row.number("n"), row.number("t"), row.whole("d"), row.number("eta"),
                              row.number("epsilon"), row.number("beta"), row.number("gamma")});
  if (in.has("gao"))
    for (const auto& row : in.at("gao").items())
      out.gao.push_back({row.number("n"), row.number("t"), row.whole("d"), row.number("eta"),
                         row.number("epsilon"), row.number("beta"), row.number("gamma"), row.number("b")});
  if (in.has("non_analytic"))
    for (const auto& row : in.at("non_analytic").items())
      out.non_analytic.push_back({row.number("n"), row.number("a"), row.number("b"), row.number("beta"),
                                  row.number("A"), row.number("B"), row.number("C"), row.number("D")});
  out.arrange();
  return out;
}

std::vector<std::string> known_refrigerants() {
  std::vector<std::string> out;
  for (const EmbeddedFile& file : embedded_files())
    if (is_refrigerant_file(file.path)) out.emplace_back(stem(file.path));
  std::sort(out.begin(), out.end());
  return out;
}

Result<FluidData> read_refrigerant(std::string_view name, std::string_view refrigerant_json,
                                   std::string_view saturation_json) {
  std::optional<Problem> first_problem;
  const json document = json::parse(refrigerant_json, nullptr, false);
  if (document.is_discarded())
    return Problem{std::string(name) + ".json", "text that is not JSON", "a JSON document",
                   "the file is damaged"};
  FluidData out = read_fluid(JsonReader(&document, std::string(name), &first_problem));
  if (!saturation_json.empty()) {
    const json curves = json::parse(saturation_json, nullptr, false);
    if (curves.is_discarded())
      return Problem{std::string(name) + std::string(curves_ending), "text that is not JSON",
                     "a JSON document", "the file is damaged"};
    out.saturation = read_saturation(JsonReader(&curves, std::string(name) + ".saturation", &first_problem));
  }
  if (first_problem) return *first_problem;
  return out;
}

Result<FluidData> load_fluid_data(std::string_view designation) {
  const std::string wanted = plain_name(designation);
  for (const EmbeddedFile& file : embedded_files()) {
    if (!is_refrigerant_file(file.path) || plain_name(stem(file.path)) != wanted) continue;
    const std::string name(stem(file.path));
    const auto curves = embedded(std::string(folder) + name + std::string(curves_ending));
    return read_refrigerant(name, file.text, curves.value_or(std::string_view{}));
  }
  // Not as a file is named: the catalogue knows the other names and the blends, and reads itself only now.
  const auto catalogue = Catalogue::load();
  if (!catalogue) return catalogue.problem();
  const auto entry =
      fluids::is_composition(designation) ? catalogue->mixed(designation) : catalogue->find(designation);
  if (!entry) return entry.problem();
  if (auto problem = not_carried(*entry, designation)) return *problem;
  if (entry->components.size() < 2) return load_fluid_data(entry->designation);
  return load_blend(entry->designation, shares(*entry));
}

namespace {

/// Transport by scaling where the refrigerant has no correlations of its own.
std::optional<Problem> add_scaling(FluidData& data) {
  if (data.viscosity && data.conductivity && data.surface_tension) return std::nullopt;
  auto tables = load_scaling_tables();
  if (!tables) return tables.problem();
  auto model = std::make_shared<fluids::ScalingModel>();
  model->blends = tables->blends;
  const auto add = [&](const std::string& designation) {
    if (const fluids::ScalingComponent* found = tables->find(designation))
      model->components.push_back(*found);
  };
  if (data.blend)
    for (const std::string& component : fluids::component_designations(data)) add(component);
  else
    add(data.designation);
  const std::size_t wanted = data.blend ? fluids::component_designations(data).size() : 1;
  if (model->components.size() == wanted) data.scaling = std::move(model);
  return std::nullopt;
}

}  // namespace

Result<fluids::Fluid> load_fluid(std::string_view designation) {
  Result<FluidData> data = load_fluid_data(designation);
  if (!data) return data.problem();
  if (auto problem = add_scaling(*data)) return *problem;
  return fluids::Fluid::make(std::move(data.value()));
}

}  // namespace coldwright::service

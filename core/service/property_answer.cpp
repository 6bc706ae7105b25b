#include "service/property_answer.hpp"

#include "base/text.hpp"
#include "fluids/blend.hpp"
#include "fluids/fluid_data.hpp"
#include "service/cautions.hpp"
#include "service/refrigerant_loader.hpp"
#include "service/shown_json.hpp"

namespace coldwright::service {

std::optional<fluids::Fluid> requested_fluid(Request& request) {
  const std::string name = request.required_text("refrigerant", base::listed(known_refrigerants()));
  if (request.problem()) return std::nullopt;
  auto fluid = load_fluid(name);
  if (fluid) return std::move(*fluid);
  Problem problem = fluid.problem();
  problem.field = "refrigerant";
  problem.given = base::quoted(name);
  request.fail(std::move(problem));
  return std::nullopt;
}

std::string both_systems(base::Dimension dimension, double low, double high, base::SitePressure site) {
  const auto range = [&](base::UnitSystem system) {
    const base::Display display{system, site};
    return base::show(dimension, low, display).text() + " to " + base::show(dimension, high, display).text();
  };
  return range(base::UnitSystem::us) + " (" + range(base::UnitSystem::metric) + ")";
}

base::UnitSystem choose_units(std::optional<base::UnitSystem> asked, std::optional<base::UnitSystem> spoken,
                              const Context& context) {
  if (asked) return *asked;
  if (spoken) return *spoken;
  return context.units == "metric" ? base::UnitSystem::metric : base::UnitSystem::us;
}

nlohmann::json property_heading(const fluids::Fluid& fluid, const base::Display& display,
                                const std::vector<std::string>& more_sources, const Wording& wording) {
  std::vector<std::string> sources = more_sources;
  if (fluid.is_blend()) {
    for (const std::string& key : fluids::blend_sources(fluid.data())) sources.push_back(key);
  } else {
    sources.push_back(fluid.data().equation_reference);
  }
  sources.emplace_back("iso2533");
  nlohmann::json out = {{"about", about(std::nullopt, sources)}, {"refrigerant", fluid.designation()}};
  const auto known = safety_class(fluid.designation());
  out["safety_class"] = known ? nlohmann::json(*known) : nlohmann::json(nullptr);
  out["site_pressure"] =
      quantity(base::show_absolute(base::Pressure{display.site.si}, display, 1), display.site.si);
  std::vector<diagnosis::Statement> cautions = property_cautions(fluid.designation());
  for (diagnosis::Statement& line : estimate_cautions(fluid.data(), wording))
    cautions.push_back(std::move(line));
  out["cautions"] = statements("cautions", cautions, wording, display);
  return out;
}

}  // namespace coldwright::service

#include "service/plate_request.hpp"

#include "base/text.hpp"
#include "procedures/plausible_machines.hpp"
#include "service/knowledge_loader.hpp"
#include "service/refrigerant_loader.hpp"
#include "service/tool_parts.hpp"

namespace coldwright::service {

using base::Dimension;

const std::vector<std::string>& plate_keys() {
  static const std::vector<std::string> keys{"cabinet",       "charge",    "rated_current",
                                             "rated_voltage", "frequency", "set_point"};
  return keys;
}

std::optional<PlausiblePlate> plausible_plate(Request& request, int count,
                                              std::optional<base::UnitSystem>& spoken_in) {
  const auto cabinet = request.text("cabinet");
  if (!cabinet) return std::nullopt;
  const auto fail = [&](const Problem& problem) -> std::optional<PlausiblePlate> {
    request.fail(problem);
    return std::nullopt;
  };
  const auto knowledge = load_knowledge();
  if (!knowledge) return fail(knowledge.problem());
  const circuit::Archetype* kind = nullptr;
  std::vector<std::string> ids;
  for (const circuit::Archetype& each : knowledge->archetypes) {
    ids.push_back(each.id);
    if (each.id == *cabinet) kind = &each;
  }
  if (kind == nullptr) {
    const auto near = base::nearest(*cabinet, ids);
    return fail({"cabinet", base::quoted(*cabinet), base::listed(ids),
                 near ? "did you mean \"" + *near + "\"?" : "no such kind of cabinet is known"});
  }
  circuit::Nameplate plate;
  plate.archetype = kind->id;
  plate.charge = positive(request, "charge", Dimension::mass, spoken_in);
  plate.rated_current = positive(request, "rated_current", Dimension::current, spoken_in);
  plate.rated_voltage = positive(request, "rated_voltage", Dimension::voltage, spoken_in);
  plate.frequency = positive(request, "frequency", Dimension::frequency, spoken_in);
  plate.set_point = temperature(request, "set_point", spoken_in);
  plate.refrigerant = request.text("refrigerant");
  if (request.problem()) return std::nullopt;
  auto fluid = load_fluid(plate.refrigerant.value_or(kind->refrigerant));
  if (!fluid) return fail(fluid.problem());
  auto table = circuit::WorkingFluid::make(*fluid);
  if (!table) return fail(table.problem());
  auto machines = procedures::plausible_machines(plate, *kind, *table, count);
  if (!machines) return fail(machines.problem());
  return PlausiblePlate{std::move(*fluid), std::move(*table), std::move(*machines)};
}

namespace {

std::optional<double> within(Request& request, std::string_view key, std::optional<double> value, double low,
                             double high, const char* allowed, const char* why) {
  if (!value || (*value >= low && *value <= high)) return value;
  request.fail({std::string(key), base::quoted(*request.text(key)), allowed, why});
  return std::nullopt;
}

}  // namespace

std::optional<double> tube_bore(Request& request, std::string_view key,
                                std::optional<base::UnitSystem>& spoken_in) {
  return within(request, key, positive(request, key, Dimension::length, spoken_in), 0.1e-3, 5e-3,
                "0.1 to 5 mm", "no capillary is outside of it");
}
std::optional<double> tube_length(Request& request, std::string_view key,
                                  std::optional<base::UnitSystem>& spoken_in) {
  return within(request, key, positive(request, key, Dimension::length, spoken_in), 0.05, 30, "0.05 to 30 m",
                "no capillary is outside of it");
}
std::optional<double> site_temperature(Request& request, std::string_view key,
                                       std::optional<base::UnitSystem>& spoken_in) {
  return within(request, key, temperature(request, key, spoken_in), 213.15, 353.15, "-60 to 80 °C",
                "nobody works on a circuit outside of it");
}

int leak_decimals(double kilograms_a_second) {
  constexpr double kGramAYear = 1e-3 / (365.25 * 86400);
  constexpr double kLargestByTheYear = 1e-6;  // above that it is shown by the minute
  return kilograms_a_second > 100 * kGramAYear && kilograms_a_second < kLargestByTheYear ? -1 : 0;
}

double spread(Request& request, std::string_view key, Dimension dimension, double of, double usual,
              std::optional<base::UnitSystem>& spoken_in) {
  const auto text = request.text(key);
  if (!text) return usual;
  if (text->find('%') == std::string::npos)
    return positive(request, key, dimension, spoken_in).value_or(usual);
  return of * share(request, key, 1).value_or(0);
}

}  // namespace coldwright::service

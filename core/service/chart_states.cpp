// A chart's cycle and points from what was typed.
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "calls/strict_json.hpp"
#include "service/chart_parts.hpp"
#include "service/property_answer.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using nlohmann::json;

constexpr std::size_t kMostPoints = 26;  // a letter each

/// Reads quantities of one request, remembering the units first spoken.
class Reader {
 public:
  Reader(Request& request, base::SitePressure site) : request_(request), site_(site) {}

  std::optional<double> value(const char* key, Dimension dimension) {
    const auto text = request_.text(key);
    if (!text) return std::nullopt;
    return parse(*text, key, dimension);
  }

  std::optional<double> parse(const std::string& text, const std::string& field, Dimension dimension) {
    const auto spoken = base::parse_spoken(text, field, dimension);
    if (!spoken) return fail(spoken.problem());
    if (!system_) system_ = spoken->system;
    if (dimension != Dimension::pressure) return spoken->si;
    const base::SpokenPressure said = spoken->against == base::Against::gauge
                                          ? base::SpokenPressure(base::GaugePressure{spoken->si})
                                          : base::SpokenPressure(base::Pressure{spoken->si});
    const auto absolute = base::resolve(said, site_, field, base::quoted(text));
    if (!absolute) return fail(absolute.problem());
    return absolute->si;
  }

  std::optional<double> fail(Problem problem) {
    request_.fail(std::move(problem));
    return std::nullopt;
  }
  std::string typed(const char* key) { return base::quoted(request_.text(key).value_or("")); }
  std::optional<base::UnitSystem> system() const { return system_; }
  base::SitePressure site() const { return site_; }

 private:
  Request& request_;
  base::SitePressure site_;
  std::optional<base::UnitSystem> system_;
};

double T_highest(const fluids::Fluid& fluid) {
  return fluid.is_blend() ? fluid.T_two_phase_max() : fluid.limits().T_crit * (1 - 1e-6);
}

/// One side of the machine, by its pressure or by the temperature of its dew point.
std::optional<double> side(Reader& in, const fluids::Fluid& fluid, const char* by_pressure,
                           const char* by_temperature) {
  const auto p = in.value(by_pressure, Dimension::pressure),
             T = in.value(by_temperature, Dimension::temperature);
  const double T_low = fluid.limits().T_min, T_high = T_highest(fluid);
  const std::string why =
      "a cycle condenses and evaporates, so both its sides lie below the critical point of " +
      fluid.designation();
  if (p && T)
    return in.fail({by_pressure,
                    in.typed(by_pressure) + " beside " + by_temperature + " " + in.typed(by_temperature),
                    std::string(by_pressure) + " or " + by_temperature + ", not both",
                    "each of them alone says how high this side stands"});
  if (T) {
    if (*T < T_low || *T > T_high)
      return in.fail({by_temperature, in.typed(by_temperature),
                      both_systems(Dimension::temperature, T_low, T_high, in.site()), why});
    const auto at = fluid.dew_pressure(*T);
    return at ? std::optional(*at) : in.fail(at.problem());
  }
  if (!p) return std::nullopt;
  const auto low = fluid.bubble_pressure(T_low), high = fluid.dew_pressure(T_high);
  if (low && high && (*p < *low || *p > *high))
    return in.fail(
        {by_pressure, in.typed(by_pressure), both_systems(Dimension::pressure, *low, *high, in.site()), why});
  return p;
}

double not_negative(Reader& in, const char* key) {
  const auto value = in.value(key, Dimension::temperature_difference);
  if (value && (*value < 0 || *value > 120))
    in.fail({key, in.typed(key), "0 to 216 °F (0 to 120 K)", "it is counted away from saturation"});
  return value.value_or(0);
}

/// "70 %" or "0.7".
double efficiency(Reader& in, Request& request) {
  const auto text = request.text("efficiency");
  if (!text) return 1;
  const bool bare = text->find_first_not_of("0123456789.") == std::string::npos;
  const auto read = in.parse(bare ? *text + " %" : *text, "efficiency", Dimension::quality);
  const double value = read.value_or(1) * (bare ? 100 : 1);
  if (read && (value < 0.1 || value > 1))
    in.fail({"efficiency", base::quoted(*text), "10 % to 100 %, or 0.1 to 1",
             "it is the ideal work of compression over the work done"});
  return value;
}

std::optional<drawing::CycleGiven> cycle_given(Reader& in, Request& request, const fluids::Fluid& fluid) {
  const auto low = side(in, fluid, "low", "evaporating"), high = side(in, fluid, "high", "condensing");
  drawing::CycleGiven given{low.value_or(0),
                            high.value_or(0),
                            not_negative(in, "superheat"),
                            not_negative(in, "subcooling"),
                            efficiency(in, request),
                            std::nullopt};
  if (request.problem()) return std::nullopt;
  const bool more = request.has("superheat") || request.has("subcooling") || request.has("efficiency");
  if (!low && !high && !more) return std::nullopt;
  if (!low || !high) {
    in.fail({"cycle",
             low    ? "a low side alone"
             : high ? "a high side alone"
                    : "no pressure",
             "low or evaporating, and high or condensing", "a cycle runs between two pressures"});
    return std::nullopt;
  }
  if (*low >= *high) {
    in.fail({"high", in.typed(request.has("high") ? "high" : "condensing"),
             "above the low side, " + in.typed(request.has("low") ? "low" : "evaporating"),
             "a compressor raises the pressure"});
    return std::nullopt;
  }
  return given;
}

std::optional<drawing::Mark> mark(Reader& in, const fluids::Fluid& fluid, const json& point,
                                  std::size_t number) {
  const std::string field = "point " + std::to_string(number);
  const auto text = [&](const char* key) {
    const auto found = point.find(key);
    const std::string* value = found == point.end() ? nullptr : found->get_ptr<const std::string*>();
    return value == nullptr ? std::string() : *value;
  };
  if (!point.is_object() || text("p").empty() || text("t").empty()) {
    in.fail({field, base::quoted(calls::dump(point), 40),
             "a pressure \"p\" and a temperature \"t\", each a text", "a point is where the two meet"});
    return std::nullopt;
  }
  const auto p = in.parse(text("p"), field, Dimension::pressure);
  const auto T = in.parse(text("t"), field, Dimension::temperature);
  if (!p || !T) return std::nullopt;
  const std::string name = text("name");
  drawing::Mark out{
      name.empty() ? text("t") + ", " + text("p") : base::quoted(name, 28), {*p, *T, 0}, true, {}};
  if (!name.empty()) out.name = out.name.substr(1, out.name.size() - 2);  // without the quotes
  const auto state = fluid.at_Tp(*T, *p);
  if (state) {
    out.at.h = state->h;
    return out;
  }
  const auto dew = fluid.dew_temperature(*p), bubble = fluid.bubble_temperature(*p);
  if (dew && bubble && *T > *bubble - 1e-3 && *T < *dew + 1e-3) {
    out.single = false;
    return out;
  }
  Problem problem = state.problem();
  problem.field = field;
  problem.given = base::quoted(text("t")) + " at " + base::quoted(text("p"));
  in.fail(problem);
  return std::nullopt;
}

std::vector<drawing::Mark> marks(Reader& in, Request& request, const fluids::Fluid& fluid) {
  std::vector<drawing::Mark> out;
  const json* points = request.find("points");
  if (points == nullptr) return out;
  if (!points->is_array() || points->size() > kMostPoints) {
    in.fail({"points", base::quoted(calls::dump(*points), 40), "a list of at most 26 points",
             "each gets a letter"});
    return out;
  }
  for (const json& point : *points)
    if (auto one = mark(in, fluid, point, out.size() + 1)) out.push_back(std::move(*one));
  return out;
}

}  // namespace

Result<ChartParts> chart_of_states(Request& request, const Wording& wording, const Context& context) {
  const auto fluid = requested_fluid(request);
  const auto units = request.units();
  Reader in(request, request.site());
  if (request.problem()) return *request.problem();
  const auto given = cycle_given(in, request, *fluid);
  auto points = marks(in, request, *fluid);
  if (request.problem()) return *request.problem();
  const base::Display display{choose_units(units, in.system(), context), in.site(), wording.numerals()};
  ChartParts parts{*fluid, display, "", {}, std::move(points), {}, {}};
  if (!given) return parts;
  auto cycle = drawing::make_cycle(*fluid, *given);
  if (!cycle) {
    Problem problem = cycle.problem();
    problem.field = "cycle, " + problem.field;
    return problem;
  }
  parts.cycles.push_back({drawing::Role::given, wording.word("chart", "cycle_given"), std::move(*cycle)});
  return parts;
}

}  // namespace coldwright::service

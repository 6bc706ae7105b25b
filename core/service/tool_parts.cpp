#include "service/tool_parts.hpp"

#include <cmath>

#include "base/text.hpp"

namespace coldwright::service {

using base::Dimension;

std::optional<double> positive(Request& request, std::string_view key, Dimension dimension,
                               std::optional<base::UnitSystem>& spoken_in) {
  const auto text = request.text(key);
  if (!text) return std::nullopt;
  const auto spoken = base::parse_spoken(*text, key, dimension);
  if (!spoken) {
    request.fail(spoken.problem());
    return std::nullopt;
  }
  if (!spoken_in) spoken_in = spoken->system;
  if (spoken->si > 0 && std::isfinite(spoken->si)) return spoken->si;
  request.fail({std::string(key), base::quoted(*text), "above zero", "less isn't there"});
  return std::nullopt;
}

std::optional<double> temperature(Request& request, std::string_view key,
                                  std::optional<base::UnitSystem>& spoken_in) {
  return positive(request, key, Dimension::temperature, spoken_in);
}

std::optional<double> pressure(Request& request, std::string_view key, base::SitePressure site,
                               std::optional<base::UnitSystem>& spoken_in) {
  const auto text = request.text(key);
  if (!text) return std::nullopt;
  const auto heard = base::parse_spoken(*text, key, Dimension::pressure);
  const auto said = base::parse_pressure(*text, key);
  if (!said) {
    request.fail(said.problem());
    return std::nullopt;
  }
  if (heard && !spoken_in) spoken_in = heard->system;
  const auto absolute = base::resolve(*said, site, key, *text);
  if (absolute) return absolute->si;
  request.fail(absolute.problem());
  return std::nullopt;
}

std::optional<double> share(Request& request, std::string_view key, double highest) {
  const auto text = request.text(key);
  if (!text) return std::nullopt;
  const bool bare = !text->empty() && text->find_first_not_of("0123456789.,") == std::string::npos;
  const auto spoken = base::parse_spoken(bare ? *text + " %" : *text, key, Dimension::quality);
  if (!spoken) {
    request.fail(spoken.problem());
    return std::nullopt;
  }
  if (spoken->si > 0 && spoken->si <= highest) return spoken->si;
  request.fail({std::string(key), base::quoted(*text),
                "above 0 % and up to " + std::to_string(std::lround(100 * highest)) + " %",
                "it is a share of the whole"});
  return std::nullopt;
}

std::pair<std::string, std::string> word(std::string_view name, Dimension dimension, double si,
                                         const base::Display& display, int extra) {
  return {std::string(name), base::show(dimension, si, display, extra).text()};
}

}  // namespace coldwright::service

// What the answers of the tools at hand share. Kept to service/.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/field_units.hpp"
#include "diagnosis/answer.hpp"
#include "service/request.hpp"

namespace coldwright::service {

/// A quantity above zero out of the request, SI, or nothing; `spoken_in` learns the first system heard.
std::optional<double> positive(Request& request, std::string_view key, base::Dimension dimension,
                               std::optional<base::UnitSystem>& spoken_in);
/// A temperature, K.
std::optional<double> temperature(Request& request, std::string_view key,
                                  std::optional<base::UnitSystem>& spoken_in);
/// A pressure, absolute Pa at this site.
std::optional<double> pressure(Request& request, std::string_view key, base::SitePressure site,
                               std::optional<base::UnitSystem>& spoken_in);
/// A share above zero and at most `highest`, from "25 %" or a bare percentage.
std::optional<double> share(Request& request, std::string_view key, double highest);

/// A text ready as the value of a word in a sentence: "15.8 m3".
std::pair<std::string, std::string> word(std::string_view name, base::Dimension dimension, double si,
                                         const base::Display& display, int extra = 0);

}  // namespace coldwright::service

#include "service/leak_search_data.hpp"

#include "service/embedded.hpp"
#include "service/json_reader.hpp"

namespace coldwright::service {

const FuelLimits* LeakSearchData::fuel(std::string_view gas) const {
  for (const FuelLimits& row : fuels)
    if (row.gas == gas) return &row;
  return nullptr;
}

Result<LeakSearchData> load_leak_search() {
  const nlohmann::json document =
      nlohmann::json::parse(embedded("leak_search.json").value_or(""), nullptr, false);
  std::optional<Problem> problem;
  LeakSearchData data;
  const JsonReader reader(&document, "leak_search", &problem);
  for (const JsonReader& row : reader.at("fuels").items())
    data.fuels.push_back(
        {row.text("gas"), row.number("lower_limit"), row.number("oxygen_limit"), row.text("source")});
  for (const JsonReader& row : reader.at("joints").items())
    data.joints.push_back({row.text("key"), row.number("weight"), row.number("minutes"), row.text("source")});
  if (problem) return *problem;
  return data;
}

}  // namespace coldwright::service

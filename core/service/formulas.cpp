#include "service/formulas.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "service/embedded.hpp"
#include "service/json_reader.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

json table() { return json::parse(embedded("formulas.json").value_or("null"), nullptr, false); }

}  // namespace

const std::vector<std::string>& bases() {
  static const std::vector<std::string> all = {"published", "common_practice", "from_memory", "our_estimate",
                                               "computed"};
  return all;
}

Result<Formula> formula_of(std::string_view key) {
  const json all = table();
  const std::string name(key);
  std::optional<Problem> problem;
  const JsonReader row = JsonReader(&all, "formulas.json", &problem).at(name.c_str());
  Formula formula;
  if (row.has("formula")) formula.text = row.text("formula");
  for (const JsonReader& cited : row.at("cited").items()) formula.cited.push_back(cited.text());
  formula.basis = row.text("basis");
  if (!problem && std::find(bases().begin(), bases().end(), formula.basis) == bases().end())
    problem = Problem{"formulas.json." + name + ".basis", base::quoted(formula.basis), base::listed(bases()),
                      "the file's format asks for it"};
  if (problem) return *problem;
  if (row.has("where"))
    for (const auto& [input, symbol] : all[name]["where"].items())
      if (symbol.is_string()) formula.symbols[input] = symbol.get<std::string>();
  return formula;
}

std::vector<std::string> formula_keys() {
  const json all = table();
  std::vector<std::string> keys;
  for (const auto& [key, row] : all.items()) keys.push_back(key);
  return keys;
}

}  // namespace coldwright::service

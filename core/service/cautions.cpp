#include "service/cautions.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "service/embedded.hpp"

namespace coldwright::service {

using diagnosis::Statement;

namespace {

nlohmann::json classes() {
  const auto root = nlohmann::json::parse(embedded("safety_classes.json").value_or("{}"), nullptr, false);
  if (!root.is_object() || !root.contains("classes") || !root["classes"].is_object())
    return nlohmann::json::object();
  return root["classes"];
}

}  // namespace

std::optional<std::string> safety_class(std::string_view designation) {
  const auto all = classes();
  const auto found = all.find(std::string(designation));
  if (found == all.end() || !found->is_string()) return std::nullopt;
  return found->get<std::string>();
}

std::vector<std::string> classed_refrigerants() {
  std::vector<std::string> names;
  const auto all = classes();
  for (auto row = all.begin(); row != all.end(); ++row) names.push_back(row.key());
  return names;
}

bool treat_as_flammable(std::string_view designation) {
  const auto known = safety_class(designation);
  return !known || known->size() < 2 || (*known)[1] != '1';
}

std::vector<Statement> property_cautions(std::string_view designation) {
  if (!treat_as_flammable(designation)) return {};
  return {{"caution_flammable", {}, {{"refrigerant", std::string(designation)}}}};
}

std::vector<Statement> call_cautions(std::string_view designation, bool assumed,
                                     const std::vector<Statement>& from_diagnosis) {
  std::vector<Statement> lines;
  if (assumed) lines.push_back({"caution_refrigerant_unknown", {}, {}});
  for (Statement& line : property_cautions(designation)) lines.push_back(std::move(line));
  for (const char* key : {"caution_electrical", "caution_capacitor", "caution_stay_closed",
                          "caution_no_torch", "caution_pressure"})
    lines.push_back({key, {}, {}});
  for (const Statement& line : from_diagnosis)
    if (line.key != "caution_defer" && std::none_of(lines.begin(), lines.end(), [&](const Statement& other) {
          return other.key == line.key;
        }))
      lines.push_back(line);
  lines.push_back({"caution_defer", {}, {}});
  return lines;
}

}  // namespace coldwright::service

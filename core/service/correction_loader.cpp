#include "service/correction_loader.hpp"

#include <algorithm>
#include <cmath>

#include <nlohmann/json.hpp>

#include "diagnosis/traits.hpp"
#include "service/json_reader.hpp"

namespace coldwright::service {
namespace {

using diagnosis::Correction;
using Noted = std::optional<Problem>;

constexpr const char* kFile = "correction.json";

bool is_look(const diagnosis::Knowledge& k, const Correction::Look& look) {
  return std::any_of(k.observations.begin(), k.observations.end(), [&](const auto& m) {
    return m.subject == look.subject &&
           std::find(m.values.begin(), m.values.end(), look.value) != m.values.end();
  });
}

Noted inconsistency(const Correction& c, const diagnosis::Knowledge& k) {
  if (!(c.trust >= 0 && c.trust <= 1))
    return Problem{std::string(kFile) + ".trust", std::to_string(c.trust), "0 to 1",
                   "it is a share of the evidence"};
  const auto& known = diagnosis::trait_ids();
  for (const auto& s : c.scales) {
    if (std::find(known.begin(), known.end(), s.trait) == known.end())
      return Problem{std::string(kFile) + ".traits", s.trait, "a trait of core/diagnosis/traits.cpp",
                     "nothing else can be reckoned from readings"};
    if (!(s.spread > 0))
      return Problem{std::string(kFile) + ".traits." + s.trait, std::to_string(s.spread), "a spread above 0",
                     "traits are counted in spreads"};
  }
  for (const auto& look : c.looks)
    if (!is_look(k, look))
      return Problem{std::string(kFile) + ".looks", look.subject + " " + look.value,
                     "a subject and value of observations.json", "nothing else can be seen"};
  for (const auto& of : c.causes) {
    if (std::none_of(k.causes.begin(), k.causes.end(),
                     [&](const auto& cause) { return cause.id == of.cause; }))
      return Problem{std::string(kFile) + ".causes", of.cause, "a cause the program can compute",
                     "no model stands behind this name"};
    if (of.weights.size() != columns_of(c))
      return Problem{std::string(kFile) + ".causes." + of.cause,
                     std::to_string(of.weights.size()) + " weights", std::to_string(columns_of(c)),
                     "one a column"};
  }
  return std::nullopt;
}

}  // namespace

Result<Correction> parse_correction(std::string_view text, const diagnosis::Knowledge& knowledge) {
  const nlohmann::json document = nlohmann::json::parse(text, nullptr, false);
  if (document.is_discarded())
    return Problem{kFile, "text that is not JSON", "a JSON document", "the data file is damaged"};
  Noted noted;
  const JsonReader in(&document, kFile, &noted);
  Correction c;
  c.trust = in.number("trust");
  c.two = in.number("two");
  for (const auto& row : in.at("traits").items())
    c.scales.push_back({row.text("id"), row.number("middle"), row.number("spread")});
  for (const auto& row : in.at("looks").items()) c.looks.push_back({row.text("subject"), row.text("value")});
  for (const auto& row : in.at("causes").items())
    c.causes.push_back({row.text("id"), row.at("weights").numbers()});
  if (!noted) noted = inconsistency(c, knowledge);
  if (noted) return *noted;
  return c;
}

}  // namespace coldwright::service

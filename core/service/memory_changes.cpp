#include "service/memory_changes.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/text.hpp"
#include "calls/strict_json.hpp"
#include "diagnosis/own_quantity.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::service {
namespace {

using diagnosis::Statement;
using nlohmann::json;

constexpr double kBelievable = 4;  // standard deviations of the population; beyond, no machine of the kind

std::vector<std::string> quantity_names() {
  std::vector<std::string> names;
  for (const auto& q : diagnosis::own_quantities()) names.emplace_back(q.name);
  return names;
}

Problem no_such_quantity(const std::string& field, const std::string& name) {
  const auto names = quantity_names();
  const auto near = base::nearest(name, names);
  return {field, base::quoted(name), base::listed(names),
          near ? "did you mean \"" + *near + "\"?" : "nothing of the kind is learned of a unit"};
}

// The members of one object, all texts; empty when they are others.
Result<std::map<std::string, std::string>> texts(const json& node, const std::string& field,
                                                 const std::vector<std::string>& keys) {
  const Problem wrong{field, base::quoted(calls::dump(node), 60),
                      "an object with " + base::listed(keys, "and") + " as texts", "it says what is meant"};
  if (!node.is_object()) return wrong;
  std::map<std::string, std::string> out;
  for (const auto& [key, value] : node.items()) {
    if (std::find(keys.begin(), keys.end(), key) == keys.end() || !value.is_string()) return wrong;
    if (!value.get<std::string>().empty()) out[key] = value.get<std::string>();
  }
  if (out.empty()) return wrong;
  return out;
}

Result<Forgotten> named(const json& node, const std::string& field) {
  const auto read = texts(node, field, {"call", "unit", "model", "quantity"});
  if (!read) return read.problem();
  Forgotten f;
  for (const auto& [key, value] : *read)
    (key == "call" ? f.call : key == "unit" ? f.unit : key == "model" ? f.model : f.quantity) = value;
  const int subjects = !f.call.empty() + !f.unit.empty() + !f.model.empty();
  if (subjects != 1 || (!f.quantity.empty() && f.unit.empty()))
    return Problem{field, base::quoted(calls::dump(node), 60),
                   "a call, a unit, a model, or a unit with one of its quantities",
                   "one thing is forgotten at a time"};
  if (!f.quantity.empty()) {
    const auto names = quantity_names();
    if (std::find(names.begin(), names.end(), f.quantity) == names.end())
      return no_such_quantity(field, f.quantity);
  }
  return f;
}

// Names that people gave, in quotes, so that nobody takes them for words of ours.
std::string quoted_list(const std::vector<std::string>& names) {
  std::vector<std::string> quoted;
  for (const std::string& name : names) quoted.push_back(base::quoted(name));
  return base::listed(quoted);
}

std::string name_of(const Forgotten& f) {
  return !f.call.empty() ? f.call : f.unit.empty() ? f.model : f.unit;
}

// What the memory knows under the kind of name that was given.
std::vector<std::string> known_names(const Memory& memory, const Forgotten& like) {
  std::vector<std::string> names;
  for (const RememberedCall& c : memory.calls) {
    const std::string& name = !like.call.empty() ? c.id : !like.unit.empty() ? c.unit : c.model;
    if (!name.empty() && std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  }
  return names;
}

std::optional<Problem> each(const Request& request, const char* key,
                            const std::function<std::optional<Problem>(const json&)>& take) {
  const json* node = request.find(key);
  if (node == nullptr) return std::nullopt;
  if (!node->is_array()) return take(*node);
  for (const json& one : *node)
    if (auto problem = take(one)) return problem;
  return std::nullopt;
}

// Whether any machine of the kind could have this value.
std::optional<Problem> believable(const RememberedCall& unit, const std::string& quantity, double si,
                                  const std::string& typed, const diagnosis::Knowledge& knowledge) {
  const auto fluid = load_fluid(unit.refrigerant);
  if (!fluid) return fluid.problem();
  auto working = circuit::WorkingFluid::make(*fluid);
  if (!working) return working.problem();
  const auto machine = diagnosis::AtSetPoint::open(
      unit.plate, std::make_shared<const circuit::WorkingFluid>(std::move(*working)), knowledge);
  if (!machine) return machine.problem();
  const auto middle = (*machine)->value(quantity, {});
  const auto gradient = (*machine)->gradient(quantity, {});
  if (!middle || !gradient) return std::nullopt;
  const double sigma = diagnosis::spread_of(diagnosis::population(), *gradient);
  if (si > 0 && std::abs(si - *middle) <= kBelievable * sigma) return std::nullopt;
  return Problem{"correct, value", base::quoted(typed), "what some sound machine of this kind could have",
                 "it lies farther off than four standard deviations of all of them"};
}

}  // namespace

std::optional<Problem> ask_back(const Request& request, Memory& memory, std::vector<Statement>& said) {
  return each(request, "ask_back", [&](const json& node) -> std::optional<Problem> {
    const auto f = named(node, "ask_back");
    if (!f) return f.problem();
    if (!ask_back(memory, *f))
      return Problem{"ask_back", base::quoted(name_of(*f)), "something that was forgotten",
                     "nothing of that name was"};
    said.push_back({f->quantity.empty() ? "asked_back" : "asked_back_quantity",
                    {},
                    {{"name", name_of(*f)}, {"quantity", f->quantity}}});
    return std::nullopt;
  });
}

std::optional<Problem> forget(const Request& request, Memory& memory, std::vector<Statement>& said) {
  return each(request, "forget", [&](const json& node) -> std::optional<Problem> {
    const auto f = named(node, "forget");
    if (!f) return f.problem();
    const auto names = known_names(memory, *f);
    if (!forget(memory, *f)) {
      const auto near = base::nearest(name_of(*f), names);
      return Problem{"forget", base::quoted(name_of(*f)),
                     names.empty() ? "something that is remembered" : quoted_list(names),
                     near ? "did you mean \"" + *near + "\"?" : "nothing of that name is remembered"};
    }
    said.push_back({f->quantity.empty() ? "forgotten_now" : "forgotten_quantity_now",
                    {},
                    {{"name", name_of(*f)}, {"quantity", f->quantity}}});
    return std::nullopt;
  });
}

std::optional<Problem> check_unit(const Memory& memory, const std::string& unit) {
  const auto is = [&](const RememberedCall& c) { return key_of(c.unit) == key_of(unit); };
  if (std::any_of(memory.calls.begin(), memory.calls.end(), is)) return std::nullopt;
  const auto names = known_names(memory, {"", unit, "", ""});
  const auto near = base::nearest(unit, names);
  return Problem{"unit", base::quoted(unit), names.empty() ? "a unit that is remembered" : quoted_list(names),
                 near ? "did you mean \"" + *near + "\"?" : "nothing of that name is remembered"};
}

std::optional<Problem> correct(const Request& request, Memory& memory, const diagnosis::Knowledge& knowledge,
                               std::set<std::string>& touched, std::vector<Statement>& said) {
  std::map<std::pair<std::string, std::string>, std::string> typed;  // within this request
  return each(request, "correct", [&](const json& node) -> std::optional<Problem> {
    const auto read = texts(node, "correct", {"unit", "quantity", "value"});
    if (!read) return read.problem();
    if (read->size() != 3)
      return Problem{"correct", base::quoted(calls::dump(node), 60), "unit, quantity and value",
                     "a correction needs all three"};
    const std::string &unit = read->at("unit"), &quantity = read->at("quantity"), &text = read->at("value");
    const auto call = std::find_if(memory.calls.begin(), memory.calls.end(),
                                   [&](const RememberedCall& c) { return key_of(c.unit) == key_of(unit); });
    if (auto problem = check_unit(memory, unit)) return problem;
    const auto row = std::find_if(diagnosis::own_quantities().begin(), diagnosis::own_quantities().end(),
                                  [&](const auto& q) { return q.name == quantity; });
    if (row == diagnosis::own_quantities().end()) return no_such_quantity("correct, quantity", quantity);
    const auto dimension = row->unit == diagnosis::Unit::current ? base::Dimension::current
                           : row->unit == diagnosis::Unit::power ? base::Dimension::power
                                                                 : base::Dimension::temperature_difference;
    const auto value = base::parse_spoken(text, "correct, value", dimension);
    if (!value) return value.problem();
    const auto [before, first] = typed.try_emplace({key_of(unit), quantity}, text);
    if (!first && before->second != text)
      return Problem{"correct, value", base::quoted(before->second) + " and " + base::quoted(text),
                     "one of them", "they contradict each other: a unit has one value"};
    if (auto problem = believable(*call, quantity, value->si, text, knowledge)) return problem;
    std::erase_if(memory.corrections, [&](const Correction& c) {
      return key_of(c.unit) == key_of(unit) && c.quantity == quantity;
    });
    memory.corrections.push_back({call->unit, quantity, value->si});
    std::sort(memory.corrections.begin(), memory.corrections.end(),
              [](const Correction& a, const Correction& b) {
                return std::tie(a.unit, a.quantity) < std::tie(b.unit, b.quantity);
              });
    touched.insert(key_of(unit));
    said.push_back({"corrected", {}, {{"name", call->unit}, {"quantity", quantity}, {"given", text}}});
    return std::nullopt;
  });
}

}  // namespace coldwright::service

// Use case "memory": finished calls in, what they taught of their units and models out, to be inspected,
// corrected and forgotten.
#include "service/memory.hpp"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "base/text.hpp"
#include "calls/strict_json.hpp"
#include "service/knowledge_loader.hpp"
#include "service/memory_changes.hpp"
#include "service/procedure_answer.hpp"
#include "service/recall.hpp"
#include "service/refrigerant_loader.hpp"
#include "service/request.hpp"
#include "service/shown_json.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using diagnosis::Statement;
using diagnosis::Unit;
using nlohmann::json;

constexpr int kDraws = 300;  // machines that a unit's quantities are told from
constexpr double kNarrowed =
    0.8;                         // of a stranger's interval: wider than it, nothing was learned worth telling
constexpr int kPopulation = 80;  // machines a cause to see whether a call left a sound one: half of a proof's
constexpr std::size_t kMostTold = 24;  // units told in full; the table has all

class MemoryAnswer {
 public:
  MemoryAnswer(const Memory& memory, const diagnosis::Knowledge& knowledge, const Wording& wording,
               const base::Display& display)
      : memory_(memory),
        knowledge_(knowledge),
        words_(wording),
        display_(display),
        answer_("memory", wording, display) {}

  void call_taught(const Taught& t, bool kept);
  void changes(const std::vector<Statement>& said) {
    for (const Statement& s : said) answer_.say(s);
  }
  std::optional<Problem> units(const std::set<std::string>& touched);
  void failures();
  void table();
  Result<std::string> text();

 private:
  /// `alone`: told by itself, so that its figures can be opened.
  std::optional<Problem> unit(const RememberedCall& of, bool alone);
  std::string percent(double share) const { return probability_text(share, 0.01, display_.numerals); }
  std::string number(int n) const { return base::number_text(n, 0, display_.numerals); }

  const Memory& memory_;
  const diagnosis::Knowledge& knowledge_;
  const Wording& words_;
  const base::Display& display_;
  ProcedureAnswer answer_;
  std::vector<std::vector<std::string>> learned_;
};

void MemoryAnswer::call_taught(const Taught& t, bool kept) {
  const auto say = [&](const std::string& key) {
    answer_.say({key,
                 {{"count", Unit::count, static_cast<double>(t.call.readings)}},
                 {{"call_name", t.call.id}, {"unit_name", t.call.unit}, {"chance", percent(t.sound)}}});
  };
  if (!t.finished) return say("call_not_finished");
  if (!kept) return say("stays_forgotten");
  say(t.why.empty() ? "call_taught" : t.why);
  if (!t.call.cause.empty() && t.call.model.empty()) say("no_model");
  for (const std::string& id : t.set_aside)
    answer_.say({"reading_set_aside", {}, {{"call_name", t.call.id}, {"entry", id}}});
}

std::optional<Problem> MemoryAnswer::unit(const RememberedCall& of, bool alone) {
  const auto fluid = load_fluid(of.refrigerant);
  if (!fluid) return fluid.problem();
  auto working = circuit::WorkingFluid::make(*fluid);
  if (!working) return working.problem();
  const auto table = std::make_shared<const circuit::WorkingFluid>(std::move(*working));
  const auto known = recall(memory_, of.unit, of.model, of.plate, {}, *fluid, knowledge_);
  if (!known) return known.problem();
  const std::vector<std::pair<std::string, std::string>> name{{"unit_name", of.unit},
                                                              {"model_name", of.model}};
  const auto say = [&](const char* key, int n) {
    if (n > 0) answer_.say({key, {{"count", Unit::count, static_cast<double>(n)}}, name});
  };
  say("earlier_machine", known->earlier_machine);
  say("another_plate", known->another_plate);
  say("model_agrees", known->units);
  if (!known->prior) {
    answer_.say({"nothing_of_unit", {}, name});
    return std::nullopt;
  }
  const auto machine = diagnosis::AtSetPoint::open(of.plate, table, knowledge_);
  if (!machine) return machine.problem();
  const auto here = (*machine)->quantities(known->prior.get(), kDraws),
             usual = (*machine)->quantities(nullptr, kDraws);
  for (std::size_t i = 0; i < here.size(); ++i) {
    const auto &own = here[i].interval, &any = usual[i].interval;
    if (own.high - own.low > kNarrowed * (any.high - any.low)) continue;
    const Unit as = here[i].quantity.unit;
    const auto dimension = as == Unit::current ? base::Dimension::current
                           : as == Unit::power ? base::Dimension::power
                                               : base::Dimension::temperature_difference;
    const std::string key = "learned_" + std::string(here[i].quantity.name);
    learned_.push_back({of.unit, words_.word("figures", key), words_.interval(as, own, display_),
                        words_.interval(as, any, display_), number(known->calls), number(known->units)});
    if (alone)
      answer_.figure(key, dimension, own,
                     {{"unit_name", of.unit},
                      {"calls", number(known->calls)},
                      {"units_of_model", number(known->units)},
                      {"usual_range", words_.interval(as, any, display_)}});
  }
  return std::nullopt;
}

std::optional<Problem> MemoryAnswer::units(const std::set<std::string>& touched) {
  std::map<std::string, const RememberedCall*> latest;
  for (const RememberedCall& c : memory_.calls) {
    if (!touched.empty() && !touched.contains(key_of(c.unit))) continue;
    const RememberedCall*& last = latest[key_of(c.unit)];
    if (last == nullptr || std::tie(last->at, last->id) < std::tie(c.at, c.id)) last = &c;
  }
  std::size_t told = 0;
  for (const auto& [key, call] : latest) {
    if (++told > kMostTold) {
      answer_.say(
          {"more_units", {{"count", Unit::count, static_cast<double>(latest.size() - kMostTold)}}, {}});
      break;
    }
    if (auto problem = unit(*call, latest.size() == 1)) return problem;
  }
  if (!learned_.empty())
    answer_.table("learned",
                  {"unit_name", "quantity", "learned_range", "usual_range", "calls", "units_of_model"},
                  std::move(learned_));
  return std::nullopt;
}

void MemoryAnswer::failures() {
  std::vector<std::vector<std::string>> rows;
  for (const ModelFailure& f : repeated_failures(memory_, knowledge_)) {
    const std::string what = f.is_part ? words_.named_word("part", f.what) : words_.cause(f.what);
    const std::string range = words_.interval(
        Unit::percent, {100 * f.rate.share.low, 100 * f.rate.share.mid, 100 * f.rate.share.high}, display_);
    answer_.say({f.is_part ? "part_repeats" : "cause_repeats",
                 {{"count", Unit::count, static_cast<double>(f.rate.failures)},
                  {"of", Unit::count, static_cast<double>(f.rate.of)},
                  {"units", Unit::count, static_cast<double>(f.units)}},
                 {{"model_name", f.model},
                  {"what", what},
                  {"usual", percent(f.rate.usual)},
                  {"sure", percent(f.rate.above_usual)}}});
    answer_.figure_text("failure_share", f.rate.share.mid, range,
                        {{"model_name", f.model},
                         {"what", what},
                         {"failures", number(f.rate.failures)},
                         {"failures_of", number(f.rate.of)},
                         {"usual_share", percent(f.rate.usual)}});
    rows.push_back({f.model, what, number(f.rate.failures), number(f.rate.of), number(f.units),
                    percent(f.rate.usual), range, percent(f.rate.above_usual)});
  }
  if (!rows.empty())
    answer_.table("repeated_failures",
                  {"model_name", "what_failed", "failures", "failures_of", "units", "usual_share",
                   "failure_share", "above_usual"},
                  rows);
}

void MemoryAnswer::table() {
  std::vector<std::vector<std::string>> rows;
  for (const RememberedCall& c : memory_.calls)
    rows.push_back({c.unit, c.model.empty() ? "\u2013" : c.model, c.id,
                    c.cause.empty() ? "\u2013" : words_.cause(c.cause), words_.listed(c.parts, "and"),
                    number(c.readings)});
  if (!rows.empty())
    answer_.table("remembered_calls",
                  {"unit_name", "model_name", "call_name", "cause", "parts", "readings_taught"}, rows);
  rows.clear();
  for (const Forgotten& f : memory_.forgotten)
    rows.push_back({!f.call.empty()  ? f.call
                    : f.unit.empty() ? f.model
                                     : f.unit,
                    f.quantity.empty() ? "\u2013" : words_.word("figures", "learned_" + f.quantity)});
  if (!rows.empty()) answer_.table("forgotten", {"forgotten_name", "forgotten_quantity"}, rows);
}

Result<std::string> MemoryAnswer::text() {
  std::set<std::string> units;
  for (const RememberedCall& c : memory_.calls) units.insert(key_of(c.unit));
  answer_.verdict({memory_.calls.empty() ? "empty" : "remembers",
                   {{"count", Unit::count, static_cast<double>(memory_.calls.size())},
                    {"units", Unit::count, static_cast<double>(units.size())}},
                   {}});
  const auto text = answer_.text();
  if (!text) return text.problem();
  json out = json::parse(*text, nullptr, false);
  out["memory"] = write_memory(memory_);
  return calls::dump(out);
}

// The calls of a request, each as a request of its own.
Result<std::vector<std::string>> calls_in(const Request& request) {
  std::vector<std::string> out;
  const json* list = request.find("calls");
  if (list == nullptr) return out;
  if (!list->is_array() || list->size() > 200)
    return Problem{"calls", base::quoted(calls::dump(*list), 40),
                   "a list of calls or of call files' texts, at most 200",
                   "each call is remembered by itself"};
  for (const json& call : *list) {
    if (!call.is_object() && !call.is_string())
      return Problem{"calls", base::quoted(calls::dump(call), 40),
                     "a call as an object, or a call file's text", "it is neither"};
    json one = json::object();
    one[call.is_object() ? "call" : "call_text"] = call;
    one["population"] = kPopulation;
    out.push_back(calls::dump(one));
  }
  return out;
}

}  // namespace

Result<std::string> run_memory(std::string_view text, const Context& context) {
  auto request = Request::read(text, {"calls", "memory", "unit", "correct", "forget", "ask_back", "units"});
  if (!request) return request.problem();
  const auto units = request->units();
  const auto only = request->text("unit");
  if (request->problem()) return *request->problem();
  const auto list = calls_in(*request);
  if (!list) return list.problem();
  Memory memory;
  if (const json* node = request->find("memory")) {
    auto read = read_memory(*node);
    if (!read) return read.problem();
    memory = std::move(*read);
  }
  const auto knowledge = load_knowledge();
  if (!knowledge) return knowledge.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const base::Display display{
      units.value_or(context.units == "metric" ? base::UnitSystem::metric : base::UnitSystem::us),
      base::sea_level, wording->numerals()};
  // Asked back first, so that a call in the same request is remembered again; then the calls, then what is
  // forgotten and corrected of them.
  std::vector<Statement> said;
  if (auto problem = ask_back(*request, memory, said)) return *problem;
  std::vector<std::pair<Taught, bool>> taught;
  std::set<std::string> touched;
  for (std::size_t i = 0; i < list->size(); ++i) {
    Context part = context;
    part.progress = [&](double x) {
      return !context.progress ||
             context.progress((static_cast<double>(i) + x) / static_cast<double>(list->size()));
    };
    auto one = taught_by((*list)[i], part);
    if (!one) return one.problem();
    const bool kept = one->finished && take_in(memory, one->call);
    if (kept) touched.insert(key_of(one->call.unit));
    taught.emplace_back(std::move(*one), kept);
  }
  if (auto problem = forget(*request, memory, said)) return *problem;
  if (auto problem = correct(*request, memory, *knowledge, touched, said)) return *problem;
  if (only) {
    if (auto problem = check_unit(memory, *only)) return *problem;
    touched = {key_of(*only)};
  }

  MemoryAnswer answer(memory, *knowledge, *wording, display);
  for (const auto& [one, kept] : taught) answer.call_taught(one, kept);
  answer.changes(said);
  if (auto problem = answer.units(touched)) return *problem;
  answer.failures();
  answer.table();
  return answer.text();
}

}  // namespace coldwright::service

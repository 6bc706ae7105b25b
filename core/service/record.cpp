// Use case "record": a call, finished or not, as the paper it leaves: the page's model, the same as HTML, the
// facts for machines, and a table.
#include <algorithm>
#include <set>

#include "base/text.hpp"
#include "calls/fold.hpp"
#include "calls/strict_json.hpp"
#include "drawing/chart.hpp"
#include "service/call_case.hpp"
#include "service/knowledge_loader.hpp"
#include "service/record_model.hpp"
#include "service/request.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

/// What stands on the shop's paper; longer than anything on a sign or a licence.
constexpr std::size_t kLongestShopText = 300;
constexpr std::size_t kMostProofs = 200;

Result<calls::Call> requested_call(Request& request) {
  const json *object = request.find("call"), *text = request.find("call_text");
  if ((object == nullptr) == (text == nullptr))
    return Problem{"call", object == nullptr ? "nothing" : "\"call\" and \"call_text\" together",
                   "\"call\" with the call as an object, or \"call_text\" with the file's text",
                   "there has to be one call to answer"};
  if (object != nullptr) return calls::read_call(calls::dump(*object));
  const auto* file = text->get_ptr<const std::string*>();
  if (file == nullptr)
    return Problem{"call_text", base::quoted(calls::dump(*text), 40), "the text of a call file",
                   "it isn't a text"};
  return calls::read_call(*file);
}

/// One of a few words, or its Problem; `usual` where the request says nothing.
std::string choice(Request& request, const char* key, std::vector<std::string> words,
                   const std::string& usual, const char* why) {
  const auto said = request.text(key);
  if (!said) {
    if (usual.empty() && !request.problem()) request.fail({key, "nothing", base::listed(words), why});
    return usual;
  }
  if (std::find(words.begin(), words.end(), *said) == words.end())
    request.fail({key, base::quoted(*said), base::listed(words), why});
  return *said;
}

json shop_of(Request& request) {
  const json* shop = request.find("shop");
  if (shop == nullptr) return nullptr;
  const std::vector<std::string> keys = {"name", "address", "phone", "licence"};
  json out = json::object();
  for (const std::string& key : keys) out[key] = "";
  const auto wrong = [&](const std::string& field, const std::string& given) {
    request.fail({field, given, "name, address, phone and licence, each a text of at most 300 bytes",
                  "they stand at the head of the page"});
  };
  if (!shop->is_object()) {
    wrong("shop", base::quoted(calls::dump(*shop), 40));
    return nullptr;
  }
  for (const auto& [key, value] : shop->items()) {
    const auto* text = value.get_ptr<const std::string*>();
    if (std::find(keys.begin(), keys.end(), key) == keys.end())
      wrong("shop", "the key " + base::quoted(key));
    else if (text == nullptr || text->size() > kLongestShopText)
      wrong("shop, " + key, base::quoted(calls::dump(value), 40));
    else
      out[key] = *text;
  }
  return out;
}

/// What folds together with the call; none, with a reason, when only the machine's kind is missing.
struct Fold {
  std::optional<calls::Folded> folded;
  std::string why_not;
};
Result<Fold> folded(const calls::Call& call, const Context& context, const Wording& wording) {
  const auto knowledge = load_knowledge();
  if (!knowledge) return knowledge.problem();
  auto out = calls::fold(call, vocabulary_of(*knowledge), calls::Instant{context.now_seconds, 0});
  if (out) return Fold{std::move(*out), ""};
  const Problem& problem = out.problem();
  // A call that contradicts itself is refused as anywhere; one that doesn't say what machine it is leaves a
  // record without a cause.
  if (problem.field == "nameplate, cabinet" && problem.given == "nothing")
    return Fold{std::nullopt, wording.word("record", "no_diagnosis_cabinet")};
  return problem;
}

std::map<std::string, json> standing_contents(const calls::Call& call) {
  std::set<std::string> replaced;
  for (const calls::Entry& entry : call.entries)
    if (entry.replaces) replaced.insert(*entry.replaces);
  std::map<std::string, json> out;
  for (const calls::Entry& entry : call.entries) {
    if (replaced.contains(entry.id)) continue;
    json content = json::parse(entry.content, nullptr, false);
    if (content.is_object()) out.emplace(entry.id, std::move(content));
  }
  return out;
}

/// A request to another use case about the same call.
json about_call(const Request& request, const calls::Call& call) {
  json out = {{"call", json::parse(calls::write_call(call), nullptr, false)}};
  if (const json* units = request.find("units")) out["units"] = *units;
  return out;
}

/// The diagnosis given, held to be one of this call, or the one computed.
Result<json> diagnosis_of(const Request& request, const calls::Call& call, const Context& context) {
  if (const json* given = request.find("diagnosis")) {
    const bool whole = given->is_object() && !list_in(*given, "causes").empty() &&
                       text_in(object_in(*given, "about"), "program") == "coldwright" &&
                       text_in(object_in(*given, "call"), "name") == call.name;
    if (!whole)
      return Problem{"diagnosis", base::quoted(calls::dump(*given), 40),
                     "an answer of \"diagnose\" for this call",
                     "a record with another machine's cause would be a false one"};
    return *given;
  }
  json asked = about_call(request, call);
  for (const char* key : {"seed", "population", "memory"})
    if (const json* value = request.find(key)) asked[key] = *value;
  const auto answer = run_diagnose(calls::dump(asked), context);
  if (!answer) return answer.problem();
  return json::parse(*answer, nullptr, false);
}

/// The tests of the call, in the order in which they were begun.
std::vector<RecordTest> tests_begun(const calls::Repair& repair) {
  std::vector<RecordTest> out;
  const auto add = [&](const std::string& procedure, int run) {
    const bool there = std::any_of(out.begin(), out.end(), [&](const RecordTest& test) {
      return test.procedure == procedure && test.run == run;
    });
    if (!there) out.push_back({procedure, run, nullptr, ""});
  };
  for (const auto& entry : repair.procedures) add(entry.body.procedure, entry.body.run);
  for (const auto& entry : repair.test_readings) add(entry.body.procedure, entry.body.run);
  return out;
}

Result<std::vector<RecordTest>> given_proofs(const json& list) {
  std::vector<RecordTest> out;
  const bool fits = list.is_array() && list.size() <= kMostProofs;
  for (const json& answer : fits ? list : json::array()) {
    const std::string procedure = text_in(answer, "procedure");
    if (procedure.empty() || !answer.contains("figures")) break;
    const auto run = std::count_if(out.begin(), out.end(),
                                   [&](const RecordTest& test) { return test.procedure == procedure; });
    out.push_back({procedure, static_cast<int>(run) + 1, answer, ""});
  }
  if (!fits || out.size() != list.size())
    return Problem{"proofs", base::quoted(calls::dump(list), 40),
                   "a list of answers of procedures, at most 200", "each becomes a line of what was proved"};
  return out;
}

Result<std::vector<RecordTest>> tests_of(const Request& request, const calls::Call& call,
                                         const calls::Repair& repair, const Wording& wording,
                                         const Context& context) {
  if (const json* given = request.find("proofs")) return given_proofs(*given);
  std::vector<RecordTest> tests = tests_begun(repair);
  for (RecordTest& test : tests) {
    const UseCase* use_case = find_use_case(test.procedure);
    if (use_case == nullptr || use_case->answer_schema != "procedure.answer") {
      test.why_not = wording.word("record", "no_such_test");
      continue;
    }
    json asked = about_call(request, call);
    asked["run"] = test.run;
    const auto answer = use_case->run(calls::dump(asked), context);
    if (answer)
      test.answer = json::parse(*answer, nullptr, false);
    else
      test.why_not = told(answer.problem(), context.language);
  }
  return tests;
}

base::Display display_of(const Fold& fold, const calls::Call& call, std::optional<base::UnitSystem> asked,
                         const Wording& wording) {
  base::Display display{base::UnitSystem::us, base::sea_level, wording.numerals()};
  if (fold.folded) {
    display.system = fold.folded->units;
    display.site = base::SitePressure{fold.folded->the_case.site_pressure};
  } else {
    const auto metric =
        std::count_if(call.entries.begin(), call.entries.end(), [](const calls::Entry& entry) {
          return entry.has_quantities && entry.spoken == base::UnitSystem::metric;
        });
    const auto us = std::count_if(call.entries.begin(), call.entries.end(), [](const calls::Entry& entry) {
      return entry.has_quantities && entry.spoken == base::UnitSystem::us;
    });
    display.system = call.units.value_or(metric > us ? base::UnitSystem::metric : base::UnitSystem::us);
  }
  display.system = asked.value_or(display.system);
  return display;
}

/// The cycle for the shop's copy; a chart that can't be drawn is left out.
std::string cycle_of(const Request& request, const RecordSource& source, const Context& context) {
  json asked = about_call(request, source.call);
  asked["diagnosis"] = source.diagnosis;
  asked["diagram"] = "enthalpy";
  asked["picture_width"] = 420;
  const auto answer = run_chart(calls::dump(asked), context);
  if (!answer) return "";
  const json chart = json::parse(*answer, nullptr, false);
  return list_in(chart, "cycles").empty() ? "" : drawing::for_paper(text_in(chart, "svg"));
}

}  // namespace

Result<std::string> run_record(std::string_view text, const Context& context) {
  auto request = Request::read(text, {"call", "call_text", "for", "paper", "shop", "diagnosis", "proofs",
                                      "population", "seed", "units", "memory"});
  if (!request) return request.problem();
  const std::string reader =
      choice(*request, "for", {"customer", "shop"}, "", "the two copies say different things");
  const std::string given_paper =
      choice(*request, "paper", {"a4", "letter"}, "?", "pages are laid out for one of them");
  const json shop = shop_of(*request);
  const auto units = request->units();
  if (request->problem()) return *request->problem();
  const auto call = requested_call(*request);
  if (!call) return call.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const auto fold = folded(*call, context, *wording);
  if (!fold) return fold.problem();

  RecordSource source{*wording,
                      display_of(*fold, *call, units, *wording),
                      context.language,
                      context.now_seconds,
                      *call,
                      calls::repair_of(*call),
                      standing_contents(*call),
                      nullptr,
                      fold->why_not,
                      {},
                      shop};
  if (fold->folded) {
    auto diagnosis = diagnosis_of(*request, *call, context);
    if (!diagnosis) return diagnosis.problem();
    source.diagnosis = std::move(*diagnosis);
  }
  auto tests = tests_of(*request, *call, source.repair, *wording, context);
  if (!tests) return tests.problem();
  source.tests = std::move(*tests);

  RecordPage page{reader == "shop", ""};
  if (page.shop && !source.diagnosis.is_null()) page.cycle_svg = cycle_of(*request, source, context);
  const json data = record_data(source);
  const json model = record_model(data, source, page);
  const std::string paper = given_paper != "?"                              ? given_paper
                            : source.display.system == base::UnitSystem::us ? "letter"
                                                                            : "a4";
  json answer = {{"about", data["about"]},
                 {"for", reader},
                 {"language", context.language},
                 {"paper", paper},
                 {"title", model["title"]},
                 {"model", model},
                 {"html", record_html(model, context.language, paper)},
                 {"csv", record_csv(data)},
                 {"data", data}};
  return calls::dump(answer);
}

}  // namespace coldwright::service

// The command line: a request out of words, the use case's answer back into text. Exit status 0 for an
// answer, 2 for input it can't take (one message on standard error), 1 for a fault of its own.
#include <chrono>
#include <cstdio>
#include <exception>
#include <nlohmann/json.hpp>

#include "arguments.hpp"
#include "card_page.hpp"
#include "files.hpp"
#include "listen.hpp"
#include "memory_request.hpp"
#include "plain.hpp"
#include "procedure_options.hpp"
#include "progress.hpp"
#include "record_page.hpp"
#include "service/use_cases.hpp"
#include "trace_command.hpp"

namespace coldwright::cli {
namespace {

using nlohmann::json;

std::string dumped(const json& value, int indent = -1) {
  return value.dump(indent, ' ', false, json::error_handler_t::replace);
}

/// "liquid line=95F@200psig": a name, a temperature, a pressure. What lacks is for the core to miss.
json point_of(const std::string& words) {
  json point = json::object();
  const std::size_t named = words.find('='), at = words.rfind('@');
  if (named != std::string::npos) point["name"] = words.substr(0, named);
  const std::size_t from = named == std::string::npos ? 0 : named + 1;
  if (at == std::string::npos || at < from) return words;
  point["t"] = words.substr(from, at - from);
  point["p"] = words.substr(at + 1);
  return point;
}

/// "10 min, 148.2 psig, 68 F": a time and what the procedure reads, parted by a comma and a blank.
json reading_of(const std::string& words, const ProcedureOptions& procedure) {
  std::vector<std::string> parts;
  for (std::size_t from = 0; from <= words.size();) {
    const std::size_t end = std::min(words.find(", ", from), words.size());
    parts.push_back(words.substr(from, end - from));
    from = end + 2;
  }
  json reading = json::object();
  const bool clock = parts[0].find(':') != std::string::npos;
  reading[clock ? "at" : "after"] = parts[0];
  for (std::size_t i = 1; i < parts.size(); ++i) {
    const std::size_t named = parts[i].find('=');
    // One more than the procedure takes is for the core to refuse.
    const std::string key = named != std::string::npos         ? parts[i].substr(0, named)
                            : i - 1 < procedure.reading.size() ? std::string(procedure.reading[i - 1])
                                                               : parts[i];
    reading[key] = named != std::string::npos ? parts[i].substr(named + 1) : parts[i];
  }
  return reading;
}

Result<std::string> request_for(const Arguments& arguments) {
  if (arguments.command == "memory") return memory_request(arguments);
  if (arguments.command == "trace_layout") return trace_layout_request(arguments);
  json request = json::object();
  if (!arguments.memory.empty()) {
    auto memory = read_memory_file(arguments.memory);
    if (!memory) return memory.problem();
    request["memory"] = std::move(*memory);
  }
  for (const auto& [key, value] : arguments.fields) request[key] = value;
  if (!arguments.refrigerant.empty()) request["refrigerant"] = arguments.refrigerant;
  if (!arguments.values.empty()) request["at"] = arguments.values;
  if (!arguments.refrigerants.empty()) request["refrigerants"] = arguments.refrigerants;
  for (const std::string& point : arguments.points) request["points"].push_back(point_of(point));
  if (!arguments.schema_name.empty()) request["name"] = arguments.schema_name;
  if (const ProcedureOptions* procedure = procedure_named(arguments.command)) {
    for (const std::string& words : arguments.readings)
      request["readings"].push_back(reading_of(words, *procedure));
    if (arguments.run) request["run"] = *arguments.run;
  }
  if (!arguments.actions.empty()) request["actions"] = arguments.actions;
  if (arguments.seed) request["seed"] = *arguments.seed;
  if (arguments.population) request["population"] = *arguments.population;
  if (arguments.command == "record") {
    if (!arguments.paper.empty()) request["paper"] = arguments.paper;
    if (!request.contains("for")) request["for"] = "customer";
    if (!arguments.shop.empty()) {
      const auto shop = read_shop(arguments.shop);
      if (!shop) return shop.problem();
      request["shop"] = *shop;
    }
  }
  if (arguments.file.empty()) return dumped(request);
  const auto file = read_call_file(arguments.file);
  if (!file) return file.problem();
  return service::request_with_call(*file, dumped(request));
}

std::string plain(const Arguments& arguments, const json& answer) {
  if (arguments.command == "saturation") return plain_saturation(answer);
  if (arguments.command == "state") return plain_state(answer);
  if (arguments.command == "quantity") return plain_quantity(answer);
  if (arguments.command == "leak") return plain_leak(answer);
  if (arguments.command == "trace_layout") return plain_trace_layout(answer);
  if (arguments.command == "trace") return plain_trace(answer);
  if (answer.contains("procedure")) return plain_procedure(answer, arguments.how);
  if (answer.contains("statements")) return plain_tool(answer);
  if (arguments.command == "refrigerant") return plain_refrigerant(answer);
  if (arguments.command == "refrigerants") return plain_refrigerants(answer);
  if (arguments.command == "diagnose") return plain_diagnosis(answer);
  if (arguments.command == "expect") return plain_expectation(answer);
  if (arguments.command == "plan") return plain_plan(answer);
  if (arguments.command == "practice_call") return plain_practice_call(answer);
  if (arguments.command == "practice_step") return plain_practice_step(answer);
  if (arguments.command == "practice_debrief") return plain_practice_debrief(answer);
  if (arguments.command == "example")
    return arguments.words ? plain_words(answer) : text_at(answer, {"call_text"});
  if (arguments.command == "vocabulary") return dumped(answer, 2) + "\n";
  if (answer.contains("schema") && answer["schema"].is_object()) return dumped(answer["schema"], 2) + "\n";
  std::string names;
  for (const json& name : list_at(answer, "names")) names += name.get<std::string>() + "\n";
  return names;
}

int print(const std::string& text) {
  const bool written =
      std::fwrite(text.data(), 1, text.size(), stdout) == text.size() && std::fflush(stdout) == 0;
  return written ? 0 : 1;
}

/// `problem` is in the language already.
int refuse(const Problem& problem, const std::string& language) {
  std::fprintf(stderr, "coldwright: %s\n", service::told(problem, language).c_str());
  // Data carried inside the program can't be the reader's mistake.
  return problem.field.find(".json") != std::string::npos || problem.field == "wording" ? 1 : 2;
}

/// A problem of the command line's own, which comes in English.
int refuse_own(const Problem& problem, const Arguments& arguments) {
  if (!service::is_language(arguments.language)) return refuse(problem, "en");
  return refuse(service::in_language(problem, arguments.language), arguments.language);
}

/// Into the file, or to standard output.
int deliver(const std::string& bytes, const Arguments& arguments) {
  if (arguments.output.empty()) return print(bytes);
  const auto problem = write_file(arguments.output, bytes);
  return problem ? refuse_own(*problem, arguments) : 0;
}

int deliver_card(const json& answer, const Arguments& arguments, std::int64_t now) {
  if (arguments.output.empty() && shown_on_a_terminal())
    return refuse_own({"output", "a terminal", "-o FILE, or a pipe", "a PDF isn't text"}, arguments);
  const auto pdf = card_pdf(answer, arguments.paper, now);
  if (!pdf) return refuse_own(pdf.problem(), arguments);
  return deliver(*pdf, arguments);
}

int deliver_record(const json& answer, const Arguments& arguments, std::int64_t now) {
  if (arguments.format == "pdf" && arguments.output.empty() && shown_on_a_terminal())
    return refuse_own({"output", "a terminal", "-o FILE, or a pipe", "a PDF isn't text"}, arguments);
  const auto file = record_file(answer, arguments.format, now);
  if (!file) return refuse_own(file.problem(), arguments);
  return deliver(*file, arguments);
}

int answer(const Arguments& arguments) {
  const service::UseCase* use_case = service::find_use_case(arguments.command);
  if (use_case == nullptr) return 1;
  // A trace may be larger than a request: its files go to the core in pieces.
  const bool in_pieces = arguments.command == "trace";
  const auto request = in_pieces ? Result<std::string>("") : request_for(arguments);
  if (!request) return refuse_own(request.problem(), arguments);
  const auto now = std::chrono::system_clock::now().time_since_epoch();
  std::optional<Progress> progress(std::in_place);
  service::Context context;
  context.now_seconds = std::chrono::duration_cast<std::chrono::seconds>(now).count();
  context.language = arguments.language;
  context.progress = [&progress](double share) { return (*progress)(share); };
  const auto result = in_pieces ? answer_trace(arguments, context) : use_case->run(*request, context);
  progress.reset();
  if (!result && in_pieces) return refuse_own(result.problem(), arguments);
  if (!result) return refuse(result.problem(), arguments.language);
  const json parsed = json::parse(*result, nullptr, false);
  if (!parsed.is_object()) {
    std::fputs("coldwright: the core's own answer could not be read; please report this\n", stderr);
    return 1;
  }
  if (!arguments.json && arguments.command == "chart") return deliver(text_at(parsed, {"svg"}), arguments);
  if (in_pieces && !arguments.output.empty())
    if (const auto problem = write_file(arguments.output, text_at(parsed, {"picture"})))
      return refuse_own(*problem, arguments);
  if (!arguments.into.empty())
    if (const auto problem = add_to_call(arguments.into, *result)) return refuse_own(*problem, arguments);
  if (arguments.command == "memory" && !arguments.output.empty())
    if (const auto problem = write_file(arguments.output, dumped(parsed["memory"], 1) + "\n"))
      return refuse_own(*problem, arguments);
  if (!arguments.json && arguments.command == "card")
    return deliver_card(parsed, arguments, context.now_seconds);
  if (!arguments.json && arguments.command == "record")
    return deliver_record(parsed, arguments, context.now_seconds);
  return print(arguments.json ? dumped(parsed, 2) + "\n" : plain(arguments, parsed));
}

}  // namespace
}  // namespace coldwright::cli

int main(int count, char** words) {
  try {
    if (count > 1 && std::string_view(words[1]) == "listen")
      return coldwright::cli::listen_main(count - 1, words + 1);
    const auto parsed = coldwright::cli::parse_arguments(count, words);
    if (!parsed.stop) return coldwright::cli::answer(parsed.arguments);
    std::fputs(parsed.message.c_str(), parsed.status == 0 ? stdout : stderr);
    return parsed.status;
  } catch (const std::exception& error) {
    std::fprintf(stderr, "coldwright: a fault of its own: %s\n", error.what());
    return 1;
  }
}

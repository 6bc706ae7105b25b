#include "arguments.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <sstream>
#include <utility>

#include "listen.hpp"
#include "procedure_options.hpp"
#include "service/about.hpp"
#include "service/use_cases.hpp"

namespace coldwright::cli {
namespace {

/// "41 psig" without quotes arrives as two words; a bare number followed by letters is put together again.
std::vector<std::string> joined(const std::vector<std::string>& words) {
  std::vector<std::string> out;
  bool open = false;  // the last word was a number alone
  for (const std::string& word : words) {
    const bool number = !word.empty() && word.find_first_not_of("0123456789.,+-/") == std::string::npos;
    const bool fraction = number && word.find('/') != std::string::npos;
    if (open && (!number || fraction))
      out.back() += " " + word;
    else
      out.push_back(word);
    open = number;
  }
  return out;
}

std::string summary_of(const char* name) {
  const auto* use_case = service::find_use_case(name);
  return use_case == nullptr ? "" : std::string(use_case->summary);
}

/// Where a command takes a refrigerant or a call.
bool is_call_file(std::string_view word) { return word == "-" || word.ends_with(".json"); }

struct Options {
  Arguments arguments;
  std::string units, altitude, barometer;
  std::map<std::string, std::string> properties;
};

void add_language(CLI::App& app, Options& o) {
  app.add_option("--language", o.arguments.language, "of what the core says: en (the default), es or fr");
}

void add_output(CLI::App& app, Options& o) {
  app.add_flag("--json", o.arguments.json, "print the answer as JSON (coldwright schema COMMAND.answer)");
  add_language(app, o);
  app.add_option("--units", o.units, "us or metric, for the answer; what you type carries its own units");
}

void add_site(CLI::App& app, Options& o) {
  app.add_option("--altitude", o.altitude, "of the place the gauge is read at, such as 5000ft or 1500m");
  app.add_option("--barometer", o.barometer, "the air's own pressure there, such as 24.9inHg or 843hPa");
}

void add_saturation(CLI::App& app, Options& o) {
  CLI::App* sub = app.add_subcommand("saturation", summary_of("saturation"));
  sub->add_option("refrigerant", o.arguments.refrigerant, "such as R290")->required();
  sub->add_option("values", o.arguments.values, "temperatures or pressures, such as 22F or 41psig")
      ->required();
  add_site(*sub, o);
  add_output(*sub, o);
}

void add_state(CLI::App& app, Options& o) {
  CLI::App* sub = app.add_subcommand("state", summary_of("state"));
  sub->add_option("refrigerant", o.arguments.refrigerant, "such as R290")->required();
  sub->add_option("--t", o.properties["t"], "temperature, such as 60F");
  sub->add_option("--p", o.properties["p"], "pressure, such as 41psig");
  sub->add_option("--h", o.properties["h"], "enthalpy, such as 245Btu/lb (with --p)");
  sub->add_option("--s", o.properties["s"], "entropy, such as 2.4kJ/kgK (with --p)");
  sub->add_option("--density", o.properties["density"], "such as 9.5kg/m3 (with --t)");
  sub->add_option("--quality", o.properties["quality"], "share of vapour, 0 to 1 (with --t or --p)");
  add_site(*sub, o);
  add_output(*sub, o);
}

void add_catalogue(CLI::App& app, Options& o) {
  CLI::App* sheet = app.add_subcommand("refrigerant", summary_of("refrigerant"));
  sheet
      ->add_option("refrigerant", o.arguments.words_of_name,
                   "such as R404A, propane, or a composition: R32/R125/R134a 23/25/52")
      ->required();
  add_output(*sheet, o);
  CLI::App* list = app.add_subcommand("refrigerants", summary_of("refrigerants"));
  list->add_flag("--json", o.arguments.json, "print the list as JSON");
  add_language(*list, o);
}

void add_chart(CLI::App& app, Options& o) {
  CLI::App* sub = app.add_subcommand("chart", summary_of("chart"));
  sub->add_option("refrigerant", o.arguments.words_of_name,
                  "such as R290, or a composition; or a call file (.json), or - for one")
      ->required();
  for (const auto& [key, help] : {std::pair{"low", "low side, such as 41psig"},
                                  {"high", "high side, such as 200psig"},
                                  {"evaporating", "instead of --low: its dew point, such as 22F"},
                                  {"condensing", "instead of --high: its dew point, such as 105F"},
                                  {"superheat", "entering the compressor, such as 9F"},
                                  {"subcooling", "leaving the condenser, such as 8F"},
                                  {"efficiency", "of the compression against the ideal one, such as 70%"},
                                  {"diagram", "enthalpy, temperature or both"}})
    sub->add_option(std::string("--") + key, o.properties[key], help);
  sub->add_option("--point", o.arguments.points,
                  "a reading to mark, such as 60F@41psig or 'liquid line=95F@200psig'")
      ->allow_extra_args(false);
  sub->add_option("-o,--output", o.arguments.output, "the file to write; without it, standard output");
  add_site(*sub, o);
  add_output(*sub, o);
}

void add_card(CLI::App& app, Options& o) {
  CLI::App* sub = app.add_subcommand("card", summary_of("card"));
  sub->add_option("refrigerants", o.arguments.refrigerants, "such as R290 R404A R448A")->required();
  sub->add_option("--from", o.properties["from"], "first temperature, such as -40F");
  sub->add_option("--to", o.properties["to"], "last temperature, such as 60F");
  sub->add_option("--step", o.properties["step"], "between two rows, such as 2F");
  sub->add_option("--paper", o.arguments.paper, "a4 or letter; without it, letter for US units, else a4")
      ->check(CLI::IsMember({"a4", "letter"}));
  sub->add_option("-o,--output", o.arguments.output, "the PDF to write; without it, standard output");
  add_site(*sub, o);
  add_output(*sub, o);
}

void add_leak(CLI::App& app, Options& o) {
  CLI::App* sub = app.add_subcommand("leak", summary_of("leak"));
  sub->add_option("refrigerant", o.arguments.words_of_name, "a blend such as R448A, or a composition")
      ->required();
  sub->add_option("--lost", o.properties["lost"], "share of the charge, such as 30% (the default)");
  sub->add_option("--from", o.properties["from"], "vapour (the default) or liquid");
  sub->add_option("--t", o.properties["t"], "temperature of the standing system, such as 77F (the default)");
  sub->add_option("--liquid", o.properties["liquid"],
                  "liquid's share of the volume at the start, 30% by default");
  add_site(*sub, o);
  add_output(*sub, o);
}

/// "--suction-pressure" of "suction_pressure".
std::string option_name(std::string key) {
  std::replace(key.begin(), key.end(), '_', '-');
  return "--" + key;
}

void add_tools(CLI::App& app, Options& o) {
  struct Tool {
    const char* name;
    std::vector<std::pair<const char*, const char*>> options;
  };
  for (const Tool& tool :
       std::initializer_list<Tool>{{"superheat",
                                    {{"suction_pressure", "such as 41psig"},
                                     {"suction_temperature", "of the suction line, such as 45F"},
                                     {"head_pressure", "such as 180psig"},
                                     {"liquid_temperature", "of the liquid line, such as 90F"}}},
                                   {"room",
                                    {{"charge", "that escapes, such as 150g"},
                                     {"area", "of the floor, such as 12m2"},
                                     {"height", "of the room, 2.2 m by default"},
                                     {"volume", "instead of the floor area, such as 30m3"},
                                     {"share", "of the lower flammability limit, 25% by default"},
                                     {"t", "of the air, 20C by default"}}},
                                   {"hose",
                                    {{"pressure", "in the hose; saturation at its temperature by default"},
                                     {"t", "of the hose, 20C by default"},
                                     {"length", "of one hose, 5ft by default"},
                                     {"bore", "inside, 4.8mm by default"},
                                     {"charge", "of the machine, to compare with"}}},
                                   {"standing",
                                    {{"t", "of the whole machine at rest, such as 77F"},
                                     {"spread", "between its parts, 1.5 K by default"},
                                     {"pressure", "read at rest, such as 120psig"},
                                     {"to", "another temperature, such as 90F"}}}}) {
    CLI::App* sub = app.add_subcommand(tool.name, summary_of(tool.name));
    sub->add_option("refrigerant", o.arguments.words_of_name, "such as R290")->required();
    for (const auto& [key, help] : tool.options) sub->add_option(option_name(key), o.properties[key], help);
    add_site(*sub, o);
    add_output(*sub, o);
  }
}

void add_vacuum(CLI::App& app, Options& o) {
  CLI::App* sub = app.add_subcommand("vacuum", summary_of("vacuum"));
  sub->add_option("--pressure", o.properties["pressure"], "such as 500micron");
  sub->add_option("--t", o.properties["t"], "of the water instead, such as 40F");
  sub->add_option("--wall", o.properties["wall"], "of the circuit's coldest wall, such as 60F");
  add_site(*sub, o);
  add_output(*sub, o);
}

void add_quantity(CLI::App& app, Options& o) {
  CLI::App* sub = app.add_subcommand("quantity", summary_of("quantity"));
  sub->add_option("kind", o.properties["kind"], "such as pressure, temperature, mass or time")->required();
  sub->add_option("text", o.properties["text"], "such as -3in, '3 1/4 oz' or 'minus three inches'")
      ->required();
  sub->add_option("--default-unit", o.properties["default_unit"],
                  "of a bare number, such as psig; by kind without it");
  add_site(*sub, o);
  add_output(*sub, o);
}

void add_memory_file(CLI::App& app, Options& o) {
  app.add_option("--memory", o.arguments.memory, "a memory file, of the command memory");
}

void add_call(CLI::App& app, Options& o, const char* name) {
  CLI::App* sub = app.add_subcommand(name, summary_of(name));
  sub->add_option("call", o.arguments.file, "a call file, or - for standard input")->required();
  sub->add_option("--seed", o.arguments.seed, "of the random streams; the same seed gives the same answer")
      ->check(CLI::NonNegativeNumber);
  sub->add_option("--population", o.arguments.population, "machines for each cause in the first round");
  add_memory_file(*sub, o);
  add_output(*sub, o);
}

void add_memory(CLI::App& app, Options& o) {
  CLI::App* sub = app.add_subcommand("memory", summary_of("memory"));
  sub->add_option("calls", o.arguments.files, "files of finished calls, or - for standard input");
  add_memory_file(*sub, o);
  sub->add_option("-o,--output", o.arguments.output, "the memory file to write");
  sub->add_option(
         "--forget", o.arguments.forget,
         "such as 'unit=Nordhylla / NK 40 / 7', 'model=...', 'call=...' or 'unit=...; quantity=superheat'")
      ->allow_extra_args(false);
  sub->add_option("--correct", o.arguments.correct, "such as 'unit=...; quantity=evaporator_td; value=18F'")
      ->allow_extra_args(false);
  sub->add_option("--ask-back", o.arguments.ask_back, "what was forgotten and may be remembered again")
      ->allow_extra_args(false);
  sub->add_flag("--how", o.arguments.how, "print each figure's formula, inputs and sources");
  add_output(*sub, o);
}

void add_procedures(CLI::App& app, Options& o) {
  for (const ProcedureOptions& row : procedure_options()) {
    const std::string name(row.name);
    CLI::App* sub = app.add_subcommand(name, summary_of(name.c_str()));
    sub->add_option("call,--call", o.arguments.file,
                    "a call file, or - for standard input: fills in what isn't given");
    for (const auto& [key, help] : row.options)
      sub->add_option(option_name(std::string(key)), o.properties[std::string(key)], std::string(help));
    if (!row.reading.empty()) {
      std::string form = "such as \"10 min";
      for (const std::string_view key : row.reading) form += ", " + std::string(key);
      sub->add_option("--reading", o.arguments.readings, form + "\", in the order of time; again for each")
          ->allow_extra_args(false);
      sub->add_option("--run", o.arguments.run, "of a call that has it several times: which, 1 by default");
    }
    if (row.name == "proof") add_memory_file(*sub, o);
    sub->add_flag("--how", o.arguments.how, "print each figure's formula, inputs and sources");
    add_site(*sub, o);
    add_output(*sub, o);
  }
}

void add_record(CLI::App& app, Options& o) {
  add_call(app, o, "record");
  CLI::App* sub = app.get_subcommand("record");
  sub->add_option("--for", o.properties["for"], "customer or shop")
      ->check(CLI::IsMember({"customer", "shop"}));
  sub->add_option("--format", o.arguments.format, "pdf (the default), html, json or csv")
      ->check(CLI::IsMember({"pdf", "html", "json", "csv"}));
  sub->add_option("--paper", o.arguments.paper, "a4 or letter; without it, letter for US units, else a4")
      ->check(CLI::IsMember({"a4", "letter"}));
  sub->add_option("--shop", o.arguments.shop, "a JSON file with the shop's name, address, phone and licence");
  sub->add_option("-o,--output", o.arguments.output, "the file to write; without it, standard output");
}

/// What the command is called for: the call at the door, a step of it, or the debrief.
const char* practice_use_case(const Arguments& a) {
  if (a.fields.contains("decision")) return "practice_debrief";
  return a.actions.empty() ? "practice_call" : "practice_step";
}

void add_practice(CLI::App& app, Options& o) {
  CLI::App* sub = app.add_subcommand("practice", summary_of("practice_call"));
  sub->add_option("actions", o.arguments.actions,
                  "what was done so far, such as condenser_face suction_pressure");
  sub->add_option("--seed", o.arguments.seed, "which machine: the same seed gives the same one")
      ->check(CLI::NonNegativeNumber);
  sub->add_option("--level", o.properties["level"], "first (the default), working_day or hard");
  sub->add_option("--cabinet", o.properties["cabinet"], "its kind, drawn without it");
  sub->add_option("--recorded", o.properties["recorded"],
                  "a call of the full virtual cabinet, instead of --seed");
  sub->add_option("--decide", o.properties["decision"], "what you take it to be, such as low_charge");
  sub->add_option("--population", o.arguments.population, "of the debrief: machines for each cause");
  add_output(*sub, o);
}

void add_traces(CLI::App& app, Options& o) {
  CLI::App* layout = app.add_subcommand("trace_layout", summary_of("trace_layout"));
  layout->add_option("file", o.arguments.file, "a logged file, or - for standard input")->required();
  layout->add_flag("--json", o.arguments.json, "print the layout as JSON, to correct and give to trace");
  add_language(*layout, o);
  CLI::App* sub = app.add_subcommand("trace", summary_of("trace"));
  sub->add_option("files", o.arguments.files, "logged files of one machine, or - for standard input")
      ->required();
  sub->add_option("--layout", o.arguments.layouts,
                  "a file's layout, as trace_layout --json prints it; again for each")
      ->allow_extra_args(false);
  sub->add_option("--into", o.arguments.into, "a call file to add the evidence to");
  sub->add_option("--picture", o.arguments.output, "an SVG file to draw the trace and its phases in");
  add_site(*sub, o);
  add_output(*sub, o);
}

void add_rest(CLI::App& app, Options& o) {
  CLI::App* example = app.add_subcommand("example", summary_of("example"));
  example->add_flag("--words", o.arguments.words, "print the words a call file may use instead");
  example->add_flag("--json", o.arguments.json, "print both as JSON");
  add_language(*example, o);
  CLI::App* vocabulary = app.add_subcommand("vocabulary", summary_of("vocabulary"));
  vocabulary->add_flag("--json", o.arguments.json, "as without it: this is JSON always");
  add_language(*vocabulary, o);
  CLI::App* schema = app.add_subcommand("schema", summary_of("schema"));
  schema->add_option("name", o.arguments.schema_name,
                     "such as call or diagnose.answer; without it, the names");
  schema->add_flag("--json", o.arguments.json, "print as the use case answers it");
  add_language(*schema, o);
}

void collect(const CLI::App& app, Options& o) {
  for (const CLI::App* sub : app.get_subcommands()) o.arguments.command = sub->get_name();
  o.arguments.values = joined(o.arguments.values);
  // "carbon dioxide" and a composition need no quotes.
  for (const std::string& word : o.arguments.words_of_name)
    o.arguments.refrigerant += (o.arguments.refrigerant.empty() ? "" : " ") + word;
  auto put = [&](const char* key, const std::string& value) {
    if (!value.empty()) o.arguments.fields[key] = value;
  };
  put("units", o.units);
  put("altitude", o.altitude);
  put("barometer", o.barometer);
  for (const auto& [key, value] : o.properties) put(key.c_str(), value);
  if (o.arguments.command == "practice") o.arguments.command = practice_use_case(o.arguments);
  if (o.arguments.command == "chart" && is_call_file(o.arguments.refrigerant))
    o.arguments.file = std::exchange(o.arguments.refrigerant, "");
}

}  // namespace

Parsed parse_arguments(int count, char** words) {
  CLI::App app{
      "Coldwright: diagnosis for sealed capillary-tube refrigeration. Readings in, cause and next reading "
      "out."};
  app.set_version_flag("--version", "coldwright " + std::string(service::program_version) + ", data " +
                                        service::data_version());
  app.set_help_flag("--help", "print this help");  // -h stays free: it would look like an enthalpy
  app.require_subcommand(1);
  app.footer("Start with: coldwright example > my-call.json; edit it; coldwright diagnose my-call.json");
  Options o;
  add_saturation(app, o);
  add_state(app, o);
  add_catalogue(app, o);
  add_chart(app, o);
  add_card(app, o);
  add_leak(app, o);
  add_tools(app, o);
  add_vacuum(app, o);
  add_quantity(app, o);
  add_call(app, o, "expect");
  add_call(app, o, "diagnose");
  add_record(app, o);
  add_procedures(app, o);
  add_memory(app, o);
  add_practice(app, o);
  add_traces(app, o);
  add_rest(app, o);
  app.add_subcommand("listen", kListenSummary);  // for --help alone: main() gives its words to listen_main()
  Parsed parsed;
  if (count > 1 && words[1][0] != '-' && std::string_view(words[1]) != "practice" &&
      service::find_use_case(words[1]) == nullptr) {
    const auto problem = service::no_such_use_case(words[1]);
    return {{}, true, 2, "coldwright: " + to_text(problem) + "\n"};
  }
  try {
    app.parse(count, words);
    collect(app, o);
    parsed.arguments = std::move(o.arguments);
  } catch (const CLI::ParseError& error) {
    std::ostringstream out, trouble;
    parsed.stop = true;
    // exit() of the library only words what it has to say; nothing ends here, and no test is skipped by it.
    parsed.status = app.exit(error, out, trouble) == 0 ? 0 : 2;
    parsed.message = parsed.status == 0 ? out.str()
                                        : "coldwright: command line: " + std::string(error.what()) +
                                              "; try coldwright --help\n";
  }
  return parsed;
}

}  // namespace coldwright::cli

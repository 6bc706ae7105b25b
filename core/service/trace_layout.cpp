// Use case "trace_layout": a logged file's first lines in, how it is to be read out, with what stays open as
// questions. What comes back may be changed and given to "trace".
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "calls/strict_json.hpp"
#include "service/request.hpp"
#include "service/shown_json.hpp"
#include "service/trace_parts.hpp"
#include "service/trace_work.hpp"
#include "service/use_case_runs.hpp"
#include "traces/cells.hpp"
#include "traces/decode.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;
using traces::Layout;
using traces::What;

std::string separator_word(char separator) {
  switch (separator) {
    case '\t':
      return "tab";
    case ' ':
      return "blanks";
    case ';':
      return "semicolon";
    case '|':
      return "bar";
    default:
      return "comma";
  }
}

std::optional<char> separator_from(std::string_view word) {
  for (const char c : {'\t', ' ', ';', '|', ','})
    if (separator_word(c) == word) return c;
  return std::nullopt;
}

Problem wrong(std::string_view field, const json& given, std::string_view allowed) {
  return {std::string(field), base::quoted(calls::dump(given), 40), std::string(allowed),
          "a layout is followed to the letter, so it has to be whole"};
}

std::string text_of(const json& object, const char* key) {
  const auto found = object.find(key);
  const auto* text = found == object.end() ? nullptr : found->get_ptr<const std::string*>();
  return text == nullptr ? "" : *text;
}

json option_json(const std::string& value, const Wording& wording) {
  std::string label = value;
  for (const char* section : {"trace_what", "trace_time_forms"})
    if (wording.has(section, value)) label = wording.word(section, value);
  return {{"value", value}, {"label", label}};
}

/// The first rows of data in their cells, for the person who confirms.
json preview(std::string_view head, const Layout& layout) {
  traces::Decoder decoder(layout.encoding);
  decoder.feed(head);
  json rows = json::array();
  std::vector<std::string_view> cells;
  std::string store;
  for (int i = 0; rows.size() < 6;) {
    const auto line = decoder.line();
    if (!line) break;
    if (i++ < layout.header_rows || line->empty()) continue;
    traces::split(*line, layout.separator, cells, store);
    json row = json::array();
    for (const std::string_view cell : cells) row.push_back(std::string(cell.substr(0, 60)));
    rows.push_back(std::move(row));
  }
  return rows;
}

/// What a column may hold, in which units, and how time may be written: for a screen that lets them be
/// chosen.
json choices(const Wording& wording) {
  json columns = json::array(), forms = json::array();
  for (const auto& row : traces::what_table()) {
    json one = option_json(std::string(row.word), wording);
    one["units"] = json::array();
    for (const std::string_view unit : traces::units_of(row.what)) one["units"].push_back(unit);
    columns.push_back(std::move(one));
  }
  for (int form = 0; form <= static_cast<int>(traces::TimeForm::time_of_day); ++form)
    forms.push_back(option_json(std::string(traces::to_word(static_cast<traces::TimeForm>(form))), wording));
  return {{"columns", std::move(columns)}, {"time_forms", std::move(forms)}};
}

}  // namespace

json layout_json(const Layout& layout, const Wording& wording) {
  json columns = json::array(), sensors = json::array();
  for (const auto& column : layout.columns) {
    const std::string what(traces::info(column.what).word);
    columns.push_back({{"what", what},
                       {"label", wording.word("trace_what", what)},
                       {"header", column.header},
                       {"unit", column.unit},
                       {"confidence", column.confidence},
                       {"why", column.why.empty() ? "" : wording.word("trace_why", column.why)}});
  }
  for (const auto& sensor : layout.sensors) {
    const std::string what(traces::info(sensor.what).word);
    sensors.push_back({{"name", sensor.name},
                       {"what", what},
                       {"label", wording.word("trace_what", what)},
                       {"unit", sensor.unit}});
  }
  return {{"encoding", traces::to_word(layout.encoding)},
          {"separator", separator_word(layout.separator)},
          {"decimal", layout.decimal == ',' ? "comma" : "point"},
          {"header_rows", layout.header_rows},
          {"time",
           {{"form", traces::to_word(layout.time.form)},
            {"seconds_per_unit", layout.time.seconds_per_unit},
            {"open", layout.time.open}}},
          {"columns", std::move(columns)},
          {"sensors", std::move(sensors)}};
}

Result<Layout> layout_from(const json& given, std::string_view field) {
  if (!given.is_object()) return wrong(field, given, "a layout as trace_layout answers it");
  Layout out;
  const auto encoding = traces::encoding_from_word(text_of(given, "encoding"));
  const auto separator = separator_from(text_of(given, "separator"));
  if (given.contains("encoding") && !encoding)
    return wrong("encoding", given["encoding"], "utf8, utf16_le, utf16_be or latin1");
  if (!separator)
    return wrong("separator", given.value("separator", json()), "comma, semicolon, tab, bar or blanks");
  out.encoding = encoding.value_or(traces::Encoding::utf8);
  out.separator = *separator;
  const std::string decimal = text_of(given, "decimal");
  if (decimal != "point" && decimal != "comma")
    return wrong("decimal", given.value("decimal", json()), "point or comma");
  out.decimal = decimal == "comma" ? ',' : '.';
  const json rows = given.value("header_rows", json(0));
  if (!rows.is_number_integer() || rows.get<long long>() < 0 || rows.get<long long>() > 100000)
    return wrong("header_rows", rows, "a whole number from 0 to 100000");
  out.header_rows = rows.get<int>();
  const json time = given.value("time", json::object());
  const auto form = traces::time_form_from_word(time.is_object() ? text_of(time, "form") : "");
  if (!form)
    return wrong("time", time,
                 "a form: year_first, day_first, month_first, epoch, serial_days, elapsed or time_of_day");
  out.time.form = *form;
  const json unit = time.value("seconds_per_unit", json(1));
  if (!unit.is_number() || !(unit.get<double>() > 0) || unit.get<double>() > 1e6)
    return wrong("seconds_per_unit", unit, "a number above zero");
  out.time.seconds_per_unit = unit.get<double>();
  const json open = time.value("open", json(false));
  if (!open.is_boolean()) return wrong("open", open, "true or false");
  out.time.open = open.get<bool>();
  const json columns = given.value("columns", json());
  if (!columns.is_array() || columns.empty() || columns.size() > 500)
    return wrong("columns", columns, "a list of columns");
  const auto what_of = [](const json& one) { return traces::what_from_word(text_of(one, "what")); };
  for (const json& one : columns) {
    const auto what = one.is_object() ? what_of(one) : std::nullopt;
    if (!what) return wrong("columns", one, "what a column holds, such as time, power or box_temp");
    out.columns.push_back({*what, text_of(one, "header"), text_of(one, "unit"), 1, ""});
  }
  for (const json& one : given.value("sensors", json::array())) {
    const auto what = one.is_object() ? what_of(one) : std::nullopt;
    if (!what) return wrong("sensors", one, "what a sensor reads, such as power or box_temp");
    out.sensors.push_back({text_of(one, "name"), *what, text_of(one, "unit")});
  }
  if (auto problem = traces::check(out)) return *problem;
  return out;
}

json question_json(const traces::Question& question, const Layout& layout, const Wording& wording) {
  std::string name = question.sensor;
  if (name.empty() && question.column) {
    const auto& header = layout.columns[static_cast<std::size_t>(*question.column)].header;
    name = header.empty() ? std::to_string(*question.column + 1) : header;
  }
  json options = json::array();
  for (const std::string& option : question.options) {
    const bool again = !options.empty() && option == question.options.front();
    if (!again) options.push_back(option_json(option, wording));
  }
  return {{"key", question.key},
          {"text", wording.phrase("trace_questions", question.key, {{"column", name}})},
          {"column", question.column ? json(*question.column) : json()},
          {"sensor", question.sensor.empty() ? json() : json(question.sensor)},
          {"options", std::move(options)}};
}

std::string request_with_head(std::string_view head, std::string_view name) {
  traces::Decoder decoder(traces::guess_encoding(head));
  decoder.feed(head);
  std::string text;
  while (const auto line = decoder.line()) text.append(*line) += '\n';
  if (const auto rest = decoder.rest()) text += *rest;
  if (const auto broken = base::first_invalid_utf8(text)) text.resize(*broken);
  return calls::dump({{"text", text}, {"name", name}});
}

Result<std::string> run_trace_layout(std::string_view text, const Context& context) {
  auto request = Request::read(text, {"text", "name", "separator", "decimal"});
  if (!request) return request.problem();
  const std::string head = request->required_text("text", "a file's first lines");
  request->text("name");
  traces::Said said;
  if (const auto word = request->text("separator")) {
    said.separator = separator_from(*word);
    if (!said.separator) return wrong("separator", *word, "comma, semicolon, tab, bar or blanks");
  }
  if (const auto word = request->text("decimal")) {
    if (*word != "point" && *word != "comma") return wrong("decimal", *word, "point or comma");
    said.decimal = *word == "comma" ? ',' : '.';
  }
  if (request->problem()) return *request->problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const auto guess = traces::guess(std::string_view(head).substr(0, traces::head_bytes), said);
  if (!guess) return guess.problem();
  json questions = json::array();
  for (const auto& one : guess->questions) questions.push_back(question_json(one, guess->layout, *wording));
  const auto open = traces::check(guess->layout);
  json answer = {{"about", about(std::nullopt, {"our-estimate", "common-practice"})},
                 {"layout", layout_json(guess->layout, *wording)},
                 {"questions", std::move(questions)},
                 {"complete", !open},
                 {"preview", preview(head, guess->layout)},
                 {"choices", choices(*wording)}};
  return calls::dump(answer);
}

}  // namespace coldwright::service

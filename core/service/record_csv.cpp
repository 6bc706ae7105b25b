// The facts of a record as a table for spreadsheets (RFC 4180).
#include <fmt/format.h>

#include <algorithm>

#include "service/record_parts.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

bool plain_number(std::string_view text) {
  if (!text.empty() && (text.front() == '-' || text.front() == '+')) text.remove_prefix(1);
  return !text.empty() && text.find_first_not_of("0123456789.") == std::string_view::npos;
}

/// One cell: control characters become blanks, what a spreadsheet would run becomes text, quotes are doubled.
std::string cell(std::string text) {
  for (char& c : text)
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) c = ' ';
  const std::size_t first = text.find_first_not_of(' ');
  if (first != std::string::npos && std::string_view("=+-@").find(text[first]) != std::string_view::npos &&
      !plain_number(text))
    text.insert(0, "'");
  if (text.find_first_of(",\"") == std::string::npos &&
      (text.empty() || (text.front() != ' ' && text.back() != ' ')))
    return text;
  std::string out = "\"";
  for (const char c : text) out += c == '"' ? std::string("\"\"") : std::string(1, c);
  return out + "\"";
}

class Table {
 public:
  void row(std::string_view section, const std::string& item, const std::string& value,
           const std::string& unit, const std::string& si, const std::string& time,
           const std::string& source) {
    const std::string* cells[] = {&item, &value, &unit, &si, &time, &source};
    text_ += cell(std::string(section));
    for (const std::string* one : cells) text_ += "," + cell(*one);
    text_ += "\r\n";
  }
  /// A text of the call; nothing is written for an empty one.
  void words(std::string_view section, const std::string& item, const std::string& value, const json& entry) {
    if (!value.empty()) row(section, item, value, "", "", text_in(entry, "at"), text_in(entry, "id"));
  }
  /// {"si", "value", "unit"}
  void amount(std::string_view section, const std::string& item, const json& quantity, const json& entry) {
    const auto si = number_in(quantity, "si"), value = number_in(quantity, "value");
    if (!si) return words(section, item, text_in(quantity, "text"), entry);
    row(section, item, value ? fmt::format("{:.6g}", *value) : text_in(quantity, "text"),
        text_in(quantity, "unit"), fmt::format("{:.9g}", *si), text_in(entry, "at"), text_in(entry, "id"));
  }
  std::string text() && { return std::move(text_); }

 private:
  std::string text_ = "section,item,value,unit,si,time,source\r\n";
};

void heading(Table& table, const json& data) {
  const json &call = object_in(data, "call"), &unit = object_in(data, "unit"),
             &shop = object_in(data, "shop");
  const json none;
  for (const char* key : {"name", "address", "phone", "licence"})
    table.words("shop", key, text_in(shop, key), none);
  for (const char* key : {"name", "from", "to"}) table.words("call", key, text_in(call, key), none);
  for (const json& person : list_in(call, "people"))
    if (person.is_string()) table.words("call", "by", person.get<std::string>(), none);
  for (const char* key : {"cabinet", "maker", "model", "serial", "refrigerant", "safety_class",
                          "rated_current", "rated_voltage"})
    table.words("unit", key, text_in(unit, key), none);
  for (const char* key : {"charge", "set_point", "ambient", "box"})
    if (!object_in(unit, key).empty()) table.amount("unit", key, object_in(unit, key), none);
}

void findings(Table& table, const json& data) {
  const json& findings = object_in(data, "findings");
  const json none;
  table.words("findings", "not diagnosed", text_in(findings, "why_not"), none);
  for (const json& cause : list_in(findings, "causes"))
    table.row("probability", text_in(cause, "cause"),
              fmt::format("{:.4g}", 100 * number_in(cause, "probability").value_or(0)), "%",
              fmt::format("{:.6g}", number_in(cause, "probability").value_or(0)), "", "diagnose");
  for (const json& found : list_in(findings, "found")) {
    table.words("found", text_in(found, "cause"),
                text_in(found, "how").empty() ? "found" : text_in(found, "how"), found);
  }
  for (const json& seen : list_in(data, "observations"))
    table.words("observation", text_in(seen, "subject"), text_in(seen, "value"), seen);
  for (const json& reading : list_in(data, "readings")) {
    if (number_in(reading, "si"))
      table.amount("reading", text_in(reading, "what"), reading, reading);
    else
      table.words("reading", text_in(reading, "what"), text_in(reading, "said"), reading);
  }
}

void work(Table& table, const json& data) {
  for (const json& step : list_in(data, "steps")) {
    const std::string reason = text_in(step, "reason");
    table.words("step", text_in(step, "step"), text_in(step, "state") + (reason.empty() ? "" : ": " + reason),
                step);
  }
  for (const json& one : list_in(data, "work")) table.words("work", "done", text_in(one, "text"), one);
  for (const json& part : list_in(data, "parts")) {
    const std::string detail = text_in(part, "detail"), cost = text_in(part, "cost");
    table.words("part", text_in(part, "part"),
                text_in(part, "action") + (detail.empty() ? "" : ": " + detail), part);
    table.words("cost", text_in(part, "part"), cost, part);
  }
  const json& account = object_in(data, "refrigerant");
  for (const json& moved : list_in(account, "movements")) {
    const std::string cylinder = text_in(moved, "cylinder"), what = text_in(moved, "refrigerant");
    std::string item = text_in(moved, "movement");
    if (!what.empty()) item += ", " + what;
    if (!cylinder.empty()) item += ", " + cylinder;
    table.amount("refrigerant", item, object_in(moved, "mass"), moved);
  }
  for (const auto& [key, sum] : object_in(account, "sums").items())
    table.amount("refrigerant sum", key, sum, json());
}

void proofs(Table& table, const json& data) {
  for (const json& test : list_in(data, "tests")) {
    const std::string name =
        text_in(test, "procedure") + " " + fmt::format("{:.0f}", number_in(test, "run").value_or(1));
    table.words("test", name + ", verdict", text_in(test, "verdict"), json());
    table.words("test", name + ", no verdict", text_in(test, "why_not"), json());
    for (const json& figure : list_in(test, "figures")) {
      const auto si = number_in(figure, "si");
      std::string cited;
      for (const json& key : list_in(figure, "cited"))
        cited += (cited.empty() ? "" : "; ") + key.get<std::string>();
      table.row("figure", name + ", " + text_in(figure, "key"), text_in(figure, "text"),
                text_in(figure, "unit"), si ? fmt::format("{:.9g}", *si) : "", "", cited);
    }
    for (const json& reading : list_in(test, "readings"))
      for (const auto& [key, value] : object_in(reading, "values").items())
        if (value.is_string())
          table.words("test reading", name + ", " + key, value.get<std::string>(), reading);
  }
  for (const json& product : list_in(data, "food")) {
    for (const json& reading : list_in(product, "readings"))
      table.amount("product temperature", text_in(product, "product"), reading, reading);
    const json& history = object_in(product, "history");
    if (const auto above = number_in(history, "seconds_above"))
      table.row("food", text_in(product, "product") + ", time above cold holding",
                fmt::format("{:.0f}", *above / 60), "min", fmt::format("{:.0f}", *above), "", "fda2022");
  }
}

}  // namespace

std::string record_csv(const json& data) {
  Table table;
  heading(table, data);
  findings(table, data);
  work(table, data);
  proofs(table, data);
  const json none;
  for (const json& watch : list_in(data, "watch"))
    table.words("watch", "watch", text_in(watch, "text"), watch);
  for (const json& note : list_in(data, "notes")) table.words("note", "note", text_in(note, "text"), note);
  for (const json& signature : list_in(data, "signatures"))
    table.words("signature", text_in(signature, "role"), text_in(signature, "name"), signature);
  const json& about = object_in(data, "about");
  table.row("about", "program", "coldwright " + text_in(about, "version"), "", "", text_in(data, "made"), "");
  table.row("about", "data", text_in(about, "data"), "", "", "", "");
  return std::move(table).text();
}

}  // namespace coldwright::service

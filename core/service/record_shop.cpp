// What the shop's copy has besides: every reading with its weight, what was looked at, what was inferred,
// every step, the tests' readings, and how each number was reckoned.
#include <algorithm>
#include <charconv>
#include <cmath>

#include "service/record_model.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

std::string weight_text(const json& row, const Wording& wording) {
  const auto log_odds = number_in(row, "log_odds");
  if (!log_odds) return "";
  std::string text = base::number_text(std::abs(*log_odds), 2, wording.numerals());
  if (std::abs(*log_odds) < 0.005) return text;
  return (*log_odds < 0 ? "-" : "+") + text;
}

std::string day_first(const json& row, std::string& day) {
  const std::string at = text_in(row, "at");
  std::string text = shown_time(at, day);
  if (!at.empty()) day = at;
  return text;
}

void readings(json& blocks, const json& data, const Wording& wording) {
  const auto word = [&](const char* key) { return wording.word("record", key); };
  std::vector<std::vector<std::string>> rows;
  std::string day;
  for (const json& reading : list_in(data, "readings")) {
    std::string instrument = text_in(reading, "instrument");
    if (const std::string accuracy = text_in(reading, "accuracy"); !accuracy.empty())
      instrument += (instrument.empty() ? "±\u00A0" : ", ±\u00A0") + accuracy;
    const std::string expected = text_in(reading, "expected"), against = text_in(reading, "against");
    rows.push_back({text_in(reading, "label"), text_in(reading, "text"), expected,
                    expected.empty() ? "" : word(against.c_str()), weight_text(reading, wording),
                    text_in(reading, "running_for"), instrument, day_first(reading, day)});
  }
  if (rows.empty()) return;
  blocks.push_back(heading_block(2, word("readings")));
  blocks.push_back(table_block("",
                               {{word("reading"), "left", 2},
                                {word("read"), "right", 1.1},
                                {word("sound"), "right", 1.9},
                                {"", "left", 0.9},
                                {word("weight"), "right", 0.8},
                                {word("running"), "right", 0.9},
                                {word("instrument"), "left", 1.5},
                                {word("when"), "left", 1.3}},
                               rows));
  blocks.push_back({{"kind", "small"}, {"text", word("weight_note")}});
}

void observations(json& blocks, const json& data, const Wording& wording) {
  const auto word = [&](const char* key) { return wording.word("record", key); };
  std::vector<std::vector<std::string>> rows;
  for (const json& seen : list_in(data, "observations"))
    rows.push_back({text_in(seen, "label"), text_in(seen, "value_label"), weight_text(seen, wording)});
  if (!rows.empty())
    blocks.push_back(table_block(
        word("observations"),
        {{word("observation"), "left", 2}, {word("seen"), "left", 3}, {word("weight"), "right", 1}}, rows));
}

void unseen(json& blocks, const json& data, const Wording& wording) {
  const auto word = [&](const char* key) { return wording.word("record", key); };
  std::vector<std::vector<std::string>> rows;
  for (const json& row : list_in(object_in(data, "findings"), "unseen"))
    rows.push_back({text_in(row, "label"), text_in(row, "text"), text_in(row, "sound")});
  if (!rows.empty())
    blocks.push_back(table_block(
        word("unseen"),
        {{word("quantity"), "left", 2}, {word("inferred"), "right", 2}, {word("sound"), "right", 2}}, rows));
  if (!rows.empty()) blocks.back()["narrow"] = true;
}

void lists(json& blocks, const json& data, const Wording& wording) {
  const auto add = [&](const char* title, const json& texts) {
    std::vector<std::string> items;
    for (const json& text : texts)
      items.push_back(text.is_string() ? text.get<std::string>() : text_in(text, "text"));
    if (items.empty()) return;
    blocks.push_back(heading_block(3, wording.word("record", title)));
    blocks.push_back(list_block(items));
  };
  const json& findings = object_in(data, "findings");
  add("suspects", list_in(findings, "suspects"));
  add("remarks", list_in(findings, "remarks"));
  add("notes", list_in(data, "notes"));
}

void steps(json& blocks, const json& data, const Wording& wording) {
  const auto word = [&](const char* key) { return wording.word("record", key); };
  std::vector<std::vector<std::string>> rows;
  std::string day;
  for (const json& step : list_in(data, "steps"))
    rows.push_back({text_in(step, "label"), word(("step_" + text_in(step, "state")).c_str()),
                    text_in(step, "reason"), text_in(step, "by"), day_first(step, day)});
  if (!rows.empty())
    blocks.push_back(table_block(word("steps"),
                                 {{word("step"), "left", 2},
                                  {word("state"), "left", 0.8},
                                  {word("reason"), "left", 3},
                                  {word("by"), "left", 0.8},
                                  {word("when"), "left", 1.3}},
                                 rows));
}

std::string setting_label(const std::string& key, const Wording& wording) {
  if (wording.has("record", "setting_" + key)) return wording.word("record", "setting_" + key);
  for (const char* section : {"inputs", "figures"})
    if (wording.has(section, key)) return wording.word(section, key);
  std::string plain = key;  // a key that nobody worded, as typed but for its joints
  std::replace(plain.begin(), plain.end(), '_', ' ');
  return plain;
}

void settings(json& blocks, const json& test, const Wording& wording) {
  std::string text;
  for (const auto& [key, value] : object_in(test, "settings").items())
    text += (text.empty() ? "" : "; ") + setting_label(key, wording) + " " +
            (value.is_string() ? value.get<std::string>() : "");
  if (text.empty()) return;
  blocks.push_back(paragraph_block(wording.phrase("record", "settings_said", {{"text", text}})));
}

void test_readings(json& blocks, const json& test, const Wording& wording) {
  const auto word = [&](const std::string& key) { return wording.word("record", key); };
  std::vector<std::string> kinds;
  for (const char* key : {"pressure", "temperature", "box", "current", "mass", "flow"})
    for (const json& reading : list_in(test, "readings"))
      if (object_in(reading, "values").contains(key) && (kinds.empty() || kinds.back() != key))
        kinds.push_back(key);
  if (kinds.empty()) return;
  std::vector<TableColumn> columns = {{word("when"), "left", 1.2}};
  for (const std::string& kind : kinds) columns.push_back({word(kind), "right", 1});
  std::vector<std::vector<std::string>> rows;
  std::string day;
  for (const json& reading : list_in(test, "readings")) {
    rows.push_back({day_first(reading, day)});
    for (const std::string& kind : kinds) rows.back().push_back(text_in(object_in(reading, "values"), kind));
  }
  blocks.push_back(table_block("", columns, rows));
  if (columns.size() <= 3) blocks.back()["narrow"] = true;
}

void formulas(json& blocks, const json& data, const Wording& wording) {
  const auto word = [&](const char* key) { return wording.word("record", key); };
  std::vector<std::vector<std::string>> rows;
  for (const json& test : list_in(data, "tests"))
    for (const json& figure : list_in(test, "figures")) {
      std::string source = text_in(figure, "basis_text");
      for (const json& key : list_in(figure, "cited"))
        if (key.is_string() && key != "our-estimate" && key != "common-practice" && key != "from-memory" &&
            key != "computed")  // the basis says these in words
          source += (source.empty() ? "" : ", ") + key.get<std::string>();
      const std::string inputs = text_in(figure, "symbols");
      rows.push_back({text_in(test, "label") + ": " + text_in(figure, "label"), text_in(figure, "text"),
                      text_in(figure, "formula") + (inputs.empty() ? "" : "\n" + inputs), source});
    }
  if (rows.empty()) return;
  blocks.push_back(heading_block(2, word("formulas")));
  blocks.push_back(table_block("",
                               {{word("figure"), "left", 2.1},
                                {word("value"), "left", 1.2},
                                {word("formula"), "left", 4},
                                {word("origin"), "left", 1.6}},
                               rows));
}

/// Of "<svg ... viewBox="0 0 500 300" ...>".
std::pair<double, double> picture_size(const std::string& svg) {
  const std::string name = "viewBox=\"0 0 ";
  const std::size_t at = svg.find(name);
  if (at == std::string::npos) return {0, 0};
  double width = 0, height = 0;
  const char* end = svg.data() + svg.size();
  const auto first = std::from_chars(svg.data() + at + name.size(), end, width);
  if (first.ec != std::errc() || first.ptr == end) return {0, 0};
  std::from_chars(first.ptr + 1, end, height);
  return {width, height};
}

}  // namespace

void shop_blocks(json& blocks, const json& data, const RecordSource& source, const RecordPage& page) {
  const Wording& wording = source.wording;
  readings(blocks, data, wording);
  observations(blocks, data, wording);
  unseen(blocks, data, wording);
  const auto size = picture_size(page.cycle_svg);
  if (size.first > 0)
    blocks.push_back({{"kind", "figure"},
                      {"svg", page.cycle_svg},
                      {"caption", wording.word("record", "chart")},
                      {"width", size.first},
                      {"height", size.second}});
  lists(blocks, data, wording);
  steps(blocks, data, wording);
  for (const json& test : list_in(data, "tests")) {
    json own = json::array();
    test_readings(own, test, wording);
    settings(own, test, wording);
    if (own.empty()) continue;
    blocks.push_back(heading_block(3, text_in(test, "label")));
    for (json& block : own) blocks.push_back(std::move(block));
  }
  formulas(blocks, data, wording);
}

}  // namespace coldwright::service

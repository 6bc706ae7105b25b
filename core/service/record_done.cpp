// The record's sections on what was done and used, what was proved, and the food.
#include <algorithm>
#include <cmath>

#include "drawing/line_plot.hpp"
#include "service/record_model.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

/// What a customer is told of: tests that prove something about the machine. The rest is the shop's.
constexpr std::string_view kProofs[] = {"capillary", "tightness", "tracer", "evacuation",
                                        "rise",      "charging",  "proof"};

/// Of these the picture tells a customer something; the shop gets all.
constexpr std::string_view kPictured[] = {"proof"};

template <std::size_t N>
bool among(const std::string_view (&list)[N], std::string_view word) {
  return std::find(std::begin(list), std::end(list), word) != std::end(list);
}

void parts(json& blocks, const json& data, const Wording& wording) {
  const auto word = [&](const char* key) { return wording.word("record", key); };
  std::vector<std::vector<std::string>> rows;
  bool costs = false, details = false;
  for (const json& part : list_in(data, "parts")) {
    costs = costs || !text_in(part, "cost").empty();
    details = details || !text_in(part, "detail").empty();
  }
  for (const json& part : list_in(data, "parts")) {
    std::vector<std::string> row = {text_in(part, "label"), text_in(part, "action_label")};
    if (details) row.push_back(text_in(part, "detail"));
    if (costs) row.push_back(text_in(part, "cost"));
    rows.push_back(std::move(row));
  }
  if (rows.empty()) return;
  std::vector<TableColumn> columns = {{word("part"), "left", 1.2}, {word("action"), "left", 0.9}};
  if (details) columns.push_back({word("detail"), "left", 2.4});
  if (costs) columns.push_back({word("cost"), "right", 0.8});
  blocks.push_back(table_block(word("parts"), columns, rows));
}

void steps_left(json& blocks, const json& data, const Wording& wording) {
  std::vector<std::string> skipped, open;
  for (const json& step : list_in(data, "steps")) {
    const std::string state = text_in(step, "state"), label = text_in(step, "label");
    if (state == "skipped")
      skipped.push_back(
          wording.phrase("record", "skipped_step", {{"step", label}, {"reason", text_in(step, "reason")}}));
    if (state == "open") open.push_back(label);
  }
  if (!skipped.empty()) {
    blocks.push_back(heading_block(3, wording.word("record", "skipped")));
    blocks.push_back(list_block(skipped));
  }
  if (!open.empty())
    blocks.push_back(
        paragraph_block(wording.phrase("record", "open_steps", {{"steps", wording.listed(open, "and")}})));
}

/// What each cylinder took in and gave out; for a customer only where one was used more than once.
void by_cylinder(json& blocks, const json& account, const Wording& wording, bool shop) {
  const auto word = [&](const char* key) { return wording.word("record", key); };
  const json& cylinders = list_in(account, "cylinders");
  std::size_t uses = 0;
  for (const json& moved : list_in(account, "movements")) {
    const std::string kind = text_in(moved, "movement");
    uses += !text_in(moved, "cylinder").empty() && (kind == "recovered" || kind == "charged") ? 1 : 0;
  }
  if (cylinders.empty() || (!shop && uses == cylinders.size())) return;
  std::vector<std::vector<std::string>> rows;
  const auto grams = [](const json& sum) {
    return number_in(sum, "si").value_or(0) > 0 ? text_in(sum, "grams") : std::string();
  };
  for (const json& one : cylinders)
    rows.push_back({text_in(one, "cylinder"), text_in(one, "refrigerant"), grams(object_in(one, "in")),
                    grams(object_in(one, "out"))});
  for (std::size_t column : {2, 3}) align_decimals(rows, column, wording.numerals().decimal);
  blocks.push_back(table_block(word("by_cylinder"),
                               {{word("cylinder"), "left", 2},
                                {word("refrigerant"), "left", 1.4},
                                {word("taken_in"), "right", 1.3},
                                {word("given_out"), "right", 1.3}},
                               rows));
  blocks.back()["narrow"] = true;
}

void account(json& blocks, const json& data, const Wording& wording, bool shop) {
  const auto word = [&](const char* key) { return wording.word("record", key); };
  const json& account = object_in(data, "refrigerant");
  blocks.push_back(heading_block(2, word("account")));
  const json& movements = list_in(account, "movements");
  if (movements.empty()) {
    blocks.push_back(paragraph_block(word("nothing_moved")));
    return;
  }
  const bool us = text_in(object_in(data, "call"), "units") == "us";
  std::vector<std::vector<std::string>> rows;
  const auto add = [&](const std::string& when, const std::string& what, const std::string& cylinder,
                       const std::string& refrigerant, const json& mass) {
    std::vector<std::string> row = {when, what, cylinder, refrigerant};
    if (us) row.push_back(text_in(mass, "text"));
    row.push_back(text_in(mass, "grams"));
    rows.push_back(std::move(row));
  };
  std::string day;
  for (const json& moved : movements) {
    const std::string at = text_in(moved, "at");
    add(shown_time(at, day), text_in(moved, "label"), text_in(moved, "cylinder"),
        text_in(moved, "refrigerant"), object_in(moved, "mass"));
    if (!at.empty()) day = at;
  }
  std::size_t sums = 0;
  for (const char* kind : {"recovered", "released", "charged", "lost"}) {
    const bool any = std::any_of(movements.begin(), movements.end(),
                                 [&](const json& moved) { return text_in(moved, "movement") == kind; });
    if (!any) continue;
    add("", word((std::string("sum_") + kind).c_str()), "", "", object_in(object_in(account, "sums"), kind));
    ++sums;
  }
  std::vector<TableColumn> columns = {{word("when"), "left", 1.3},
                                      {word("movement"), "left", 2},
                                      {word("cylinder"), "left", 1.4},
                                      {word("refrigerant"), "left", 1.2}};
  if (us) columns.push_back({word("amount"), "right", 0.8});
  columns.push_back({word("grams"), "right", 0.8});
  align_decimals(rows, columns.size() - 1, wording.numerals().decimal);
  blocks.push_back(table_block("", columns, rows, sums));
  by_cylinder(blocks, account, wording, shop);
}

drawing::PlotLine::Kind line_kind(const std::string& word) {
  using Kind = drawing::PlotLine::Kind;
  return word == "predicted" ? Kind::predicted
         : word == "low"     ? Kind::low
         : word == "high"    ? Kind::high
         : word == "limit"   ? Kind::limit
                             : Kind::measured;
}

std::string axis_label(const json& axis) {
  const std::string unit = text_in(axis, "unit");
  return text_in(axis, "label") + (unit.empty() ? "" : ", " + unit);
}

/// One procedure's curve as a figure; none where nothing was read: a course foretold alone proves nothing.
void figure(json& blocks, const json& curve, const std::string& test, const Wording& wording) {
  drawing::LinePlot plot;
  plot.x_label = axis_label(object_in(curve, "x"));
  plot.y_label = axis_label(object_in(curve, "y"));
  plot.band_label = wording.word("record", "band");
  plot.numerals = wording.numerals();
  for (const json& line : list_in(curve, "lines")) {
    drawing::PlotLine drawn{line_kind(text_in(line, "kind")), text_in(line, "label"), {}};
    for (const json& point : list_in(line, "points"))
      if (point.is_array() && point.size() == 2 && point[0].is_number() && point[1].is_number())
        drawn.points.push_back({point[0].get<double>(), point[1].get<double>()});
    plot.lines.push_back(std::move(drawn));
  }
  const bool read = std::any_of(plot.lines.begin(), plot.lines.end(), [](const drawing::PlotLine& line) {
    return line.kind == drawing::PlotLine::Kind::measured && !line.points.empty();
  });
  if (!read) return;
  const std::string svg = drawing::draw(plot);
  if (svg.empty()) return;
  blocks.push_back({{"kind", "figure"},
                    {"svg", svg},
                    {"caption", test + ": " + text_in(curve, "label")},
                    {"width", plot.width},
                    {"height", plot.height}});
}

std::string product_name(const json& product, const Wording& wording) {
  const std::string name = text_in(product, "product");
  return name.empty() ? wording.word("record", "food_any") : name;
}

std::string food_text(const json& product, const Wording& wording) {
  const json& history = object_in(product, "history");
  const json& readings = list_in(product, "readings");
  if (history.empty()) return product_name(product, wording) + ": " + text_in(product, "problem");
  const auto say = [&](const char* key, Wording::Filling filling) {
    return wording.phrase("record", key, filling);
  };
  const std::string from = text_in(readings.front(), "at"), to = text_in(readings.back(), "at");
  const std::string name = product_name(product, wording),
                    warmest = text_in(object_in(history, "warmest"), "text");
  const std::string limit = text_in(object_in(history, "limit"), "text"),
                    six = text_in(object_in(history, "six_hour_limit"), "text");
  std::string text =
      readings.size() == 1
          ? say("food_once", {{"product", name}, {"from", shown_time(from)}, {"warmest", warmest}})
          : say("food_readings", {{"product", name},
                                  {"count", std::to_string(readings.size())},
                                  {"from", shown_time(from)},
                                  {"to", shown_time(to, from)},
                                  {"warmest", warmest}});
  const std::string verdict = text_in(history, "verdict");
  const auto seconds = [&](const char* key) { return number_in(history, key).value_or(0); };
  const auto span = [&](const char* key) { return shown_span(seconds(key), wording); };
  if (verdict == "never") {
    text += " " + say("food_never", {{"limit", limit}});
  } else {
    if (readings.size() > 1)
      text += " " + say("food_above", {{"limit", limit}, {"above", span("seconds_above")}});
    const bool one = seconds("seconds_above") - seconds("longest_seconds_above") < 30;
    if (readings.size() > 1)
      text +=
          " " + say(one ? "food_possible" : "food_longest", {{"longest", span("longest_seconds_above")},
                                                             {"possible", span("longest_seconds_possible")}});
    if (flag_in(history, "above_at_first")) text += " " + wording.word("record", "food_before");
    if (flag_in(history, "above_at_last")) text += " " + wording.word("record", "food_after");
  }
  if (seconds("longest_gap_seconds") > 1800)  // as often as hand readings come (our-estimate)
    text += " " + say("food_gap", {{"gap", span("longest_gap_seconds")}});
  if (verdict != "never") text += " " + say(("food_" + verdict).c_str(), {{"six", six}});
  return text;
}

}  // namespace

void done_blocks(json& blocks, const json& data, const Wording& wording, bool shop) {
  blocks.push_back(heading_block(2, wording.word("record", "done")));
  std::vector<std::string> work;
  for (const json& one : list_in(data, "work")) work.push_back(text_in(one, "text"));
  if (!work.empty()) blocks.push_back(list_block(work));
  parts(blocks, data, wording);
  if (work.empty() && list_in(data, "parts").empty())
    blocks.push_back(paragraph_block(wording.word("record", "nothing_done")));
  steps_left(blocks, data, wording);
  account(blocks, data, wording, shop);
}

void proved_blocks(json& blocks, const json& data, const RecordSource& source, bool shop) {
  const Wording& wording = source.wording;
  blocks.push_back(heading_block(2, wording.word("record", "proved")));
  json verdicts = json::array(), figures = json::array();
  const json& tests = list_in(data, "tests");
  for (std::size_t i = 0; i < tests.size(); ++i) {
    const json& test = tests[i];
    const std::string procedure = text_in(test, "procedure");
    if (!shop && !among(kProofs, procedure)) continue;
    std::string label = text_in(test, "label");
    if (number_in(test, "run").value_or(1) > 1)
      label = wording.phrase(
          "record", "run",
          {{"test", label}, {"number", std::to_string(std::lround(number_in(test, "run").value_or(1)))}});
    std::string text = text_in(test, "verdict");
    if (!flag_in(test, "answered"))
      text = wording.phrase("record", "test_failed", {{"why", text_in(test, "why_not")}});
    if (text.empty()) text = wording.word("record", "no_verdict");
    json lines = json::array();
    if (shop)
      for (const json& said : list_in(test, "statements")) lines.push_back(said);
    for (const json& said : list_in(test, "asks"))
      if (said.is_string())
        lines.push_back(wording.phrase("record", "asked", {{"text", said.get<std::string>()}}));
    verdicts.push_back({{"label", label}, {"text", text}, {"lines", lines}});
    if (i < source.tests.size() && (shop || among(kPictured, procedure)))
      for (const json& curve : list_in(source.tests[i].answer, "curves"))
        figure(figures, curve, label, wording);
  }
  if (verdicts.empty())
    blocks.push_back(paragraph_block(wording.word("record", "nothing_proved")));
  else
    blocks.push_back({{"kind", "verdicts"}, {"verdicts", verdicts}});
  for (json& one : figures) blocks.push_back(std::move(one));
}

void food_blocks(json& blocks, const json& data, const Wording& wording) {
  const json& food = list_in(data, "food");
  if (food.empty()) return;
  blocks.push_back(heading_block(2, wording.word("record", "food")));
  std::string limit, six;
  for (const json& product : food) {
    blocks.push_back(paragraph_block(food_text(product, wording)));
    const json& history = object_in(product, "history");
    if (history.empty()) continue;
    limit = text_in(object_in(history, "limit"), "text");
    six = text_in(object_in(history, "six_hour_limit"), "text");
  }
  if (!limit.empty())
    blocks.push_back(
        paragraph_block(wording.phrase("record", "food_code", {{"limit", limit}, {"six", six}})));
}

}  // namespace coldwright::service

#include "service/procedure_answer.hpp"

#include <algorithm>

#include "calls/strict_json.hpp"
#include "service/cautions.hpp"
#include "service/formulas.hpp"
#include "service/property_answer.hpp"
#include "service/shown_json.hpp"

namespace coldwright::service {

using base::Dimension;
using diagnosis::Statement;
using nlohmann::json;

namespace {

json range_json(const base::Shown& low, const base::Shown& mid, const base::Shown& high,
                const diagnosis::Interval& si, const std::string& text) {
  return {{"low", quantity(low, si.low)},
          {"mid", quantity(mid, si.mid)},
          {"high", quantity(high, si.high)},
          {"text", text}};
}

}  // namespace

std::string range_text(Dimension dimension, double low, double high, const base::Display& display,
                       const Wording& wording, int extra) {
  const base::Shown a = base::show(dimension, low, display, extra),
                    b = base::show(dimension, high, display, extra);
  if (a.text() == b.text()) return a.text();
  return wording.phrase("phrases", "range",
                        {{"low", a.unit == b.unit ? a.number() : a.text()}, {"high", b.text()}});
}

std::string percent_text(double share, const base::Display& display) {
  const double percent = 100 * share;
  const std::string unit = std::string(display.numerals.gap) + "%";
  if (percent > 0 && percent < 0.1) return "<" + base::number_text(0.1, 1, display.numerals) + unit;
  return base::number_text(percent, percent < 10 ? 1 : 0, display.numerals) + unit;
}

ProcedureAnswer::ProcedureAnswer(std::string_view procedure, const Wording& wording,
                                 const base::Display& display)
    : wording_(wording), display_(display), procedure_(procedure) {
  answer_ = {{"procedure", procedure_},
             {"refrigerant", nullptr},
             {"safety_class", nullptr},
             {"site_pressure",
              quantity(base::show_absolute(base::Pressure{display.site.si}, display), display.site.si)},
             {"verdict", nullptr}};
  for (const char* list : {"cautions", "statements", "asks", "figures", "tables", "curves"})
    answer_[list] = json::array();
}

void ProcedureAnswer::cite(std::string_view key) { cited_.emplace_back(key); }

void ProcedureAnswer::refrigerant(const fluids::Fluid& fluid) {
  const json heading = property_heading(fluid, display_, {}, wording_);
  for (const char* key : {"refrigerant", "safety_class"}) answer_[key] = heading[key];
  for (const json& said : heading["cautions"]) answer_["cautions"].push_back(said);
  for (const json& reference : heading["about"]["references"]) cite(reference["key"].get<std::string>());
}

void ProcedureAnswer::caution(const Statement& said) {
  answer_["cautions"].push_back(statement("cautions", said, wording_, display_));
}
void ProcedureAnswer::verdict(const Statement& said) {
  answer_["verdict"] = statement(procedure_, said, wording_, display_);
}
void ProcedureAnswer::say(const Statement& said) {
  answer_["statements"].push_back(statement(procedure_, said, wording_, display_));
}
void ProcedureAnswer::ask(const Statement& said) {
  answer_["asks"].push_back(statement(procedure_, said, wording_, display_));
}

void ProcedureAnswer::add_figure(std::string_view key, json value, json range, std::string text,
                                 const std::vector<FigureInput>& inputs) {
  const auto formula = formula_of(key);
  if (!formula) {
    if (!problem_) problem_ = formula.problem();
    return;
  }
  json where = json::array();
  for (const FigureInput& input : inputs) {
    const auto symbol = formula->symbols.find(input.key);
    where.push_back({{"key", input.key},
                     {"symbol", symbol == formula->symbols.end() ? "" : symbol->second},
                     {"label", wording_.word("inputs", input.key)},
                     {"text", input.text}});
  }
  for (const std::string& source : formula->cited) cite(source);
  answer_["figures"].push_back(
      {{"key", key},
       {"label", wording_.word("figures", key)},
       {"value", std::move(value)},
       {"range", std::move(range)},
       {"text", std::move(text)},
       {"formula", formula->text.empty() ? wording_.word("formulas", key) : formula->text},
       {"where", std::move(where)},
       {"cited", formula->cited},
       {"basis", formula->basis},
       {"basis_text", wording_.word("bases", formula->basis)}});
}

void ProcedureAnswer::figure(std::string_view key, Dimension dimension, double si,
                             std::vector<FigureInput> inputs, int extra) {
  const base::Shown shown = base::show(dimension, si, display_, extra);
  add_figure(key, quantity(shown, si), nullptr, shown.text(), inputs);
}

void ProcedureAnswer::figure(std::string_view key, Dimension dimension, const diagnosis::Interval& si,
                             std::vector<FigureInput> inputs, int extra) {
  const auto shown = [&](double value) { return base::show(dimension, value, display_, extra); };
  const std::string text = range_text(dimension, si.low, si.high, display_, wording_, extra);
  add_figure(key, quantity(shown(si.mid), si.mid),
             range_json(shown(si.low), shown(si.mid), shown(si.high), si, text), text, inputs);
}

void ProcedureAnswer::figure_vacuum(std::string_view key, double si, std::vector<FigureInput> inputs) {
  const base::Shown shown = base::show_vacuum(base::Pressure{si}, display_);
  add_figure(key, quantity(shown, si), nullptr, shown.text(), inputs);
}

void ProcedureAnswer::figure_text(std::string_view key, std::optional<double> number, std::string text,
                                  std::vector<FigureInput> inputs) {
  json value = nullptr;
  if (number) value = {{"si", *number}, {"value", *number}, {"unit", ""}, {"text", text}};
  add_figure(key, std::move(value), nullptr, std::move(text), inputs);
}

void ProcedureAnswer::table(std::string_view key, const std::vector<std::string>& column_keys,
                            std::vector<std::vector<std::string>> rows) {
  json columns = json::array();
  for (const std::string& column : column_keys)
    columns.push_back({{"key", column}, {"label", wording_.word("figures", column)}});
  answer_["tables"].push_back({{"key", key},
                               {"label", wording_.word("figures", key)},
                               {"columns", std::move(columns)},
                               {"rows", std::move(rows)}});
}

void ProcedureAnswer::curve(const Curve& curve) {
  const auto on_axis = [&](Dimension dimension, bool vacuum, double si) -> base::Shown {
    if (dimension == Dimension::duration) return {si / 60, "min", 0, display_.numerals};
    if (vacuum) return base::show_vacuum(base::Pressure{si}, display_);
    return base::show(dimension, si, display_);
  };
  // A gauge changes unit below the air's pressure, a mass where it is large: a plot keeps one unit, that of
  // its largest value.
  double x_most = 0, y_most = 0;
  for (const Curve::Line& line : curve.lines)
    for (const auto& [x, y] : line.points) {
      x_most = std::max(x_most, x);
      y_most = std::max(y_most, y);
    }
  const base::Shown x_unit = on_axis(curve.x, false, x_most), y_unit = on_axis(curve.y, curve.vacuum, y_most);
  const auto at = [&](Dimension dimension, const base::Shown& unit, double si) {
    return dimension == Dimension::duration ? si / 60 : base::in_same_unit(unit, dimension, si, display_);
  };
  json lines = json::array();
  for (const Curve::Line& line : curve.lines) {
    json points = json::array();
    for (const auto& [x, y] : line.points) points.push_back({at(curve.x, x_unit, x), at(curve.y, y_unit, y)});
    lines.push_back({{"key", line.key},
                     {"label", wording_.word("figures", line.key)},
                     {"kind", line.kind},
                     {"points", std::move(points)}});
  }
  answer_["curves"].push_back(
      {{"key", curve.key},
       {"label", wording_.word("figures", curve.key)},
       {"x", {{"label", wording_.word("inputs", curve.x_key)}, {"unit", x_unit.unit}}},
       {"y", {{"label", wording_.word("inputs", curve.y_key)}, {"unit", y_unit.unit}}},
       {"lines", std::move(lines)}});
}

Result<std::string> ProcedureAnswer::text() const {
  if (problem_) return *problem_;
  json out = answer_;
  out["about"] = about(seed_, cited_);
  return calls::dump(out);
}

}  // namespace coldwright::service

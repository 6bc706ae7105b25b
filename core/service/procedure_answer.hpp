// The one form in which every procedure answers: a verdict, sentences, figures that open to formula, inputs
// and source, tables, curves, cautions, and questions back. Schema procedure.answer. Kept to service/.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/field_units.hpp"
#include "diagnosis/answer.hpp"
#include "fluids/fluid.hpp"
#include "service/wording.hpp"

namespace coldwright::service {

/// What a figure was reckoned from: its label stands in the wording section "inputs", its text as shown.
struct FigureInput {
  std::string key, text;
};

/// A plot: x counts in the unit of `x`, always minutes for times; y in the reader's unit of its dimension.
struct Curve {
  struct Line {
    std::string key;                                // label in the wording section "figures"
    std::string kind;                               // "measured", "predicted", "low", "high", "limit"
    std::vector<std::pair<double, double>> points;  // SI
  };
  std::string key;           // label in "figures"
  std::string x_key, y_key;  // labels in "inputs"
  base::Dimension x, y;
  bool vacuum = false;  // y is shown as a vacuum gauge shows it
  std::vector<Line> lines;
};

class ProcedureAnswer {
 public:
  /// `procedure` names the use case and the wording section of its sentences. Keeps references.
  ProcedureAnswer(std::string_view procedure, const Wording& wording, const base::Display& display);

  void cite(std::string_view reference_key);
  /// Its name, class, property source, and what is to be feared of it.
  void refrigerant(const fluids::Fluid& fluid);
  void seed(std::uint64_t seed) { seed_ = seed; }
  void caution(const diagnosis::Statement& said);  // wording section "cautions"
  void verdict(const diagnosis::Statement& said);
  void say(const diagnosis::Statement& said);
  /// A question back to the person: a reading out of order, two that contradict each other.
  void ask(const diagnosis::Statement& said);

  void figure(std::string_view key, base::Dimension dimension, double si, std::vector<FigureInput> inputs,
              int extra_decimals = 0);
  void figure(std::string_view key, base::Dimension dimension, const diagnosis::Interval& si,
              std::vector<FigureInput> inputs, int extra_decimals = 0);
  /// A pressure as a vacuum gauge shows it.
  void figure_vacuum(std::string_view key, double si, std::vector<FigureInput> inputs);
  /// What has no dimension of ours: money, counts, a probability already in words.
  void figure_text(std::string_view key, std::optional<double> number, std::string text,
                   std::vector<FigureInput> inputs);
  /// Rows of texts; column labels stand in "figures".
  void table(std::string_view key, const std::vector<std::string>& column_keys,
             std::vector<std::vector<std::string>> rows);
  void curve(const Curve& curve);

  const base::Display& display() const { return display_; }
  const Wording& wording() const { return wording_; }
  /// The JSON. A Problem when a figure has no formula in data/formulas.json.
  Result<std::string> text() const;

 private:
  void add_figure(std::string_view key, nlohmann::json value, nlohmann::json range, std::string text,
                  const std::vector<FigureInput>& inputs);

  const Wording& wording_;
  const base::Display& display_;
  std::string procedure_;
  nlohmann::json answer_;
  std::vector<std::string> cited_;
  std::optional<std::uint64_t> seed_;
  std::optional<Problem> problem_;
};

/// "12.0 to 14.5 psig" of two values of one dimension.
std::string range_text(base::Dimension dimension, double low, double high, const base::Display& display,
                       const Wording& wording, int extra_decimals = 0);

/// "3.4 %", with two digits where it is small; "<0.1 %" below that.
std::string percent_text(double share, const base::Display& display);

}  // namespace coldwright::service

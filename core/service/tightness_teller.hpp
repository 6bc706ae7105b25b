// How the use case "tightness" tells its answer: what holds before there are readings, and what they say.
// Kept to service/.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "procedures/tightness.hpp"
#include "service/procedure_answer.hpp"
#include "service/tightness_question.hpp"

namespace coldwright::service {

inline constexpr double kSecondsAYear = 365.25 * 86400;

class TightnessTeller {
 public:
  TightnessTeller(ProcedureAnswer& answer, const TightnessQuestion& question) : a_(answer), q_(question) {}
  std::optional<Problem> tell();

 private:
  std::pair<std::string, std::string> text(const char* name, base::Dimension dimension, double si,
                                           int extra = 0) const;
  FigureInput input(const char* key, base::Dimension dimension, double si, int extra = 0) const;
  std::vector<FigureInput> plate_inputs() const;
  std::vector<FigureInput> leak_inputs() const;
  /// Pa m3/s of nitrogen as kg/s of refrigerant, as it may pass either way.
  diagnosis::Interval loss(double low, double mid, double high) const;
  void volume();
  std::optional<Problem> joined();
  procedures::TestGas gas() const;
  std::optional<Problem> compensation();
  std::optional<Problem> expected();
  std::optional<Problem> trace();
  double each() const;
  void smallest(double leak);
  void plan();
  std::optional<Problem> running();
  void plot(const procedures::TightnessAnswer& out);
  void remarks();

  ProcedureAnswer& a_;
  const TightnessQuestion& q_;
  double per_leak_low_ = 0, per_leak_high_ = 0;  // kg of refrigerant a year for each Pa m3/s of nitrogen
  double wanted_ = 0, trace_density_ = 0;
};

}  // namespace coldwright::service

// What the halves of the use case "charging" share: the mass by the scale, and the machine by its readings.
// Kept to service/.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "diagnosis/diagnose.hpp"
#include "fluids/fluid.hpp"
#include "procedures/charging.hpp"
#include "service/procedure_answer.hpp"
#include "service/taken.hpp"
#include "service/test_readings.hpp"

namespace coldwright::service {

struct ChargingQuestion {
  std::optional<double> plate, before, after;  // kg
  double stays = 0, resolution = 0, hose = 0, t = 0;
  std::optional<double> box;
  bool hose_liquid = false;
  std::vector<TestReading> readings;
  std::optional<diagnosis::Case> the_case;  // when the kind of cabinet is known
  diagnosis::Knowledge knowledge;
  diagnosis::Options options;
  bool call_readings = false;  // those of the_case are the call's own
  Taken taken;
};

/// Texts in the reader's units.
class ChargingWords {
 public:
  explicit ChargingWords(ProcedureAnswer& answer) : answer_(answer) {}
  std::string text(base::Dimension d, double si, int extra = 0) const {
    return base::show(d, si, answer_.display(), extra).text();
  }
  std::string mass(double kg) const { return text(base::Dimension::mass, kg, 1); }
  std::string range(base::Dimension d, const diagnosis::Interval& x, int extra = 0) const {
    return range_text(d, x.low, x.high, answer_.display(), answer_.wording(), extra);
  }
  FigureInput given(const char* key, double kg) const { return {key, mass(kg)}; }

 protected:
  ProcedureAnswer& answer_;
};

/// What the machine shows as it fills, the charge its readings speak for, or the search where the plate is
/// gone. Says so where the population can't be reckoned for this refrigerant. Problem when it was cancelled
/// or the readings fit nothing.
std::optional<Problem> tell_charge_by_readings(const ChargingQuestion& q, const fluids::Fluid& fluid,
                                               const std::optional<diagnosis::Interval>& by_scale,
                                               ProcedureAnswer& answer);

}  // namespace coldwright::service

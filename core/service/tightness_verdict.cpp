// The standing test's verdict on its readings, with figures and plot.
#include "service/tightness_teller.hpp"

#include <cmath>

#include "service/plate_request.hpp"
#include "service/tool_parts.hpp"

namespace coldwright::service {

using base::Dimension;
using procedures::TightnessVerdict;

namespace {

const char* key_of(TightnessVerdict verdict) {
  switch (verdict) {
    case TightnessVerdict::tight:
      return "tight";
    case TightnessVerdict::temperature:
      return "temperature_explains";
    case TightnessVerdict::equalised:
      return "equalising_explains";
    case TightnessVerdict::leaks:
      return "leaks";
    case TightnessVerdict::rising:
      return "rises";
    case TightnessVerdict::equalising:
      return "still_equalising";
    case TightnessVerdict::undecided:
      return "undecided";
  }
  return "undecided";
}

}  // namespace

std::optional<Problem> TightnessTeller::running() {
  procedures::StandingTest test;
  test.gas = gas();
  test.readings = q_.readings;
  test.coldest_below = q_.coldest_below;
  test.gauge = q_.gauge;
  test.volume = q_.volume;
  test.wanted = wanted_;
  test.p_air = q_.p_air;
  test.joined = q_.joined;
  const auto out = procedures::judge_standing(test);
  if (!out) return out.problem();
  const bool tight = out->verdict == TightnessVerdict::tight ||
                     out->verdict == TightnessVerdict::temperature ||
                     out->verdict == TightnessVerdict::equalised;
  auto inputs = leak_inputs();
  inputs.push_back({"readings", std::to_string(q_.readings.size())});
  inputs.push_back(input("elapsed", Dimension::duration, q_.readings.back().time - q_.readings.front().time));
  const auto lost = loss(out->leak.low, out->leak.mid, out->leak.high);
  a_.figure("leak_found", Dimension::mass_flow, lost, inputs, leak_decimals(lost.high));
  const double rate = 10 * out->leak.mid;  // mbar l/s
  const auto digits = [&](double value) {
    const double size = std::abs(value);
    return base::number_text(value, size >= 1e-2 ? 3 : size >= 1e-4 ? 5 : 7, a_.display().numerals);
  };
  a_.figure_text("leak_rate", out->leak.mid,
                 digits(rate) + std::string(a_.display().numerals.gap) + "mbar l/s", inputs);
  smallest(out->smallest_shown);
  inputs.push_back(input("wanted_leak", Dimension::mass_flow, q_.wanted_leak / kSecondsAYear));
  const double above = tight ? out->probability_missed : out->probability_above;
  const std::string chance = probability_text(above, 0, a_.display().numerals);
  a_.figure_text("leak_above_probability", above, chance, inputs);
  a_.figure("time_to_rule_out", Dimension::duration, out->seconds_needed, inputs);
  const std::vector<FigureInput> fall{
      input("first_pressure", Dimension::pressure, q_.readings.front().pressure),
      input("last_pressure", Dimension::pressure, q_.readings.back().pressure),
      input("first_temperature", Dimension::temperature, q_.readings.front().temperature),
      input("last_temperature", Dimension::temperature, q_.readings.back().temperature)};
  a_.figure("gauge_fall", Dimension::pressure_difference, out->fall, fall, 1);
  a_.figure("fall_by_temperature", Dimension::pressure_difference, out->fall_expected, fall, 1);
  a_.verdict({key_of(out->verdict),
              {},
              {text("wanted", Dimension::mass_flow, q_.wanted_leak / kSecondsAYear),
               {"leak", range_text(Dimension::mass_flow, lost.low, lost.high, a_.display(), a_.wording(),
                                   leak_decimals(lost.high))},
               {"probability", chance},
               text("fall", Dimension::pressure_difference, out->fall, 1),
               text("expected", Dimension::pressure_difference, out->fall_expected, 1),
               text("time", Dimension::duration, out->seconds_needed),
               text("wait", Dimension::duration, out->seconds_to_equal)}});
  if (out->tube_speed && *out->tube_speed < 0.5)
    a_.say({"tube_is_slow", {{"times", diagnosis::Unit::count, std::round(1 / *out->tube_speed)}}, {}});
  if (out->curved) a_.ask({"curved", {}, {}});
  if (out->scatter > 2 && !out->curved)
    a_.ask({"scatter", {{"times", diagnosis::Unit::count, out->scatter}}, {}});
  for (std::size_t i = 0; q_.allowed && i < q_.readings.size(); ++i)
    if (q_.readings[i].pressure > *q_.allowed) {
      a_.ask({"above_plate",
              {},
              {text("pressure", Dimension::pressure, q_.readings[i].pressure),
               text("allowed", Dimension::pressure, *q_.allowed)}});
      break;
    }
  plot(*out);
  return std::nullopt;
}

void TightnessTeller::plot(const procedures::TightnessAnswer& out) {
  Curve curve{"tightness_curve", "time", "pressure", Dimension::duration, Dimension::pressure, false, {}};
  curve.lines = {{"read_pressure", "measured", {}},
                 {"compensated_pressure", "measured", {}},
                 {"predicted_pressure", "predicted", {}},
                 {"predicted_low", "low", {}},
                 {"predicted_high", "high", {}}};
  for (std::size_t i = 0; i < q_.readings.size(); ++i) {
    const double t = q_.readings[i].time - q_.readings.front().time;
    curve.lines[0].points.emplace_back(t, q_.readings[i].pressure);
    curve.lines[1].points.emplace_back(t, out.compensated[i]);
  }
  for (const procedures::CoursePoint& point : out.course) {
    curve.lines[2].points.emplace_back(point.time, point.mid);
    curve.lines[3].points.emplace_back(point.time, point.low);
    curve.lines[4].points.emplace_back(point.time, point.high);
  }
  a_.curve(curve);
}

}  // namespace coldwright::service

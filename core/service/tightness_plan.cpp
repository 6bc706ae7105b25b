// The standing test before its readings: volume, equalising, temperature, trace, steps up and what which time
// shows.
#include "service/tightness_teller.hpp"

#include <algorithm>
#include <cmath>

#include "service/plate_request.hpp"
#include "service/tool_parts.hpp"

namespace coldwright::service {

using base::Dimension;

namespace {

constexpr int kPlannedReadings = 7;
constexpr double kPlannedMinutes[] = {15, 30, 60, 240, 720, 1440};

}  // namespace

void TightnessTeller::volume() {
  const double spread = 1.645 * q_.volume.sigma;
  a_.figure("test_volume", Dimension::volume,
            diagnosis::Interval{std::max(q_.volume.value - spread, 0.2 * q_.volume.value), q_.volume.value,
                                q_.volume.value + spread},
            q_.volume_from_plate ? std::vector<FigureInput>{{"machines", "64"}} : std::vector<FigureInput>{});
  if (q_.volume_from_plate)
    a_.say(
        {"volume_from_plate",
         {},
         {{"volume", range_text(Dimension::volume, std::max(q_.volume.value - spread, 0.2 * q_.volume.value),
                                q_.volume.value + spread, a_.display(), a_.wording())}}});
}

// How both sides meet after the last step up.
std::optional<Problem> TightnessTeller::joined() {
  if (!q_.joined) return std::nullopt;
  const procedures::Joined& j = *q_.joined;
  const double p = q_.test_pressure();
  const auto stages = procedures::staged_rise(q_.p_air, p);
  const double step = 0.999 * (p - stages[1].pressure);
  const auto gas = procedures::real_nitrogen(q_.nitrogen, q_.T, p, p);
  if (!gas) return gas.problem();
  const bool here = j.fed != procedures::FedSide::other;
  const procedures::TwoSides fed = here ? j.sides : procedures::TwoSides{j.sides.other, j.sides.gauge};
  const double p_end = p - fed.share() * step;
  const double least = std::min(q_.gauge.resolution, 0.5 * step);
  const auto course = procedures::Equalising::make(*gas, j.tube, fed, p_end, q_.T, step, 0.1 * least);
  if (!course) return course.problem();
  const std::vector<FigureInput> inputs{
      input("tube_bore", Dimension::length, j.tube.bore, kBoreDecimals),
      input("tube_length", Dimension::length, j.tube.length, kLengthDecimals),
      input("volume_low", Dimension::volume, q_.volume_low.value),
      input("volume_high", Dimension::volume, q_.volume_high.value),
      input("test_pressure", Dimension::pressure, p),
      input("step", Dimension::pressure_difference, step)};
  const double slow = std::exp(1.645 * j.flow_spread), until = course->time_at(least);
  const double tau = course->time_constant();
  a_.figure("equalise_constant", Dimension::duration, diagnosis::Interval{tau / slow, tau, tau * slow},
            inputs);
  a_.figure("equalise_time", Dimension::duration, diagnosis::Interval{until / slow, until, until * slow},
            inputs);
  a_.say(
      {"equalises",
       {},
       {{"time", range_text(Dimension::duration, until / slow, until * slow, a_.display(), a_.wording())}}});
  if (q_.tube_from_plate)
    a_.say({"tube_from_plate",
            {},
            {text("bore", Dimension::length, j.tube.bore, kBoreDecimals),
             text("length", Dimension::length, j.tube.length, kLengthDecimals)}});
  Curve curve{"equalise_curve", "time", "pressure", Dimension::duration, Dimension::pressure, false, {}};
  curve.lines = {{"fed_side", "predicted", {}}, {"other_side", "predicted", {}}};
  for (int i = 0; i <= 40; ++i) {
    const double t = until * 1.1 * i / 40, d = course->later(step, t);
    curve.lines[0].points.emplace_back(t, p_end + fed.share() * d);
    curve.lines[1].points.emplace_back(t, p_end - (1 - fed.share()) * d);
  }
  if (j.fed != procedures::FedSide::both) a_.curve(curve);
  return std::nullopt;
}

procedures::TestGas TightnessTeller::gas() const {
  return {&q_.nitrogen, q_.tracer > 0 ? &q_.fluid : nullptr, trace_density_};
}

// What a tight volume's gauge does when it gets warmer or colder.
std::optional<Problem> TightnessTeller::compensation() {
  if (q_.tracer > 0) {
    const auto density = procedures::trace_density(q_.fluid, q_.tracer * q_.test_pressure(), q_.T);
    if (!density) return density.problem();
    trace_density_ = *density;
  }
  std::vector<std::vector<std::string>> rows;
  for (const double change : {-10.0, -5.0, -2.0, 2.0, 5.0, 10.0}) {
    const double T = q_.T + change;
    const auto p = procedures::brought_to(gas(), q_.test_pressure(), {q_.T, q_.T - q_.coldest_below},
                                          {T, T - q_.coldest_below});
    if (!p) return p.problem();
    rows.push_back(
        {base::show(Dimension::temperature, T, a_.display()).text(),
         base::show(Dimension::pressure, *p, a_.display(), 1).text(),
         base::show(Dimension::pressure_difference, *p - q_.test_pressure(), a_.display(), 1).text()});
    if (change == -5.0)
      a_.figure("colder_by_five", Dimension::pressure_difference, q_.test_pressure() - *p,
                {input("test_pressure", Dimension::pressure, q_.test_pressure()),
                 input("t", Dimension::temperature, q_.T)},
                1);
  }
  if (auto problem = expected()) return problem;
  a_.table("by_temperature", {"temperature_column", "pressure_column", "change_column"}, std::move(rows));
  return std::nullopt;
}

// What the first pressure is at the temperature asked for, or at the last reading's.
std::optional<Problem> TightnessTeller::expected() {
  const bool read = q_.readings.size() >= 2 && !q_.no_temperature;
  if (!q_.to && !read) return std::nullopt;
  const double T = q_.to.value_or(read ? q_.readings.back().temperature : q_.T);
  const auto p = procedures::brought_to(gas(), q_.test_pressure(), {q_.T, q_.T - q_.coldest_below},
                                        {T, T - q_.coldest_below});
  if (!p) return p.problem();
  a_.figure("expected_pressure", Dimension::pressure, *p,
            {input("test_pressure", Dimension::pressure, q_.test_pressure(), 1),
             input("t", Dimension::temperature, q_.T), input("to", Dimension::temperature, T)},
            1);
  return std::nullopt;
}

std::optional<Problem> TightnessTeller::trace() {
  if (!(q_.tracer > 0)) return std::nullopt;
  const auto most = procedures::trace_condenses_above(q_.fluid, q_.test_pressure(), q_.T - q_.coldest_below);
  if (!most) return most.problem();
  a_.figure("trace_condenses", Dimension::quality, std::min(*most, 1.0),
            {input("test_pressure", Dimension::pressure, q_.test_pressure()),
             input("coldest", Dimension::temperature, q_.T - q_.coldest_below)},
            1);
  a_.say({q_.tracer > *most ? "trace_lies_wet" : "trace_counted",
          {{"share", diagnosis::Unit::percent, 100 * q_.tracer},
           {"most", diagnosis::Unit::percent, 100 * std::min(*most, 1.0)}},
          {}});
  return std::nullopt;
}

double TightnessTeller::each() const {
  return procedures::reading_spread(q_.gauge, q_.test_pressure(), q_.T);
}

void TightnessTeller::smallest(double leak) {
  const auto lost = loss(leak, leak, leak);
  a_.figure("smallest_leak", Dimension::mass_flow, lost, leak_inputs(), leak_decimals(lost.high));
}

// Before there are readings: steps up, what which time could show, the time that the wanted leak takes.
void TightnessTeller::plan() {
  std::vector<std::vector<std::string>> steps, times;
  for (const procedures::Stage& stage : procedures::staged_rise(q_.p_air, q_.test_pressure()))
    steps.push_back({base::show(Dimension::pressure, stage.pressure, a_.display()).text(),
                     stage.minutes > 0
                         ? base::show(Dimension::duration, stage.minutes * 60, a_.display()).text()
                         : a_.wording().word("tightness", "stands")});
  a_.table("stages", {"pressure_column", "hold_column"}, std::move(steps));
  a_.cite("common-practice");
  for (const double minutes : kPlannedMinutes) {
    const double leak = procedures::smallest_leak(q_.volume.value, each(), kPlannedReadings, minutes * 60);
    const auto lost = loss(leak, leak, leak);
    times.push_back({base::show(Dimension::duration, minutes * 60, a_.display()).text(),
                     range_text(Dimension::mass_flow, lost.low, lost.high, a_.display(), a_.wording(),
                                leak_decimals(lost.high))});
  }
  a_.table("smallest_by_time", {"time_column", "smallest_leak"}, std::move(times));
  const double hour = procedures::smallest_leak(q_.volume.value, each(), kPlannedReadings, 3600);
  smallest(hour);
  auto inputs = leak_inputs();
  inputs.push_back(input("wanted_leak", Dimension::mass_flow, q_.wanted_leak / kSecondsAYear));
  const double needed = 3600 * hour / wanted_;
  a_.figure("time_to_rule_out", Dimension::duration, needed, inputs);
  a_.verdict({"plan",
              {},
              {text("time", Dimension::duration, needed),
               text("leak", Dimension::mass_flow, q_.wanted_leak / kSecondsAYear)}});
  a_.say({"settle_first", {}, {}});
  if (needed > 86400)
    a_.say({"too_fine", {}, {text("leak", Dimension::mass_flow, q_.wanted_leak / kSecondsAYear)}});
}

}  // namespace coldwright::service

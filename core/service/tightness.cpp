// Use case "tightness": the standing pressure test with nitrogen, from the plates to the verdict.
#include <algorithm>
#include <cmath>

#include "service/from_call.hpp"
#include "service/procedure_answer.hpp"
#include "service/property_answer.hpp"
#include "service/tightness_question.hpp"
#include "service/tightness_teller.hpp"
#include "service/tool_parts.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {

using base::Dimension;

std::pair<std::string, std::string> TightnessTeller::text(const char* name, Dimension dimension, double si,
                                                          int extra) const {
  return word(name, dimension, si, a_.display(), extra);
}

FigureInput TightnessTeller::input(const char* key, Dimension dimension, double si, int extra) const {
  return {key, base::show(dimension, si, a_.display(), extra).text()};
}

std::vector<FigureInput> TightnessTeller::plate_inputs() const {
  std::vector<FigureInput> all;
  for (std::size_t i = 0; i < 2; ++i)
    if (q_.sides[i].connected && q_.sides[i].plate_pressure)
      all.push_back(
          input(i == 0 ? "low_plate" : "high_plate", Dimension::pressure, *q_.sides[i].plate_pressure));
  return all;
}

std::vector<FigureInput> TightnessTeller::leak_inputs() const {
  return {input("volume", Dimension::volume, q_.volume.value),
          input("test_pressure", Dimension::pressure, q_.test_pressure()),
          input("service_pressure", Dimension::pressure, q_.service_pressure),
          input("gauge_resolution", Dimension::pressure_difference, q_.gauge.resolution, 1),
          input("temperature_sigma", Dimension::temperature_difference, q_.gauge.temperature_sigma),
          input("t", Dimension::temperature, q_.T)};
}

// Pa m3/s of nitrogen as kg/s of refrigerant, as it may pass either way.
diagnosis::Interval TightnessTeller::loss(double low, double mid, double high) const {
  const auto at_least = [](double q) { return std::max(q, 0.0); };
  return {at_least(low) * per_leak_low_ / kSecondsAYear,
          at_least(mid) * std::sqrt(per_leak_low_ * per_leak_high_) / kSecondsAYear,
          at_least(high) * per_leak_high_ / kSecondsAYear};
}

void TightnessTeller::remarks() {
  if (q_.gauge_assumed || q_.temperature_sigma_assumed)
    a_.say({"instruments_assumed",
            {},
            {text("resolution", Dimension::pressure_difference, q_.gauge.resolution, 1),
             text("sigma", Dimension::temperature_difference, q_.gauge.temperature_sigma)}});
  if (q_.no_temperature && !q_.readings.empty()) a_.say({"no_temperature", {}, {}});
  a_.say({"both_ways", {}, {}});
  if (!q_.joined && q_.sides[0].connected && q_.sides[1].connected) a_.say({"taken_as_open", {}, {}});
  if (q_.joined) a_.say({"blocked_looks_leaking", {}, {}});
}

std::optional<Problem> TightnessTeller::tell() {
  const auto loss = procedures::yearly_loss(q_.nitrogen, q_.fluid, 1, q_.test_pressure(), q_.service_pressure,
                                            q_.T, q_.p_air);
  if (!loss) return loss.problem();
  per_leak_low_ = std::min(loss->viscous, loss->molecular);
  per_leak_high_ = std::max(loss->viscous, loss->molecular);
  wanted_ = q_.wanted_leak / per_leak_high_;  // the smaller leak of nitrogen: the harder to see
  volume();
  if (q_.allowed) a_.figure("allowed_pressure", Dimension::pressure, *q_.allowed, plate_inputs());
  if (auto problem = joined()) return problem;
  if (auto problem = compensation()) return problem;
  if (auto problem = trace()) return problem;
  if (q_.readings.size() >= 2) {
    if (auto problem = running()) return problem;
  } else {
    plan();
  }
  remarks();
  return std::nullopt;
}

Result<std::string> run_tightness(std::string_view text, const Context& context) {
  auto request = opened_request(text, "tightness", tightness_keys());
  if (!request) return request.problem();
  const base::SitePressure site = request->site();
  const auto units = request->units();
  std::optional<base::UnitSystem> spoken_in;
  if (request->problem()) return *request->problem();
  const auto question = ask_tightness(*request, site, spoken_in);
  if (!question) return question.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const base::Display display{choose_units(units, spoken_in, context), site, wording->numerals()};
  ProcedureAnswer answer("tightness", *wording, display);
  answer.refrigerant(question->fluid);
  for (const char* caution : {"caution_empty_first", "caution_nitrogen_regulator", "caution_not_oxygen",
                              "caution_relief", "caution_stand_aside", "caution_in_stages",
                              "caution_no_work_pressed", "caution_vent_nitrogen", "caution_defer"})
    answer.caution({caution, {}, {}});
  if (question->refrigerant_assumed) answer.caution({"caution_refrigerant_unknown", {}, {}});
  if (question->tracer > 0) answer.caution({"caution_trace_burns", {}, {}});
  TightnessTeller teller(answer, *question);
  if (const auto problem = teller.tell()) return *problem;
  return answer.text();
}

}  // namespace coldwright::service

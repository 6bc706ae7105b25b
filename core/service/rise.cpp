// Use case "rise": what a vacuum's rise after the pump is shut off speaks for: tight, leak, moisture or the
// oil's gas; how sure that is, and how long to read on; what a leak means in grams a year.
#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "procedures/decay.hpp"
#include "procedures/vacuum_leak.hpp"
#include "procedures/water.hpp"
#include "service/cautions.hpp"
#include "service/finely.hpp"
#include "service/from_call.hpp"
#include "service/property_answer.hpp"
#include "service/taken.hpp"
#include "service/test_readings.hpp"
#include "service/tool_parts.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using diagnosis::Interval;
using procedures::DecayAnswer;
using procedures::DecayCause;

const std::vector<std::string> kRiseKeys{
    "refrigerant", "t",     "wet_t",    "volume",    "resolution", "service_pressure",
    "readings",    "units", "altitude", "barometer", "seed"};

constexpr double kUsualVolume = 2.8e-3;               // m3 of a plug-in cabinet's whole circuit, our estimate
constexpr double kGaugeStep = 0.133, kCoarse = 13.3;  // Pa; 1 and 100 micron
constexpr const char* kCauses[] = {"tight", "leak", "moisture", "oil"};

struct RiseQuestion {
  std::vector<procedures::DecayReading> readings;
  std::vector<std::string> said;  // their times as typed
  procedures::DecayGauge gauge;
  double T = 0, T_wet = 0, volume = 0, p_service = 0;
  std::uint64_t seed = 1;
  Taken taken;
};

Result<RiseQuestion> ask_rise(Request& request, base::SitePressure site, const fluids::Fluid& fluid,
                              std::optional<base::UnitSystem>& spoken_in) {
  RiseQuestion q;
  const auto T = temperature(request, "t", spoken_in), wet = temperature(request, "wet_t", spoken_in);
  q.T = q.taken.value(T, "wall_temperature", Dimension::temperature, 293.15);
  q.T_wet = wet.value_or(q.T);
  q.volume = q.taken.value(positive(request, "volume", Dimension::volume, spoken_in), "circuit_volume",
                           Dimension::volume, kUsualVolume);
  q.gauge.resolution =
      q.taken.vacuum(pressure(request, "resolution", site, spoken_in), "gauge_resolution", kGaugeStep);
  const auto service = pressure(request, "service_pressure", site, spoken_in);
  q.seed = count_of(request, "seed", 0, (std::uint64_t{1} << 53) - 1).value_or(1);
  const auto readings = test_readings(request, site, {"pressure"}, spoken_in);
  if (request.problem()) return *request.problem();
  if (readings.empty())
    return Problem{"readings", "nothing",
                   "three readings or more, such as [{\"after\": \"5 min\", \"pressure\": \"620 micron\"}]",
                   "a rise is a list of readings"};
  for (std::size_t i = 0; i < readings.size(); ++i) {
    if (!(*readings[i].pressure < site.si))
      return Problem{
          "reading " + std::to_string(i + 1) + ", pressure",
          base::show(Dimension::pressure, *readings[i].pressure, {base::UnitSystem::metric, site}).text(),
          "below the air's pressure, such as 500 micron", "a vacuum is shut off to see it rise"};
    q.readings.push_back({readings[i].seconds, *readings[i].pressure});
    q.said.push_back(readings[i].said);
  }
  if (service) {
    q.p_service = *service;
  } else {
    const auto at_rest = fluid.dew_pressure(q.T);
    if (!at_rest) return at_rest.problem();
    q.p_service = q.taken.value(std::nullopt, "service_pressure", Dimension::pressure, *at_rest);
  }
  return q;
}

class RiseTold {
 public:
  RiseTold(const RiseQuestion& q, const fluids::Fluid& fluid, const DecayAnswer& judged, double water,
           ProcedureAnswer& answer)
      : q_(q), fluid_(fluid), judged_(judged), water_(water), answer_(answer) {
    for (std::size_t i = 0; i < order_.size(); ++i) order_[i] = i;
    std::stable_sort(order_.begin(), order_.end(), [&](std::size_t a, std::size_t b) {
      return judged.probability[a] > judged.probability[b];
    });
  }

  std::optional<Problem> all() {
    asks();
    verdict();
    causes();
    if (const auto problem = leak()) return problem;
    if (const auto problem = water()) return problem;
    minutes();
    plot();
    if (q_.gauge.resolution >= kCoarse)
      answer_.say({"coarse_gauge", {}, {{"resolution", vacuum(q_.gauge.resolution)}}});
    answer_.say({"not_a_pressure_test", {}, {}});
    q_.taken.tell(answer_);
    answer_.seed(q_.seed);
    for (const char* key : {"mackay2003", "our-estimate"}) answer_.cite(key);
    return std::nullopt;
  }

 private:
  std::string vacuum(double p) const { return vacuum_text(p, answer_.display()); }
  std::string text(Dimension d, double si, int extra = 0) const {
    return base::show(d, si, answer_.display(), extra).text();
  }
  double of(DecayCause cause) const { return judged_.probability[static_cast<std::size_t>(cause)]; }
  std::string named(std::size_t cause) const {
    return answer_.wording().word("figures", std::string("rise_") + kCauses[cause]);
  }

  void asks() {
    for (std::size_t i : judged_.fell)
      answer_.ask({"fell",
                   {},
                   {{"number", std::to_string(i + 1)},
                    {"after", q_.said[i]},
                    {"pressure", vacuum(q_.readings[i].pressure)},
                    {"before", vacuum(q_.readings[i - 1].pressure)}}});
  }

  void verdict() {
    const double first = judged_.probability[order_[0]];
    const std::vector<std::pair<std::string, std::string>> words{
        {"first", named(order_[0])},
        {"second", named(order_[1])},
        {"first_share", chance_text(first, answer_.display())},
        {"second_share", chance_text(judged_.probability[order_[1]], answer_.display())},
        {"last", vacuum(q_.readings.back().pressure)},
        {"span", text(Dimension::duration, q_.readings.back().time - q_.readings.front().time)}};
    std::string key = std::string(kCauses[order_[0]]) + "_leads";
    if (!judged_.explained)
      key = "unexplained";
    else if (first < 0.6)
      key = "undecided";
    answer_.verdict({key, {}, words});
    const double given_off = of(DecayCause::moisture) + of(DecayCause::oil);
    if (judged_.explained && first < judged_.decided && given_off >= judged_.decided)
      answer_.say({"given_off", {}, {{"share", chance_text(given_off, answer_.display())}}});
  }

  void causes() {
    std::vector<std::vector<std::string>> rows;
    for (std::size_t cause : order_) {
      const double p = judged_.probability[cause];
      rows.push_back({named(cause), chance_text(p, answer_.display()),
                      answer_.wording().word("sureness", sureness(p)),
                      answer_.wording().word("figures", std::string("rise_what_") + kCauses[cause])});
    }
    answer_.table("rise_causes", {"rise_cause", "rise_probability", "rise_sure", "rise_what"},
                  std::move(rows));
  }

  // The rate if it is a leak; where it isn't the likeliest, what could still hide.
  std::optional<Problem> leak() {
    const procedures::DecayRange& rate = judged_.leak_rate;
    const auto each = [&](auto&& f) { return Interval{f(rate.low), f(rate.mid), f(rate.high)}; };
    const std::vector<FigureInput> inputs{
        {"circuit_volume", text(Dimension::volume, q_.volume)},
        {"rise_rate", vacuum(60 * rate.mid) + answer_.wording().word("inputs", "per_minute")},
        {"wall_temperature", text(Dimension::temperature, q_.T)}};
    const Interval air = each([&](double a) { return procedures::air_a_year(a * q_.volume, q_.T) / kYear; });
    answer_.figure("rise_leak_air", Dimension::mass_flow, air, inputs);
    procedures::YearlyLoss mid{}, high{};
    for (auto [to, a] : {std::pair{&mid, rate.mid}, {&high, rate.high}}) {
      const auto loss =
          procedures::service_loss(fluid_, a * q_.volume, q_.p_service, q_.T, answer_.display().site.si);
      if (!loss) return loss.problem();
      *to = *loss;
    }
    const bool leads = order_[0] == static_cast<std::size_t>(DecayCause::leak);
    if (q_.p_service > answer_.display().site.si) {
      std::vector<FigureInput> more = inputs;
      more.push_back({"service_pressure", text(Dimension::pressure, q_.p_service)});
      answer_.figure("rise_leak_viscous", Dimension::mass_flow, mid.viscous / kYear, more);
      answer_.figure("rise_leak_molecular", Dimension::mass_flow, mid.molecular / kYear, more);
      const double low = std::min(mid.viscous, mid.molecular), most = std::max(high.viscous, high.molecular);
      answer_.say({leads ? "leak_in_service" : "leak_could_hide",
                   {},
                   {{"air", text(Dimension::mass_flow, leads ? air.mid : air.high)},
                    {"low", text(Dimension::mass_flow, low / kYear)},
                    {"high", text(Dimension::mass_flow,
                                  (leads ? std::max(mid.viscous, mid.molecular) : most) / kYear)},
                    {"pressure", text(Dimension::pressure, q_.p_service)}}});
    } else {
      answer_.say({"air_in_service", {}, {{"air", text(Dimension::mass_flow, air.high)}}});
    }
    return std::nullopt;
  }

  std::optional<Problem> water() {
    const double last = q_.readings.back().pressure;
    const auto boils = procedures::water_temperature(last);
    if (!boils) return boils.problem();
    answer_.figure("water_boils_at", Dimension::temperature, *boils, {{"target_vacuum", vacuum(last)}});
    answer_.figure_vacuum("water_own_pressure", water_,
                          {{"wet_temperature", text(Dimension::temperature, q_.T_wet)}});
    if (judged_.level)
      answer_.figure_vacuum("rise_level", judged_.level->mid,
                            {{"readings_taken", std::to_string(q_.readings.size())}});
    answer_.say({last < water_ ? "below_water" : "above_water",
                 {},
                 {{"last", vacuum(last)},
                  {"water", vacuum(water_)},
                  {"t", text(Dimension::temperature, q_.T_wet)},
                  {"boils", text(Dimension::temperature, *boils)}}});
    return std::nullopt;
  }

  void minutes() {
    if (!judged_.explained) return;
    if (!judged_.minutes_to_decide) {
      answer_.say({"not_in_two_hours", {}, {}});
    } else if (*judged_.minutes_to_decide > 0) {
      answer_.figure("rise_minutes", Dimension::duration, 60 * *judged_.minutes_to_decide,
                     {{"readings_taken", std::to_string(q_.readings.size())},
                      {"decided_share", percent_text(judged_.decided, answer_.display())}});
      answer_.say({"read_on", {}, {{"time", text(Dimension::duration, 60 * *judged_.minutes_to_decide)}}});
    } else {
      answer_.say({"decided", {}, {}});
    }
  }

  void plot() {
    Curve curve{"rise_course", "time", "vacuum_pressure", Dimension::duration, Dimension::pressure, true, {}};
    Curve::Line dots{"rise_measured", "measured", {}};
    for (const auto& r : q_.readings) dots.points.emplace_back(r.time, r.pressure);
    curve.lines.push_back(std::move(dots));
    const double from = q_.readings.front().time, span = q_.readings.back().time - from;
    for (std::size_t cause : order_) {
      Curve::Line line{std::string("rise_") + kCauses[cause], "predicted", {}};
      for (int i = 0; i <= 30; ++i) {
        const double t = from + 1.3 * span * i / 30;
        line.points.emplace_back(t, judged_.fit[cause].at(t));
      }
      curve.lines.push_back(std::move(line));
    }
    answer_.curve(curve);
  }

  static constexpr double kYear = 365.25 * 86400;
  const RiseQuestion& q_;
  const fluids::Fluid& fluid_;
  const DecayAnswer& judged_;
  double water_;
  ProcedureAnswer& answer_;
  std::array<std::size_t, procedures::kDecayCauses> order_{};
};

}  // namespace

Result<std::string> run_rise(std::string_view text, const Context& context) {
  auto request = opened_request(text, "rise", kRiseKeys);
  if (!request) return request.problem();
  const auto fluid = requested_fluid(*request);
  const base::SitePressure site = request->site();
  const auto units = request->units();
  std::optional<base::UnitSystem> spoken_in;
  if (request->problem()) return *request->problem();
  const auto question = ask_rise(*request, site, *fluid, spoken_in);
  if (!question) return question.problem();
  const auto water = procedures::water_pressure(question->T_wet);
  if (!water) return water.problem();
  const auto judged = procedures::judge_decay(question->readings, question->gauge, *water, question->seed);
  if (!judged) return judged.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const base::Display display{choose_units(units, spoken_in, context), site, wording->numerals()};
  ProcedureAnswer answer("rise", *wording, display);
  answer.refrigerant(*fluid);
  answer.caution({"caution_vacuum_compressor", {}, {}});
  if (treat_as_flammable(fluid->designation())) answer.caution({"caution_vacuum_reopen", {}, {}});
  answer.caution({"caution_defer", {}, {}});
  if (const auto problem = RiseTold(*question, *fluid, *judged, *water, answer).all()) return *problem;
  return answer.text();
}

}  // namespace coldwright::service

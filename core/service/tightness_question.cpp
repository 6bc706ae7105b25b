#include "service/tightness_question.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "procedures/plausible_machines.hpp"
#include "service/plate_request.hpp"
#include "service/procedure_inputs.hpp"
#include "service/property_answer.hpp"
#include "service/refrigerant_loader.hpp"
#include "service/test_readings.hpp"
#include "service/tool_parts.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using Spoken = std::optional<base::UnitSystem>;

constexpr int kTightnessMachines = 64;
// Where nobody says (our estimates): a digital gauge, a pocket thermometer on the pipe, a room without one.
constexpr double kResolution = 1e3, kTemperature = 0.3, kNoThermometer = 1.0, kTubeSpread = 0.15,
                 kVolumeShare = 0.05;
constexpr double kWanted =
    5e-3;  // kg a year, the finest leak that a search is asked to find (common practice)

bool yes(Request& request, const char* key, bool usual) {
  const auto word = choice(request, key, {"yes", "no"});
  return word ? *word == "yes" : usual;
}

procedures::Known mean_and_spread(const std::vector<double>& values) {
  double mean = 0, square = 0;
  for (const double v : values) mean += v / static_cast<double>(values.size());
  for (const double v : values) square += (v - mean) * (v - mean) / static_cast<double>(values.size());
  return {mean, std::sqrt(square)};
}

void read_sides(Request& request, TightnessQuestion& q, base::SitePressure site, Spoken& spoken_in) {
  const auto low = pressure(request, "low_plate", site, spoken_in),
             high = pressure(request, "high_plate", site, spoken_in);
  q.sides = {{"low side", low, yes(request, "low_connected", true)},
             {"high side", high, yes(request, "high_connected", true)}};
  q.wanted_pressure = pressure(request, "wanted_pressure", site, spoken_in);
  if (request.problem()) return;
  if (!q.sides[0].connected && !q.sides[1].connected) {
    request.fail({"low_connected", "neither side connected", "one side or both", "there is nothing to test"});
    return;
  }
  const auto allowed = procedures::allowed_test_pressure(q.sides);
  if (allowed) q.allowed = *allowed;
  if (!q.wanted_pressure) return;
  const std::string given = base::quoted(*request.text("wanted_pressure"));
  for (std::size_t i = 0; i < 2 && !allowed; ++i)
    if (q.sides[i].connected && !q.sides[i].plate_pressure) {
      request.fail(
          {i == 0 ? "low_plate" : "high_plate", "nothing",
           "the plate's pressure for that side, or the side taken off (low_connected or high_connected: no)",
           "what a side was made for can't be guessed"});
      return;
    }
  if (*q.wanted_pressure > *allowed) {
    const bool by_low = q.sides[0].connected && q.sides[0].plate_pressure == *allowed;
    const base::Display display{spoken_in.value_or(base::UnitSystem::us), site};
    request.fail({"wanted_pressure", given,
                  "up to " + base::show(Dimension::pressure, *allowed, display).text() +
                      (by_low ? ", the plate's for the low side" : ", the plate's for the high side"),
                  "the weakest part that is connected sets it"});
  } else if (!(*q.wanted_pressure > site.si)) {
    request.fail(
        {"wanted_pressure", given, "above the air's pressure", "a leak shows by what presses outwards"});
  }
}

std::optional<procedures::Known> volume_given(Request& request, const char* key, Spoken& spoken_in) {
  const auto volume = positive(request, key, Dimension::volume, spoken_in);
  if (!volume) return std::nullopt;
  return procedures::Known{*volume, spread(request, "volume_spread", Dimension::volume, *volume,
                                           kVolumeShare * *volume, spoken_in)};
}

// Volumes and tube: as given, else from the plausible machines.
void read_circuit(Request& request, TightnessQuestion& q, const std::optional<PlausiblePlate>& plate,
                  Spoken& spoken_in) {
  const auto whole = volume_given(request, "volume", spoken_in);
  const auto low = volume_given(request, "volume_low", spoken_in),
             high = volume_given(request, "volume_high", spoken_in);
  const auto bore = tube_bore(request, "tube_bore", spoken_in),
             length = tube_length(request, "tube_length", spoken_in);
  const auto flow_spread = share(request, "tube_spread", 1);
  const auto joined = choice(request, "joined", {"capillary", "open"});
  const auto fed = choice(request, "fed", {"low", "high", "both"}),
             gauge = choice(request, "gauge_side", {"low", "high"});
  if (request.problem()) return;
  std::vector<double> lows, highs, sums, bores, lengths, flows;
  if (plate)
    for (const circuit::Machine& m : plate->machines) {
      lows.push_back(procedures::low_volume(m));
      highs.push_back(procedures::high_volume(m));
      sums.push_back(lows.back() + highs.back());
      bores.push_back(m.capillary.diameter);
      lengths.push_back(m.capillary.length);
      flows.push_back(2.6 * std::log(m.capillary.diameter) - 0.5 * std::log(m.capillary.length));
    }
  q.volume_low = low ? *low : plate ? mean_and_spread(lows) : procedures::Known{};
  q.volume_high = high ? *high : plate ? mean_and_spread(highs) : procedures::Known{};
  const bool both = q.sides[0].connected && q.sides[1].connected;
  if (whole) {
    q.volume = *whole;
  } else if (both && low && high) {
    q.volume = {low->value + high->value, std::hypot(low->sigma, high->sigma)};
  } else if (!both && (q.sides[0].connected ? low : high)) {
    q.volume = q.sides[0].connected ? *low : *high;
  } else if (plate) {
    q.volume_from_plate = true;
    q.volume = both ? mean_and_spread(sums) : q.sides[0].connected ? q.volume_low : q.volume_high;
    if (both && (low || high))
      q.volume = {q.volume_low.value + q.volume_high.value,
                  std::hypot(q.volume_low.sigma, q.volume_high.sigma)};
  } else {
    request.fail({"volume", "nothing", "the volume under test, such as 2.5 L, or the kind of cabinet",
                  "without a volume a fall is no leak"});
    return;
  }
  const bool has_tube = bore && length;
  const bool through_tube = both && joined.value_or(has_tube || plate ? "capillary" : "open") == "capillary";
  if (!through_tube) return;
  if ((!has_tube && !plate) || !(q.volume_low.value > 0) || !(q.volume_high.value > 0)) {
    if (has_tube || joined)
      request.fail({!has_tube && !plate ? "tube_bore" : "volume_low", "nothing",
                    "tube_bore, tube_length, volume_low and volume_high, or the kind of cabinet",
                    "how fast two sides equalise takes all of them"});
    return;
  }
  q.tube_from_plate = !has_tube;
  const bool gauge_low = gauge.value_or("low") == "low";
  procedures::Joined j;
  j.sides = gauge_low ? procedures::TwoSides{q.volume_low.value, q.volume_high.value}
                      : procedures::TwoSides{q.volume_high.value, q.volume_low.value};
  j.tube = {bore.value_or(bores.empty() ? 0 : procedures::spread_interval(bores).mid),
            length.value_or(lengths.empty() ? 0 : procedures::spread_interval(lengths).mid), 1.5e-6};
  j.flow_spread =
      flow_spread.value_or(has_tube ? kTubeSpread : std::max(mean_and_spread(flows).sigma, kTubeSpread));
  const std::string fed_side = fed.value_or(gauge_low ? "low" : "high");
  j.fed = fed_side == "both"                 ? procedures::FedSide::both
          : (fed_side == "low") == gauge_low ? procedures::FedSide::gauge
                                             : procedures::FedSide::other;
  q.joined = j;
}

void read_readings(Request& request, TightnessQuestion& q, base::SitePressure site, Spoken& spoken_in) {
  const auto readings = test_readings(request, site, {"pressure"}, spoken_in);
  if (request.problem() || readings.empty()) return;
  const bool any = std::any_of(readings.begin(), readings.end(),
                               [](const TestReading& r) { return r.temperature.has_value(); });
  q.no_temperature = !any;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    if (any && !readings[i].temperature) {
      request.fail({"reading " + std::to_string(i + 1) + ", temperature", "nothing",
                    "a temperature with every reading, or with none",
                    "a pressure without one can't be brought to the others"});
      return;
    }
    if (any && !(*readings[i].temperature >= 213.15 && *readings[i].temperature <= 353.15)) {
      request.fail(
          {"reading " + std::to_string(i + 1) + ", temperature",
           base::show(Dimension::temperature, *readings[i].temperature, {base::UnitSystem::metric, site})
               .text(),
           "-60 to 80 °C", "nobody works on a circuit outside of it"});
      return;
    }
    q.readings.push_back({readings[i].seconds, *readings[i].pressure, readings[i].temperature.value_or(q.T)});
  }
  if (any) q.T = q.readings.front().temperature;
  if (readings.size() == 1) return;  // a start: what it can show, but no verdict yet
}

}  // namespace

double TightnessQuestion::test_pressure() const {
  return !readings.empty() ? readings.front().pressure : wanted_pressure.value_or(allowed.value_or(0));
}

const std::vector<std::string>& tightness_keys() {
  static const std::vector<std::string> all = [] {
    std::vector<std::string> keys{"refrigerant",
                                  "t",
                                  "volume",
                                  "volume_low",
                                  "volume_high",
                                  "volume_spread",
                                  "low_plate",
                                  "high_plate",
                                  "low_connected",
                                  "high_connected",
                                  "wanted_pressure",
                                  "gauge_resolution",
                                  "temperature_sigma",
                                  "to",
                                  "coldest_below",
                                  "wanted_leak",
                                  "service_pressure",
                                  "tracer",
                                  "tube_bore",
                                  "tube_length",
                                  "tube_spread",
                                  "joined",
                                  "fed",
                                  "gauge_side",
                                  "readings",
                                  "altitude",
                                  "barometer",
                                  "units"};
    keys.insert(keys.end(), plate_keys().begin(), plate_keys().end());
    return keys;
  }();
  return all;
}

Result<TightnessQuestion> ask_tightness(Request& request, base::SitePressure site, Spoken& spoken_in) {
  const auto plate = plausible_plate(request, kTightnessMachines, spoken_in);
  std::optional<fluids::Fluid> fluid;
  if (plate) fluid = plate->fluid;
  if (!plate && !request.problem()) fluid = requested_fluid(request);
  if (request.problem()) return *request.problem();
  auto nitrogen = load_fluid("R728");
  if (!nitrogen) return nitrogen.problem();
  TightnessQuestion q{*fluid, *nitrogen};
  q.p_air = site.si;
  q.T = site_temperature(request, "t", spoken_in).value_or(293.15);
  read_sides(request, q, site, spoken_in);
  if (!request.problem()) read_readings(request, q, site, spoken_in);
  if (!request.problem()) read_circuit(request, q, plate, spoken_in);
  const auto resolution = positive(request, "gauge_resolution", Dimension::pressure_difference, spoken_in);
  const auto sigma = positive(request, "temperature_sigma", Dimension::temperature_difference, spoken_in);
  q.gauge_assumed = !resolution;
  q.temperature_sigma_assumed = !sigma;
  q.gauge = {resolution.value_or(kResolution),
             sigma.value_or(q.no_temperature ? kNoThermometer : kTemperature)};
  q.to = site_temperature(request, "to", spoken_in);
  q.refrigerant_assumed = !request.has("refrigerant");
  q.coldest_below =
      positive(request, "coldest_below", Dimension::temperature_difference, spoken_in).value_or(0);
  q.wanted_leak =
      positive(request, "wanted_leak", Dimension::mass_flow, spoken_in).value_or(kWanted / (365.25 * 86400)) *
      (365.25 * 86400);
  q.tracer = share(request, "tracer", 0.5).value_or(0);
  const auto service = pressure(request, "service_pressure", site, spoken_in);
  if (request.problem()) return *request.problem();
  if (service) {
    q.service_pressure = *service;
  } else {
    const auto standing = q.fluid.bubble_pressure(std::min(q.T, q.fluid.T_two_phase_max()));
    if (!standing) return standing.problem();
    q.service_pressure = *standing;
  }
  const base::Display display{spoken_in.value_or(base::UnitSystem::us), site};
  if (!(q.service_pressure > 1.01 * site.si))
    return Problem{"service_pressure", base::show(Dimension::pressure, q.service_pressure, display).text(),
                   "above the air's pressure", "below it air leaks in instead"};
  if (q.test_pressure() == 0)
    return Problem{"wanted_pressure", "nothing", "the test pressure, the plates' pressures or readings",
                   "there is no answer without it"};
  if (!(q.test_pressure() > 1.01 * site.si))
    return Problem{q.readings.empty() ? "wanted_pressure" : "reading 1, pressure",
                   base::show(Dimension::pressure, q.test_pressure(), display).text(),
                   "above the air's pressure", "a leak shows by what presses outwards"};
  return q;
}

}  // namespace coldwright::service

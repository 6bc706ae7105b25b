#include "diagnosis/evidence.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::diagnosis {
namespace {

const ObservationModel::Given* find(const ObservationModel& m, std::string_view key) {
  for (const auto& given : m.given)
    if (given.cause == key) return &given;
  return nullptr;
}

double at(const ObservationModel::Given& g, std::size_t value, double severity_share) {
  const double as_known = g.at_mild[value] + (g.at_severe[value] - g.at_mild[value]) * severity_share;
  return (1 - kSaidAnyhow) * as_known + kSaidAnyhow / static_cast<double>(g.at_mild.size());
}

std::string list(const std::vector<std::string>& words) {
  std::string all;
  for (const auto& w : words) all += (all.empty() ? "" : ", ") + w;
  return all;
}

}  // namespace

bool can_be_seen(std::string_view subject, const Case& c, const Knowledge& k) {
  const auto kind = std::find_if(k.archetypes.begin(), k.archetypes.end(),
                                 [&](const auto& a) { return a.id == c.nameplate.archetype; });
  if (!c.nameplate.condenser && kind == k.archetypes.end()) return true;
  return is_there(subject, c.nameplate.condenser ? *c.nameplate.condenser : kind->condenser);
}

Result<Evidence> prepare(const Case& c, const Knowledge& k, double share) {
  Evidence e;
  e.readings = c.readings;
  const Strain far_off = strain(c);
  for (const Reading& r : e.readings)
    e.uncertainties.push_back(uncertainty(r, c.site_pressure, share, far_off));
  for (const Observation& o : c.observations) {
    const auto model = std::find_if(k.observations.begin(), k.observations.end(),
                                    [&](const auto& m) { return m.subject == o.subject; });
    if (model == k.observations.end()) {
      std::vector<std::string> subjects;
      for (const auto& m : k.observations) subjects.push_back(m.subject);
      return Problem{"observation", o.subject, list(subjects), "no such thing to look at"};
    }
    const auto value = std::find(model->values.begin(), model->values.end(), o.value);
    if (value == model->values.end())
      return Problem{o.subject, o.value, list(model->values), "not one of its states"};
    const double nothing = 1 / static_cast<double>(model->values.size());
    e.seen.push_back({&*model, static_cast<std::size_t>(value - model->values.begin()),
                      can_be_seen(o.subject, c, k) ? o.confidence : nothing});
  }
  return e;
}

// The first value of every observation is the unremarkable one. For a pair the cause that speaks against it
// most decides, since one visible fault is enough to be seen. What the motor does outranks the cause.
double observation_probability(const ObservationModel& m, std::size_t value, const Hypothesis& h,
                               const Knowledge& k, const Simulated& s) {
  // A motor that stands though its terminals are live is called for; so is the fan wired beside it.
  const bool live = s.readings[static_cast<std::size_t>(circuit::ReadingKind::terminal_voltage)] > 0;
  const auto* by_motor = s.mode == Mode::off && live ? find(m, "@called") : nullptr;
  if (!by_motor) by_motor = find(m, '@' + std::string(to_word(s.mode)));
  if (by_motor) return at(*by_motor, value, s.severity_share);
  const ObservationModel::Given* chosen = nullptr;
  double share = 0;
  for (std::size_t i = 0; i < h.causes.size(); ++i) {
    const auto* given = find(m, k.causes[static_cast<std::size_t>(h.causes[i])].id);
    const double s_i = i == 0 ? s.severity_share : s.severity_share_2;
    if (given && (!chosen || at(*given, 0, s_i) < at(*chosen, 0, share))) {
      chosen = given;
      share = s_i;
    }
  }
  if (!chosen) chosen = find(m, "*");
  return chosen ? std::max(at(*chosen, value, share), 1e-6) : 1;
}

double seen_probability(const Seen& seen, const Hypothesis& h, const Knowledge& k, const Simulated& s) {
  const double p = observation_probability(*seen.model, seen.value, h, k, s);
  if (seen.confidence >= 1) return p;
  const double others = std::max(1.0, static_cast<double>(seen.model->values.size()) - 1);
  return seen.confidence * p + (1 - seen.confidence) * std::max(1 - p, 0.0) / others;
}

double log_observations(const Evidence& e, const Hypothesis& h, const Knowledge& k, const Simulated& s) {
  double sum = 0;
  for (const Seen& seen : e.seen) sum += std::log(std::max(seen_probability(seen, h, k, s), 1e-9));
  return sum;
}

double log_readings(const Evidence& e, const Simulated& s) {
  double sum = 0;
  for (std::size_t i = 0; i < e.readings.size(); ++i)
    sum += log_likelihood(e.readings[i], e.uncertainties[i],
                          s.readings[static_cast<std::size_t>(e.readings[i].kind)]);
  return sum;
}

}  // namespace coldwright::diagnosis

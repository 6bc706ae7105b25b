#include "practice/judge.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "diagnosis/evidence.hpp"
#include "procedures/repair_needs.hpp"

namespace coldwright::practice {
namespace {

using diagnosis::Extra;
using diagnosis::Hypothesis;
using diagnosis::Latents;
using diagnosis::Mode;
using diagnosis::Simulated;
using diagnosis::Unit;

constexpr double kMostNats = 3;  // beyond that one sign tells as well as another
constexpr double kPlainNats = 0.8;

std::vector<std::string> sorted_causes(std::string_view id) {
  std::vector<std::string> causes = procedures::causes_in(id);
  std::sort(causes.begin(), causes.end());
  return causes;
}

std::string_view family(std::string_view cause) {
  static constexpr std::array<std::pair<std::string_view, std::string_view>, 17> families{
      {{"dirty_condenser", "condenser_air"},
       {"condenser_fan", "condenser_air"},
       {"evaporator_fan", "evaporator_air"},
       {"iced_evaporator", "evaporator_air"},
       {"low_charge", "charge"},
       {"overcharge", "charge"},
       {"noncondensable", "foreign_gas"},
       {"restriction", "capillary"},
       {"moisture_freeze", "capillary"},
       {"worn_valves", "compressor"},
       {"not_pumping", "compressor"},
       {"pumping_lost_at_times", "compressor"},
       {"control", "electrical"},
       {"start_or_winding", "electrical"},
       {"low_voltage", "electrical"},
       {"high_load", "load"},
       {"sound", "load"}}};
  for (const auto& [id, name] : families)
    if (id == cause) return name;
  return cause;
}

/// This machine with these causes in it, at box temperature `box`.
Simulated with(const Visit& v, const Hypothesis& h, Latents z, double box) {
  diagnosis::Scene scene = scene_of(v);
  scene.box = box;
  return diagnosis::simulate(scene, h, z);
}

double misfit(const Visit& v, const Walk& w, const Hypothesis& h, const Simulated& s) {
  const auto evidence = diagnosis::prepare(w.the_case, *v.knowledge);
  if (!evidence || !s.ok) return 1e300;
  return -diagnosis::log_readings(*evidence, s) - diagnosis::log_observations(*evidence, h, *v.knowledge, s);
}

/// The wrong cause as bad, and in the form, as explains best what the apprentice read.
std::optional<Simulated> best_case_for(const Visit& v, const Hypothesis& h, const Walk& w) {
  std::optional<Simulated> best;
  double least = 1e299;
  for (const double share : {0.1, 0.3, 0.5, 0.7, 0.9})
    for (const double variant : {0.2, 0.8}) {
      Latents z = v.machine;
      for (const Extra e : {Extra::severity, Extra::severity_2})
        z[diagnosis::index(e)] = normal_quantile(share);
      for (const Extra e : {Extra::variant, Extra::variant_2})
        z[diagnosis::index(e)] = normal_quantile(variant);
      const Simulated s = with(v, h, z, w.box);
      const double off = misfit(v, w, h, s);
      if (off >= least) continue;
      least = off;
      best = s;
    }
  return best;
}

/// Kullback-Leibler divergence of two normals of one width, and of two lists of chances.
double nats(double a, double b, double sigma) { return 0.5 * (a - b) * (a - b) / (sigma * sigma); }

std::size_t likeliest(const std::vector<double>& p) {
  return static_cast<std::size_t>(std::max_element(p.begin(), p.end()) - p.begin());
}

std::vector<double> chances(const Visit& v, const diagnosis::ObservationModel& model, const Hypothesis& h,
                            const Simulated& s) {
  std::vector<double> p;
  for (std::size_t i = 0; i < model.values.size(); ++i)
    p.push_back(diagnosis::observation_probability(model, i, h, *v.knowledge, s));
  return p;
}

Sign sign_of(const Visit& v, const Action& action, const Hypothesis& decision, const Simulated& truth,
             const Simulated& other) {
  Sign sign;
  sign.action = action;
  if (action.reading) {
    const auto i = static_cast<std::size_t>(*action.reading);
    const diagnosis::Reading r{*action.reading, truth.readings[i], std::nullopt, std::nullopt, ""};
    sign.with_truth = truth.readings[i];
    sign.with_decision = other.readings[i];
    sign.nats = nats(diagnosis::scale(r.kind, truth.readings[i]), diagnosis::scale(r.kind, other.readings[i]),
                     diagnosis::uncertainty(r, v.site_pressure).total);
  } else {
    const auto p = chances(v, *action.look, v.truth, truth), q = chances(v, *action.look, decision, other);
    sign.seen_with_truth = action.look->values[likeliest(p)];
    sign.seen_with_decision = action.look->values[likeliest(q)];
    for (std::size_t i = 0; i < p.size(); ++i)
      if (p[i] > 0) sign.nats += p[i] * std::log(p[i] / std::max(q[i], 1e-9));
    if (sign.seen_with_truth == sign.seen_with_decision) sign.nats = 0;
  }
  return sign;
}

double weight(const Cost& c) { return c.minutes + 2 * c.grams + (c.opens ? kOpeningMinutes : 0); }

struct Quantity {
  const char* name;
  Unit unit;
  double spread;  // among machines of one kind, our estimate
  bool relative;  // the spread is a share of the sound one's
  double (*of)(const Simulated&);
};
constexpr Quantity kQuantities[] = {
    {"superheat", Unit::temperature_difference, 4, false,
     [](const Simulated& s) { return s.point.superheat; }},
    {"subcooling", Unit::temperature_difference, 3, false,
     [](const Simulated& s) { return s.point.subcooling; }},
    {"evaporator_td", Unit::temperature_difference, 3, false,
     [](const Simulated& s) { return s.true_box - s.point.T_evaporating; }},
    {"condenser_split", Unit::temperature_difference, 3, false,
     [](const Simulated& s) { return s.point.T_condensing - s.true_ambient; }},
    {"suction_pressure", Unit::pressure, 0.15, true, [](const Simulated& s) { return s.point.p_suction; }},
    {"discharge_pressure", Unit::pressure, 0.1, true, [](const Simulated& s) { return s.point.p_discharge; }},
    {"discharge_temperature", Unit::temperature, 9, false,
     [](const Simulated& s) { return s.point.T_discharge; }},
    {"compressor_current", Unit::current, 0.12, true, [](const Simulated& s) { return s.point.current; }},
};

}  // namespace

std::string_view to_word(Grade grade) {
  switch (grade) {
    case Grade::right:
      return "right";
    case Grade::nearly:
      return "nearly";
    case Grade::wrong:
      return "wrong";
  }
  return "";
}

Grade grade_of(std::string_view truth, std::string_view decision) {
  const auto real = sorted_causes(truth), said = sorted_causes(decision);
  if (real == said) return Grade::right;
  for (const std::string& a : real)
    for (const std::string& b : said)
      if (family(a) == family(b)) return Grade::nearly;
  return Grade::wrong;
}

Result<Hypothesis> decision_named(std::string_view id, const Visit& v) {
  const auto wanted = sorted_causes(id);
  for (const Hypothesis& h : diagnosis::hypotheses(*v.knowledge, v.kind.condenser))
    if (sorted_causes(h.id) == wanted) return h;
  return Problem{"decision", "\"" + std::string(id.substr(0, 60)) + "\"",
                 "a cause, such as low_charge, or two joined by +",
                 "it isn't a cause that this cabinet can have"};
}

std::optional<Sign> sign_between(const Visit& v, const Hypothesis& decision, const Walk& w) {
  const Simulated truth = with(v, v.truth, v.machine, w.box);
  const auto other = best_case_for(v, decision, w);
  if (!truth.ok || !other) return std::nullopt;
  std::optional<Sign> best;
  double most = 0;
  const Walk fresh = arrive(v);
  for (const Action& action : actions(*v.knowledge)) {
    if (action.waits()) continue;
    Sign sign = sign_of(v, action, decision, truth, *other);
    if (sign.nats < kPlainNats) continue;
    sign.cost = cost_of(fresh, action);
    const double worth = std::min(sign.nats, kMostNats) / weight(sign.cost);
    if (worth <= most) continue;
    most = worth;
    sign.taken =
        std::any_of(w.steps.begin(), w.steps.end(), [&](const Step& s) { return s.action.id == action.id; });
    best = std::move(sign);
  }
  return best;
}

Lesson lesson_of(const Visit& v, double box, std::size_t most) {
  Lesson out;
  const Simulated now = with(v, v.truth, v.machine, box);
  const auto sound_one = decision_named("sound", v);
  if (!now.ok || !sound_one) return out;
  const Simulated sound = with(v, *sound_one, v.machine, box);
  out.mode = now.mode;
  if (!sound.ok || sound.mode != Mode::running) return out;
  const bool flows = now.mode == Mode::running && now.point.summary.status == circuit::Status::converged;
  const bool shows = flows || now.mode == Mode::tripped;  // a tripped one as it is on the way to the trip
  out.capacity_share = flows ? std::max(now.point.capacity, 0.0) / std::max(sound.point.capacity, 1.0) : 0;
  if (now.mode != Mode::running && now.mode != Mode::tripped) return out;
  for (const Quantity& q : kQuantities) {
    const bool of_flow = q.unit == Unit::temperature_difference;
    if (of_flow && !shows) continue;
    const double a = q.of(sound), b = q.of(now);
    const double spreads = (b - a) / (q.relative ? q.spread * a : q.spread);
    if (std::abs(spreads) > 0.7) out.changes.push_back({q.name, q.unit, a, b, spreads});
  }
  std::stable_sort(out.changes.begin(), out.changes.end(), [](const Change& a, const Change& b) {
    return std::abs(a.spreads) > std::abs(b.spreads);
  });
  if (out.changes.size() > most) out.changes.resize(most);
  return out;
}

}  // namespace coldwright::practice

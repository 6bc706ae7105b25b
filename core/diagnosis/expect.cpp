// What a sound machine of this kind should be reading: now, and at its set point; and where the rules of
// thumb part from it.
#include <algorithm>
#include <cmath>

#include "diagnosis/diagnose.hpp"
#include "diagnosis/findings.hpp"

namespace coldwright::diagnosis {
namespace {

// Rules of thumb of the trade (common practice): evaporator TD 10-20 F, condenser split 20-30 F, superheat at
// the coil 5-12 F, subcooling 5-15 F.
struct Rule {
  const char* quantity;
  Interval range;  // K
};
constexpr double kFahrenheit = 5.0 / 9.0;
constexpr Rule kRules[] = {
    {"evaporator_td", {10 * kFahrenheit, 15 * kFahrenheit, 20 * kFahrenheit}},
    {"condenser_split", {20 * kFahrenheit, 25 * kFahrenheit, 30 * kFahrenheit}},
    {"superheat", {5 * kFahrenheit, 8 * kFahrenheit, 12 * kFahrenheit}},
    {"subcooling", {5 * kFahrenheit, 10 * kFahrenheit, 15 * kFahrenheit}},
};

struct Crowd {
  std::vector<Simulated> machines;
  ExpectedState state;
  int unsolved = 0;
};

Crowd crowd(const Scene& scene, const Hypothesis& sound, int count, const RandomStream& random) {
  Crowd c;
  c.state.ambient = scene.ambient;
  c.state.box = scene.box;
  for (const Particle& p : draw_prior(scene, sound, count, random).particles) {
    if (p.sim.ok) {
      c.machines.push_back(p.sim);
    } else {
      ++c.unsolved;
    }
  }
  for (const auto& row : circuit::reading_table()) {
    std::vector<Weighted> v;
    for (const Simulated& s : c.machines) v.push_back({s.readings[static_cast<std::size_t>(row.kind)], 1});
    c.state.readings.push_back({row.kind, interval_of(std::move(v))});
  }
  std::vector<std::pair<const Simulated*, double>> all;
  for (const Simulated& s : c.machines) all.emplace_back(&s, 1.0);
  c.state.quantities = quantities(all, false);
  return c;
}

Interval quantity(const ExpectedState& s, const std::string& name) {
  for (const Unseen& u : s.quantities)
    if (u.quantity == name) return u.interval;
  return {0, 0, 0};
}

bool apart(const Interval& physics, const Interval& rule) {
  return physics.mid > rule.high || physics.mid < rule.low;
}

RuleOfThumb judge(const Rule& rule, const Crowd& now, const Crowd& settled) {
  RuleOfThumb r{rule.quantity,
                rule.range,
                quantity(now.state, rule.quantity),
                quantity(settled.state, rule.quantity),
                {}};
  const auto values = [&](const Interval& physics) {
    return std::vector<Value>{{"physics", Unit::temperature_difference, physics.mid},
                              {"low", Unit::temperature_difference, rule.range.low},
                              {"high", Unit::temperature_difference, rule.range.high}};
  };
  if (apart(r.physics_now, r.rule))
    r.where_they_part.push_back(
        {r.physics_now.mid > r.rule.high ? "rule_below_physics_now" : "rule_above_physics_now",
         values(r.physics_now),
         {{"quantity", rule.quantity}}});
  if (apart(r.physics_set_point, r.rule))
    r.where_they_part.push_back(
        {r.physics_set_point.mid > r.rule.high ? "rule_below_physics_settled" : "rule_above_physics_settled",
         values(r.physics_set_point),
         {{"quantity", rule.quantity}}});
  const double shift = r.physics_now.mid - r.physics_set_point.mid;
  if (std::abs(shift) > 2)
    r.where_they_part.push_back({shift > 0 ? "larger_while_pulling_down" : "smaller_while_pulling_down",
                                 {{"now", Unit::temperature_difference, r.physics_now.mid},
                                  {"settled", Unit::temperature_difference, r.physics_set_point.mid},
                                  {"box", Unit::temperature, now.state.box},
                                  {"set_point", Unit::temperature, settled.state.box}},
                                 {{"quantity", rule.quantity}}});
  return r;
}

}  // namespace

Result<Expectation> expect(const Case& c, const fluids::Fluid& fluid, const Knowledge& knowledge,
                           const Options& options) {
  const auto working = circuit::WorkingFluid::make(fluid);
  if (!working) return working.problem();
  const auto setting = set_scene(c, *working, knowledge);
  if (!setting) return setting.problem();
  Scene scene = setting->scene;
  scene.kind = &setting->kind;
  scene.not_cooling = false;
  scene.prior = options.prior.get();
  Hypothesis sound{{}, "sound", 0};
  for (std::size_t i = 0; i < knowledge.causes.size(); ++i)
    if (knowledge.causes[i].id == "sound") sound.causes = {static_cast<int>(i)};
  const int count = std::max(options.population * 3, 300);
  const RandomStream random(options.seed);
  const Crowd now = crowd(scene, sound, count, random);
  if (options.progress && !options.progress(0.5))
    return Problem{"expectation", "cancelled", "let it run", "it was stopped from outside"};
  scene.box = c.nameplate.set_point.value_or(setting->kind.set_point_K);
  scene.box_sigma = 0.5;
  const Crowd settled = crowd(scene, sound, count, random);

  Expectation e;
  e.now = now.state;
  e.set_point = settled.state;
  for (const Rule& rule : kRules) e.rules.push_back(judge(rule, now, settled));
  e.quality.effective_sample_size = e.quality.smallest_effective_size =
      static_cast<double>(now.machines.size());
  e.quality.solves = 2 * count;
  e.quality.unsolved = now.unsolved + settled.unsolved;
  e.quality.trustworthy = now.machines.size() > 50;
  e.quality.remarks = setting->remarks;
  e.sources = {"churchill1977", "mcadams1942", "zivi1964", "common-practice", "our-estimate"};
  return e;
}

}  // namespace coldwright::diagnosis

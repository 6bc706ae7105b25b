#include "diagnosis/own_quantity.hpp"

#include <cmath>

#include "diagnosis/findings.hpp"

namespace coldwright::diagnosis {
namespace {

constexpr double kRoom = 298.15;   // K
constexpr double kHalfStep = 0.1;  // in latent standard deviations

double of(std::string_view name, const Simulated& s) {
  if (name == "evaporator_td") return s.true_box - s.point.T_evaporating;
  if (name == "condenser_split") return s.point.T_condensing - s.true_ambient;
  if (name == "superheat") return s.point.superheat;
  if (name == "subcooling") return s.point.subcooling;
  if (name == "compressor_current") return s.point.current;
  return s.point.capacity;
}

}  // namespace

const std::vector<OwnQuantity>& own_quantities() {
  static const std::vector<OwnQuantity> rows{
      {"evaporator_td", Unit::temperature_difference}, {"condenser_split", Unit::temperature_difference},
      {"superheat", Unit::temperature_difference},     {"subcooling", Unit::temperature_difference},
      {"compressor_current", Unit::current},           {"capacity", Unit::power}};
  return rows;
}

Result<std::unique_ptr<AtSetPoint>> AtSetPoint::open(const circuit::Nameplate& plate,
                                                     std::shared_ptr<const circuit::WorkingFluid> fluid,
                                                     const Knowledge& knowledge) {
  std::unique_ptr<AtSetPoint> made(new AtSetPoint);
  made->case_.nameplate = plate;
  made->case_.ambient = kRoom;
  auto setting = set_scene(made->case_, *fluid, knowledge);
  if (!setting) return setting.problem();
  made->fluid_ = std::move(fluid);
  made->kind_ = setting->kind;
  made->scene_ = setting->scene;
  made->scene_.kind = &made->kind_;
  made->scene_.box = plate.set_point.value_or(made->kind_.set_point_K);
  made->scene_.ambient_sigma = made->scene_.box_sigma = 0;
  made->sound_ = {{}, "sound", 0};
  return made;
}

std::optional<double> AtSetPoint::value(std::string_view quantity, const Latents& latents) const {
  const Simulated s = simulate(scene_, sound_, latents);
  if (!s.ok || s.mode != Mode::running) return std::nullopt;
  return of(quantity, s);
}

std::optional<Latents> AtSetPoint::gradient(std::string_view quantity, const Latents& latents) const {
  Latents g{};
  for (std::size_t i = 0; i < kLatents; ++i) {
    if (!stays_with_the_machine(i)) continue;
    Latents up = latents, down = latents;
    up[i] += kHalfStep;
    down[i] -= kHalfStep;
    const auto high = value(quantity, up), low = value(quantity, down);
    if (!high || !low) return std::nullopt;
    g[i] = (*high - *low) / (2 * kHalfStep);
  }
  return g;
}

std::vector<AtSetPoint::Row> AtSetPoint::quantities(const UnitPrior* belief, int count) const {
  Scene scene = scene_;
  scene.prior = belief;
  const PriorDraws draws = draw_prior(scene, sound_, count, RandomStream(1));
  std::vector<Row> rows;
  for (const OwnQuantity& q : own_quantities()) {
    std::vector<Weighted> v;
    for (const Particle& p : draws.particles)
      if (p.sim.ok && p.sim.mode == Mode::running) v.push_back({of(q.name, p.sim), 1});
    rows.push_back({q, interval_of(std::move(v))});
  }
  return rows;
}

}  // namespace coldwright::diagnosis

// What the diagnosis tests share: a cabinet with its surroundings, machines of it with a chosen cause, and
// the case a technician would bring from such a machine.
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "diagnosis/evidence.hpp"
#include "service/knowledge_loader.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::test {

using circuit::ReadingKind;
using diagnosis::Answer;
using diagnosis::Case;
using diagnosis::Extra;
using diagnosis::Hypothesis;
using diagnosis::Simulated;

/// One kind of cabinet with its refrigerant, loaded once; plate and surroundings are the test's to change.
class Desk {
 public:
  explicit Desk(const std::string& cabinet, double charge = 0, double rated_current = 0)
      : knowledge_(physics_alone()), fluid_(fluid_of(knowledge_, cabinet)), working_(table(fluid_)) {
    for (const auto& kind : knowledge_.archetypes)
      if (kind.id == cabinet) kind_ = kind;
    plate.archetype = cabinet;
    plate.charge = charge > 0 ? charge : kind_.charge.median;
    plate.rated_current = rated_current > 0 ? rated_current : kind_.rated_current.median;
    box = kind_.set_point_K + 8;
  }
  Desk(const Desk&) = delete;
  Desk& operator=(const Desk&) = delete;

  circuit::Nameplate plate;
  double ambient = 273.15 + 27, box;  // K
  double site_pressure = 101325;      // Pa
  bool not_cooling = true;
  int population = 40;  // a quarter of what a call gets: the promises hold for it too, in less time
  std::uint64_t seed = 1;

  /// Leaves pairs of causes out, for the tests that make many calls with one fault each: pairs take most of
  /// the time of a call. What is held then is held of single causes.
  void single_causes_only() { knowledge_.pair_weight = 0; }

  /// The learned correction. None at first: the tests' machines come from circuit/ itself, which has nothing
  /// to learn about them.
  void correct_by(std::optional<diagnosis::Correction> correction) {
    knowledge_.correction = std::move(correction);
  }

  /// As if no refrigerant's safety class were known.
  void no_safety_classes() { knowledge_.no_flame.clear(); }

  const diagnosis::Knowledge& knowledge() const { return knowledge_; }
  const fluids::Fluid& fluid() const { return fluid_; }
  const circuit::WorkingFluid& working() const { return working_; }
  const circuit::Archetype& kind() const { return kind_; }

  diagnosis::Scene scene() const {
    diagnosis::Scene s{};
    s.plate = &plate;
    s.kind = &kind_;
    s.fluid = &working_;
    s.knowledge = &knowledge_;
    s.ambient = ambient;
    s.box = box;
    s.ambient_sigma = s.box_sigma = 0.5;
    s.site_pressure = site_pressure;
    s.not_cooling = not_cooling;
    return s;
  }

  /// "low_charge", or "dirty_condenser+low_charge" with its parts in either order.
  Hypothesis hypothesis(const std::string& id) const {
    const auto plus = id.find('+');
    const std::string other = plus == std::string::npos ? id : id.substr(plus + 1) + "+" + id.substr(0, plus);
    for (const Hypothesis& h : diagnosis::hypotheses(knowledge_, kind_.condenser))
      if (h.id == id || h.id == other) return h;
    ADD_FAILURE() << "no hypothesis " << id;
    return {};
  }

  using Held = std::vector<std::pair<Extra, double>>;
  /// The first machine of this seed that computes and would have been called for; `held` latents are not
  /// drawn.
  Simulated machine(const std::string& cause, std::uint64_t of_seed, const Held& held = {}) const {
    const Hypothesis h = hypothesis(cause);
    for (std::uint64_t tried = 0; tried < 500; ++tried) {
      const RandomStream random = RandomStream(of_seed).fork(tried);
      diagnosis::Latents z{};
      for (std::size_t i = 0; i < z.size(); ++i) z[i] = random.fork(i).normal();
      for (const auto& [extra, value] : held) z[diagnosis::index(extra)] = value;
      Simulated s = diagnosis::simulate(scene(), h, z);
      if (s.ok && random.fork(1000).uniform() < s.complaint) return s;
    }
    ADD_FAILURE() << "no machine with " << cause;
    return {};
  }

  Case blank() const {
    Case c;
    c.nameplate = plate;
    c.ambient = ambient;
    c.box = box;
    c.site_pressure = site_pressure;
    if (not_cooling) see(c, "complaint", "not_cooling");
    return c;
  }

  static void see(Case& c, const std::string& subject, const std::string& value) {
    c.observations.push_back({subject, value, subject});
  }

  static double shown(const Simulated& s, ReadingKind kind) {
    return s.readings[static_cast<std::size_t>(kind)];
  }

  /// Reads these off the machine; the instruments err when `noise` is not 0.
  void read(Case& c, const Simulated& s, const std::vector<ReadingKind>& kinds,
            std::uint64_t noise = 0) const {
    for (ReadingKind kind : kinds) read_one(c, kind, shown(s, kind), noise);
  }
  void read_one(Case& c, ReadingKind kind, double value, std::uint64_t noise = 0) const {
    diagnosis::Reading r{kind, value, std::nullopt, std::nullopt, std::string(circuit::info(kind).id)};
    if (noise != 0) {
      RandomStream random = RandomStream(noise).fork(500 + static_cast<std::uint64_t>(kind));
      const double step = diagnosis::uncertainty(r, site_pressure, 0).instrument * random.normal();
      r.value = circuit::info(kind).quantity == circuit::QuantityKind::resistance
                    ? value * std::exp(step)
                    : std::max(value + step, 0.0);
    }
    c.readings.push_back(r);
  }

  Answer diagnose(const Case& c) const {
    diagnosis::Options options;
    options.seed = seed;
    options.population = population;
    auto answer = diagnosis::diagnose(c, fluid_, knowledge_, options);
    if (!answer) {
      ADD_FAILURE() << to_text(answer.problem());
      return {};
    }
    return std::move(*answer);
  }

 private:
  static diagnosis::Knowledge physics_alone() {
    diagnosis::Knowledge k = *service::load_knowledge();
    k.correction.reset();
    return k;
  }
  static fluids::Fluid fluid_of(const diagnosis::Knowledge& k, const std::string& cabinet) {
    for (const auto& kind : k.archetypes)
      if (kind.id == cabinet) return *service::load_fluid(kind.refrigerant);
    std::fprintf(stderr, "no cabinet %s\n", cabinet.c_str());
    std::abort();
  }
  static circuit::WorkingFluid table(const fluids::Fluid& fluid) {
    return *circuit::WorkingFluid::make(fluid);
  }

  diagnosis::Knowledge knowledge_;
  fluids::Fluid fluid_;
  circuit::WorkingFluid working_;
  circuit::Archetype kind_;
};

inline double probability(const Answer& a, const std::string& cause) {
  for (const auto& c : a.causes)
    if (c.cause == cause) return c.probability;
  return 0;
}

/// Of a cause alone or in a pair.
inline double probability_with(const Answer& a, const std::string& cause) {
  double sum = 0;
  for (const auto& c : a.causes)
    if (("+" + c.cause + "+").find("+" + cause + "+") != std::string::npos) sum += c.probability;
  return sum;
}

inline std::string leader(const Answer& a) { return a.causes.empty() ? "" : a.causes.front().cause; }

inline const diagnosis::Statement* reason(const Answer& a, const std::string& key) {
  for (const auto& s : a.reasons)
    if (s.key == key) return &s;
  return nullptr;
}

inline double value(const diagnosis::Statement& s, const std::string& name) {
  for (const auto& v : s.values)
    if (v.name == name) return v.value;
  ADD_FAILURE() << s.key << " has no " << name;
  return std::nan("");
}

inline const diagnosis::Unseen* unseen(const Answer& a, const std::string& quantity) {
  for (const auto& u : a.unseen)
    if (u.quantity == quantity) return &u;
  return nullptr;
}

inline std::string ranking(const Answer& a) {
  std::string text;
  for (std::size_t i = 0; i < a.causes.size() && i < 5; ++i)
    text += a.causes[i].cause + " " + std::to_string(a.causes[i].probability) + "; ";
  return text;
}

/// All clamps of a thorough visit without a gauge, and the current.
inline std::vector<ReadingKind> clamps() {
  using enum ReadingKind;
  return {compressor_current, condenser_middle_temp, liquid_line_temp,      discharge_line_temp,
          suction_line_temp,  evaporator_inlet_temp, evaporator_outlet_temp};
}

}  // namespace coldwright::test

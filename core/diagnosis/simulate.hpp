// What one drawn machine under one hypothesis would show: the bridge from latents to readings.
#pragma once

#include <array>
#include <optional>

#include "circuit/operating_point.hpp"
#include "diagnosis/causes.hpp"
#include "diagnosis/unit_prior.hpp"

namespace coldwright::diagnosis {

/// Everything about a call that stays the same for every drawn machine.
struct Scene {
  const circuit::Nameplate* plate;
  const circuit::Archetype* kind;
  const circuit::WorkingFluid* fluid;
  const Knowledge* knowledge;
  double ambient, ambient_sigma;             // K
  double box, box_sigma;                     // K
  double site_pressure;                      // Pa
  bool not_cooling;                          // the complaint: the box doesn't hold its set point
  bool no_complaint = false;                 // someone said that it does
  circuit::Shift shift{};                    // all ones outside the evaluation
  double pull_low = 0.02, pull_high = 0.12;  // a clamp's pull to the surrounding air
  double doubt = 0;                  // how far the world may differ from the population described; 1 in use
  const UnitPrior* prior = nullptr;  // what earlier calls tell of this machine; none: any of its kind
  double let_out = 0;  // kg gone from the machine since the call began; practice reckons with it
};

/// A machine that could not be computed has ok = false and weighs nothing.
struct Simulated {
  bool ok = false;
  Mode mode = Mode::running;
  std::array<double, circuit::kReadingKinds>
      readings{};  // what a perfect instrument, clamp pull included, shows
  circuit::OperatingPoint point;
  double severity = 0, severity_2 = 0;              // in the causes' own measures
  double severity_share = 0, severity_share_2 = 0;  // 0 mild .. 1 severe
  double complaint = 1;    // chance of what was said of the box: that it doesn't hold, or that it does
  bool by_degree = false;  // the complaint depends on how bad it is and on the weather
  double unloaded_current = 0;
  double charge = 0;  // kg in it
  double true_ambient = 0, true_box = 0;
  double capacity_at_set_point = 0, load = 0;  // W, when the complaint was asked
};

/// A machine as its latents and its causes make it, before anything is asked of it.
struct Built {
  circuit::Machine machine;
  Effects effects;
  circuit::Conditions conditions;  // the true ones, not those read
};
/// Empty when the latents give no machine.
std::optional<Built> build(const Scene& scene, const Hypothesis& hypothesis, const Latents& z);
/// How this drawn machine's world differs from the population described: scene.shift and, by scene.doubt, a
/// share of these latents. machine_from() with it gives the machine that simulate() computed.
circuit::Shift doubted(const Scene& scene, const Latents& z);

/// `near`: a solution for similar latents under the same hypothesis, to start from.
Simulated simulate(const Scene& scene, const Hypothesis& hypothesis, const Latents& z,
                   const circuit::Solution* near = nullptr);

}  // namespace coldwright::diagnosis

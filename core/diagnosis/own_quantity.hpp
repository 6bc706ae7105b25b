// What is remembered of a machine in words a technician uses: quantities of the sound machine at its set
// point in a room of 25 C, each a function of its latents.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "diagnosis/answer.hpp"
#include "diagnosis/diagnose.hpp"
#include "diagnosis/lesson.hpp"

namespace coldwright::diagnosis {

struct OwnQuantity {
  std::string_view name;  // "evaporator_td"
  Unit unit;
};
/// Evaporator TD, condenser split, superheat, subcooling, running current, capacity.
const std::vector<OwnQuantity>& own_quantities();

/// A sound machine of this plate, at its set point in a room of 25 C.
class AtSetPoint {
 public:
  static Result<std::unique_ptr<AtSetPoint>> open(const circuit::Nameplate& plate,
                                                  std::shared_ptr<const circuit::WorkingFluid> fluid,
                                                  const Knowledge& knowledge);

  /// SI; empty where the latents give no machine that runs.
  std::optional<double> value(std::string_view quantity, const Latents& latents) const;
  /// Slope by differences at `latents`, of what stays with the machine.
  std::optional<Latents> gradient(std::string_view quantity, const Latents& latents) const;
  /// Over `count` machines drawn from a belief.
  struct Row {
    OwnQuantity quantity;
    Interval interval;
  };
  std::vector<Row> quantities(const UnitPrior* belief, int count) const;

 private:
  AtSetPoint() = default;
  Case case_;
  std::shared_ptr<const circuit::WorkingFluid> fluid_;
  circuit::Archetype kind_;
  Scene scene_{};
  Hypothesis sound_;
};

}  // namespace coldwright::diagnosis

// One case under investigation. What every drawing of machines for it needs is prepared once; each drawing
// gives a share of the posterior, shares pool (pool.hpp), and an answer is made of what there is. diagnose()
// is one share and its answer; a diagnosis that grows pools many.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <vector>

#include "diagnosis/diagnose.hpp"
#include "diagnosis/findings.hpp"

namespace coldwright::diagnosis {

/// What one drawing of machines, or several pooled, tell of the case.
struct Share {
  Posterior posterior;
  std::vector<Particle> sound;  // prior draws of a sound machine in these conditions
  int population = 0;           // machines drawn per cause
  int population_paired = 0;    // of them in drawings that looked at pairs of causes as well
};

/// How to draw one share.
struct Drawing {
  int population;
  bool pairs;  // whether to look at pairs of causes as well, which takes most of the time
  RandomStream random;
};

/// Machines drawn before any evidence is weighed. They depend on the plate, the surroundings and the
/// complaint alone, so one drawing serves every set of readings of a call; pairs join it as they are first
/// looked at.
struct Machines {
  int population = 0;
  RandomStream random;
  std::vector<PriorDraws> singles;          // in the order of hypotheses()
  std::map<std::size_t, PriorDraws> pairs;  // by place in hypotheses()
};

class Investigation {
 public:
  /// Keeps references: case and knowledge must outlive it. `prior`: what is remembered of this machine.
  static Result<std::unique_ptr<Investigation>> open(const Case& the_case,
                                                     std::shared_ptr<const circuit::WorkingFluid> fluid,
                                                     const Knowledge& knowledge,
                                                     std::shared_ptr<const UnitPrior> prior = nullptr);

  /// `progress` as in Options; a Problem when it said stop.
  Result<Share> draw(const Drawing& drawing, const std::function<bool(double)>& progress) const;
  /// draw() in its two steps, for weighing one drawing against several sets of evidence of the same scene:
  /// the same machines and evidence give the same share. `weigh` adds the pairs that it looks at.
  Result<Machines> draw_machines(const Drawing& drawing, const std::function<bool(double)>& progress) const;
  Result<Share> weigh(Machines& machines, bool pairs, const std::function<bool(double)>& progress) const;
  Answer answer(const Share& share) const;

  /// Every hypothesis of this kind of machine, singles first, in the order that shares keep.
  const std::vector<Hypothesis>& hypotheses() const { return hypotheses_; }
  std::size_t place_of(const Hypothesis& h) const;
  const Scene& scene() const { return scene_; }
  const Evidence& evidence() const { return evidence_; }

 private:
  Investigation(const Case& the_case, const Knowledge& knowledge,
                std::shared_ptr<const circuit::WorkingFluid> fluid, Evidence evidence)
      : case_(the_case), knowledge_(knowledge), fluid_(std::move(fluid)), evidence_(std::move(evidence)) {}

  void draw_pair(Machines& machines, std::size_t place) const;

  const Case& case_;
  const Knowledge& knowledge_;
  std::shared_ptr<const circuit::WorkingFluid> fluid_;
  std::shared_ptr<const UnitPrior> prior_;
  Evidence evidence_;
  Setting setting_;
  Scene scene_{};
  std::vector<Hypothesis> hypotheses_;
};

}  // namespace coldwright::diagnosis

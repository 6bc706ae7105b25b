#include "procedures/charging.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>

#include "base/normal.hpp"

namespace coldwright::procedures {
namespace {

constexpr double kTolerance = 0.05, kLeastTolerance = 1e-3;  // of the plate; kg
constexpr double kSure = 0.9;

std::string grams(double kg) { return std::to_string(kg * 1000) + " g"; }

double spread(const ChargeTask& task) {
  const double two_weights = task.resolution * task.resolution / 6;
  return std::sqrt(two_weights + std::pow(kHoseSpread * task.hose, 2));
}

std::optional<Problem> check(const ChargeTask& task) {
  if (!(task.plate > 0))
    return Problem{"charge", grams(task.plate), "above zero", "there is no target without it"};
  if (!(task.resolution > 0))
    return Problem{"resolution", grams(task.resolution), "above zero", "every scale has a smallest step"};
  if (!(task.stays >= 0) || !(task.stays < task.plate))
    return Problem{"stays", grams(task.stays), "less than the plate's charge",
                   "a machine that still holds its charge isn't charged"};
  return std::nullopt;
}

}  // namespace

double customary_tolerance(double plate) { return std::max(kTolerance * plate, kLeastTolerance); }

Result<ChargeTarget> charge_target(const ChargeTask& task) {
  if (const auto problem = check(task)) return *problem;
  const double wanted = task.plate - task.stays;
  return ChargeTarget{wanted, wanted + task.hose, task.resolution / task.plate, spread(task)};
}

Result<ChargeMoved> charge_moved(const ChargeTask& task, double before, double after) {
  if (const auto problem = check(task)) return *problem;
  if (!(before > after))
    return Problem{"after", grams(after), "less than before",
                   "what goes into the machine leaves the scale: which of the two is the slip?"};
  const double drawn = before - after, in_it = drawn - task.hose + task.stays, sigma = spread(task);
  if (!(in_it > 0))
    return Problem{"after", grams(after), "more off the scale than the hoses hold, " + grams(task.hose),
                   "nothing would have reached the machine"};
  const double tolerance = customary_tolerance(task.plate);
  const double low = normal_cdf((task.plate - tolerance - in_it) / sigma);
  const double high = normal_cdf((in_it - task.plate - tolerance) / sigma);
  ChargeMoved out{
      drawn, {in_it - 1.645 * sigma, in_it, in_it + 1.645 * sigma}, 1 - low - high, ChargeVerdict::open};
  if (out.within >= kSure) out.verdict = ChargeVerdict::within;
  if (low >= kSure) out.verdict = ChargeVerdict::below;
  if (high >= kSure) out.verdict = ChargeVerdict::above;
  return out;
}

DosePlan dose_plan(const diagnosis::Interval& usual, double resolution) {
  const double steps = std::max(std::round(kStepShare * usual.mid / resolution), 2.0);
  return {kFirstShare * usual.low, steps * resolution};
}

double next_dose(const diagnosis::Interval& missing, const DosePlan& plan) {
  if (missing.mid < 0.5 * plan.step) return 0;
  return std::max(missing.low, plan.step);
}

}  // namespace coldwright::procedures

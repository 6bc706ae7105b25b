#include "procedures/worth.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "base/normal.hpp"
#include "diagnosis/findings.hpp"

namespace coldwright::procedures {
namespace {

struct Sums {
  double repair, replace, energy_repair, energy_replace;
};

// One set of inputs: years in equal steps, what dies in a step is replaced at its middle.
Sums sums(const WorthQuestion& q, double repair, double new_price, double price, double kept, double fresh) {
  const int steps = std::max(1, static_cast<int>(std::ceil(4 * q.years)));
  const double step = q.years / steps;
  Sums s{repair, new_price, 0, 0};
  double alive = 1;
  for (int i = 0; i < steps; ++i) {
    const double now = std::pow(1 + q.discount, -(i + 0.5) * step);
    const double later = survival(q.life_after, q.age, (i + 1) * step);
    const double mean = 0.5 * (alive + later), used = (mean * kept + (1 - mean) * fresh) * step;
    s.repair += now * ((alive - later) * new_price + used * price);
    s.replace += now * fresh * step * price;
    s.energy_repair += used;
    s.energy_replace += fresh * step;
    alive = later;
  }
  return s;
}

std::optional<Problem> check(const WorthQuestion& q) {
  const auto negative = [](const char* field, const Estimate& e) -> std::optional<Problem> {
    if (e.value >= 0 && e.spread >= 0) return std::nullopt;
    return Problem{field, std::to_string(e.value), "zero or more", "a cost isn't negative"};
  };
  if (auto p = negative("repair cost", q.repair)) return p;
  if (auto p = negative("new price", q.new_price)) return p;
  if (auto p = negative("energy price", q.energy_price)) return p;
  if (auto p = negative("energy", q.energy_repaired)) return p;
  if (auto p = negative("energy of a new one", q.energy_new)) return p;
  if (!(q.years > 0 && q.years <= 30))
    return Problem{"remaining_years", std::to_string(q.years), "above zero and up to 30 years",
                   "no cabinet is reckoned further"};
  if (!(q.discount >= 0 && q.discount <= 0.5))
    return Problem{"discount", std::to_string(100 * q.discount) + " %", "0 to 50 % a year",
                   "nothing else is meaningful here"};
  if (!(q.age >= 0 && q.age <= 60))
    return Problem{"age", std::to_string(q.age), "0 to 60 years", "no cabinet is older"};
  return std::nullopt;
}

}  // namespace

double survival(const Life& life, double age, double t) {
  return std::exp(std::pow(age / life.scale, life.shape) - std::pow((age + t) / life.scale, life.shape));
}

Result<Worth> worth_of(const WorthQuestion& q, int draws, std::uint64_t seed) {
  if (const auto problem = check(q)) return *problem;
  const Sums mid = sums(q, q.repair.value, q.new_price.value, q.energy_price.value, q.energy_repaired.value,
                        q.energy_new.value);
  std::vector<diagnosis::Weighted> advantage;
  int repair_wins = 0;
  const RandomStream random(seed);
  for (int i = 0; i < draws; ++i) {
    RandomStream own = random.fork(static_cast<std::uint64_t>(i));
    // factors around one that stay above zero
    const auto drawn = [&own](const Estimate& e) {
      const double z = own.normal();
      const double s = std::sqrt(std::log(1 + e.spread * e.spread));
      return e.value * std::exp(s * z - 0.5 * s * s);
    };
    const double repair = drawn(q.repair), price = drawn(q.new_price), energy = drawn(q.energy_price);
    const double kept = drawn(q.energy_repaired), fresh = drawn(q.energy_new);
    const Sums one = sums(q, repair, price, energy, kept, fresh);
    advantage.push_back({one.replace - one.repair, 1});
    repair_wins += one.replace > one.repair;
  }
  Worth out{};
  out.repair = mid.repair;
  out.replace = mid.replace;
  out.advantage = diagnosis::interval_of(std::move(advantage));
  out.probability_repair = static_cast<double>(repair_wins) / draws;
  out.break_even = q.repair.value + mid.replace - mid.repair;
  out.survives = survival(q.life_after, q.age, q.years);
  out.energy_repair = mid.energy_repair;
  out.energy_replace = mid.energy_replace;
  return out;
}

double yearly_energy(double power, double share) { return power * share * 8766 / 1000; }

}  // namespace coldwright::procedures

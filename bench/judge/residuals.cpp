#include "judge/residuals.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "judge/run.hpp"

namespace coldwright::judge {
namespace {

double middle(std::vector<double> v, double share = 0.5) {
  if (v.empty()) return 0;
  std::sort(v.begin(), v.end());
  return v[static_cast<std::size_t>(share * static_cast<double>(v.size() - 1) + 0.5)];
}

struct Sample {
  std::vector<double> off, in_sigmas, sigma, relative;
};

std::string line(const std::string& name, const Sample& s) {
  const double median = middle(s.off);
  std::vector<double> away, z_away;
  for (double d : s.off) away.push_back(std::abs(d - median));
  for (double z : s.in_sigmas) z_away.push_back(std::abs(z));
  // 1.483 medians of the absolute are one standard deviation of a normal.
  return fmt::format("{:44} {:5} {:10.3g} {:10.3g} {:10.3g} {:8.2f} {:8.2f} {:9.3f} {:9.3f}\n", name,
                     s.off.size(), median, 1.483 * middle(away), middle(s.sigma), middle(s.in_sigmas),
                     1.483 * middle(z_away), middle(z_away, 0.95) / 1.96, middle(s.relative));
}

}  // namespace

Result<std::vector<Residual>> residuals(const lab::Visit& visit, long number, char set,
                                        const diagnosis::Knowledge& knowledge, Opinion& opinion,
                                        const RandomStream& technicians) {
  std::vector<Residual> out;
  if (visit.truth.size() != 1) return out;
  for (const ReadingSet& one : reading_sets()) {
    if (one.name != set) continue;
    Site site(visit, technicians.fork(static_cast<std::uint64_t>(number)));
    const diagnosis::Case c = gather(site, one, knowledge);
    const auto expected = opinion.expected_under(c, visit.truth.front().id);
    if (!expected) return expected.problem();
    for (std::size_t i = 0; i < expected->size(); ++i) {
      const auto& reading = c.readings[i];
      out.push_back({reading.kind, visit.truth.front().id, visit.archetype, steady(visit),
                     reading.minutes_running.value_or(-1), diagnosis::scale(reading.kind, reading.value),
                     (*expected)[i].mean, (*expected)[i].sigma});
    }
  }
  return out;
}

std::string tally(const std::vector<Residual>& residuals) {
  std::map<std::string, Sample> samples;
  for (const Residual& r : residuals) {
    const std::string kind(circuit::info(r.kind).id);
    const double d = r.value - r.expected;
    for (const std::string& name :
         {kind, kind + (r.steady ? ", steady" : ", not steady"), kind + ", " + r.cause}) {
      Sample& s = samples[name];
      s.off.push_back(d);
      s.in_sigmas.push_back(d / r.sigma);
      s.sigma.push_back(r.sigma);
      s.relative.push_back(d / std::max(std::abs(r.value), 1e-9));
    }
  }
  std::string out =
      fmt::format("{:44} {:>5} {:>10} {:>10} {:>10} {:>8} {:>8} {:>9} {:>9}\n", "reading less expected", "n",
                  "median", "spread", "sigma", "bias/s", "spread/s", "tail/s", "relative");
  for (const auto& [name, s] : samples)
    if (s.off.size() >= 4) out += line(name, s);
  return out;
}

}  // namespace coldwright::judge

#include "diagnosis/correction.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "diagnosis/evidence.hpp"
#include "diagnosis/traits.hpp"

namespace coldwright::diagnosis {
namespace {

constexpr std::size_t kPerTrait = 1 + std::size(kBends);

bool speaks(const Scene& scene) { return scene.knowledge->correction.has_value() && scene.not_cooling; }

}  // namespace

std::size_t columns_of(const Correction& c) { return 1 + kPerTrait * c.scales.size() + c.looks.size(); }

std::vector<double> columns(const Correction& correction, const std::vector<double>& values,
                            const Evidence& evidence) {
  std::vector<double> out{1};
  for (const Correction::Scale& scale : correction.scales) {
    const auto place = std::find(trait_ids().begin(), trait_ids().end(), scale.trait) - trait_ids().begin();
    const double value = (values[static_cast<std::size_t>(place)] - scale.middle) / scale.spread;
    const bool known = std::isfinite(value);
    const double z = known ? std::clamp(value, -kFarthest, kFarthest) : 0;
    out.push_back(z);
    for (double bend : kBends) out.push_back(known ? std::max(z - bend, 0.0) : 0);
  }
  for (const Correction::Look& look : correction.looks) {
    double sure = 0;
    for (const Seen& seen : evidence.seen)
      if (seen.model->subject == look.subject && seen.model->values[seen.value] == look.value)
        sure = seen.confidence;
    out.push_back(sure);
  }
  return out;
}

std::vector<double> learned(const Scene& scene, const Case& c, const Evidence& evidence) {
  if (!speaks(scene)) return {};
  const Correction& correction = *scene.knowledge->correction;
  const std::vector<double> row = columns(correction, traits(scene, c), evidence);
  std::vector<double> nats(scene.knowledge->causes.size(), 0);
  for (std::size_t i = 0; i < nats.size(); ++i)
    for (const Correction::Of& of : correction.causes)
      if (of.cause == scene.knowledge->causes[i].id)
        for (std::size_t k = 0; k < row.size(); ++k) nats[i] += of.weights[k] * row[k];
  return nats;
}

std::vector<double> learned_without(const Scene& scene, Case c, const Evidence& evidence, std::size_t place) {
  c.readings.erase(c.readings.begin() + static_cast<std::ptrdiff_t>(place));
  return learned(scene, c, evidence);
}

std::vector<double> learned_with(const Scene& scene, Case c, const Evidence& evidence,
                                 const Reading& reading) {
  std::erase_if(c.readings, [&](const Reading& r) { return r.kind == reading.kind; });
  c.readings.push_back(reading);
  return learned(scene, c, evidence);
}

double learned_of(const Hypothesis& h, const std::vector<double>& by_cause) {
  double sum = 0;
  if (!by_cause.empty())
    for (int cause : h.causes) sum += by_cause[static_cast<std::size_t>(cause)];
  return sum;
}

void correct(std::vector<Hypothesis>& hypotheses, const Scene& scene, const Case& c,
             const Evidence& evidence) {
  if (!speaks(scene)) return;
  const Correction& correction = *scene.knowledge->correction;
  const std::vector<double> by_cause = learned(scene, c, evidence);
  for (Hypothesis& h : hypotheses) {
    h.learned = learned_of(h, by_cause) + (h.causes.size() > 1 ? correction.two : 0);
    h.trust = correction.trust;
  }
}

}  // namespace coldwright::diagnosis

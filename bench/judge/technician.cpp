#include "judge/technician.hpp"

namespace coldwright::judge {
namespace {

double between(RandomStream& random, double low, double high) {
  return low + (high - low) * random.uniform();
}

// Classes 1.0, 1.6 and 2.5: the largest error allowed, in percent of full scale; taken as two standard
// deviations.
double gauge_class(RandomStream& random) {
  const double u = random.uniform();
  return (u < 0.5 ? 0.010 : u < 0.85 ? 0.016 : 0.025) / 2;
}

}  // namespace

Technician hire(RandomStream random) {
  Technician t{};
  t.low_gauge_class = gauge_class(random);
  t.high_gauge_class = gauge_class(random);
  t.low_gauge_zero = 3e3 * random.normal();
  t.high_gauge_zero = 8e3 * random.normal();
  for (double& offset : t.clamp_offset) offset = 0.6 * random.normal();
  t.clamp_pull = between(random, 0.02, 0.16);
  t.air_probe_offset = 0.4 * random.normal();
  t.amps_gain = 1 + 0.015 * random.normal();
  t.amps_offset = 0.015 * random.normal();
  t.volts_gain = 1 + 0.007 * random.normal();
  t.ohms_gain = 1 + 0.01 * random.normal();
  t.lead_ohms = between(random, 0.05, 0.3);
  t.mistakes = between(random, 0.002, 0.02);
  t.misses = between(random, 0.01, 0.08);
  t.dusty_from = between(random, 0.12, 0.3);
  t.blocked_from = between(random, 0.45, 0.7);
  t.light_from = between(random, 0.05, 0.2);
  t.iced_from = between(random, 0.4, 0.6);
  t.asks = random.uniform() < 0.7;
  return t;
}

}  // namespace coldwright::judge

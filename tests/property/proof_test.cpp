// The proof of a repair on hidden machines: their boxes are stepped through with an operating point at every
// minute, so that the course they bring isn't made by what judges it; mass, wandering and instruments are
// drawn.
#include "procedures/proof.hpp"

#include <cmath>

#include "support/diagnosis_desk.hpp"

namespace coldwright::test {
namespace {

using procedures::BoxReading;
using procedures::Proof;
using procedures::ProofQuestion;

struct Hidden {
  std::vector<double> box;  // K, every minute
  bool ok = false;
};

// Independent of Course: Euler steps of ten seconds, a fresh operating point every two minutes.
Hidden hidden_course(const Desk& desk, const diagnosis::Built& built, double mass, double start,
                     double set_point, int minutes) {
  Hidden out;
  double T = start, capacity = 0;
  circuit::Conditions c = built.conditions;
  for (int minute = 0; minute <= minutes; ++minute) {
    out.box.push_back(T);
    if (minute % 2 == 0) {
      c.box = T;
      capacity = 0;
      if (built.effects.mode == diagnosis::Mode::running && built.effects.departure.pumps) {
        const auto point = circuit::operate(built.machine, desk.working(), c, built.effects.departure);
        if (point.summary.status == circuit::Status::failed) return out;
        if (point.summary.status == circuit::Status::converged) capacity = point.capacity;
      }
    }
    for (int i = 0; i < 6; ++i) {
      const double load = built.machine.load_per_kelvin * built.effects.load_factor * (c.ambient - T);
      T += 10 / mass * (load - capacity);
    }
    T = std::max(T, set_point);
  }
  out.ok = true;
  return out;
}

struct Trial {
  ProofQuestion question;
  std::vector<double> true_box;
  bool ok = false;
};

Trial trial(const Desk& desk, const std::string& cause, std::uint64_t seed, int every, int minutes,
            const std::vector<ReadingKind>& kinds) {
  Trial t;
  const RandomStream random = RandomStream(seed).fork(77);
  diagnosis::Latents z{};
  for (std::size_t i = 0; i < z.size(); ++i) z[i] = random.fork(i).normal();
  diagnosis::Scene scene = desk.scene();
  scene.not_cooling = false;
  const Hypothesis h = desk.hypothesis(cause);
  const auto built = diagnosis::build(scene, h, z);
  if (!built) return t;
  RandomStream more = random.fork(5000);
  const double mass =
      procedures::thermal_mass(built->machine.design_capacity, std::nullopt).of(more.normal());
  const double set_point = desk.kind().set_point_K, start = desk.box;
  const Hidden hidden = hidden_course(desk, *built, mass, start, set_point, minutes);
  if (!hidden.ok) return t;
  double wander = 0.7 * more.normal();
  for (int minute = 0; minute <= minutes; minute += every) {
    const double seen = hidden.box[static_cast<std::size_t>(minute)] + wander + 0.4 * more.normal();
    t.question.readings.push_back({60.0 * minute, seen});
    const double keep = std::exp(-every / 15.0);
    wander = keep * wander + 0.7 * std::sqrt(1 - keep * keep) * more.normal();
    t.true_box.push_back(hidden.box[static_cast<std::size_t>(minute)]);
  }
  scene.box = hidden.box.back();
  const auto s = diagnosis::simulate(scene, h, z);
  if (!s.ok) return t;
  t.question.final_state = desk.blank();
  t.question.final_state.observations.clear();
  t.question.final_state.box = t.question.readings.back().box;
  desk.read(t.question.final_state, s, kinds, seed);
  t.ok = true;
  return t;
}

Result<Proof> proved(const Desk& desk, const ProofQuestion& q) {
  diagnosis::Options options;
  options.population = 60;
  static const auto fluid = std::make_shared<const circuit::WorkingFluid>(
      *circuit::WorkingFluid::make(*service::load_fluid(desk.kind().refrigerant)));
  return procedures::prove(q, fluid, desk.knowledge(), options);
}

const std::vector<ReadingKind> kUsual{ReadingKind::compressor_current, ReadingKind::suction_pressure,
                                      ReadingKind::liquid_line_temp, ReadingKind::condenser_middle_temp};

TEST(Proof, SoundMachinesAreProvedAndFaultyOnesAreNot) {
  Desk desk("reach_in_cooler");
  desk.box = desk.kind().set_point_K + 18;
  int sound = 0, sound_proved = 0, faulty = 0, faulty_proved = 0;
  double brier = 0, mean_sound = 0;
  const auto one = [&](const std::string& cause, std::uint64_t seed) -> std::optional<double> {
    const Trial t = trial(desk, cause, seed, 10, 60, kUsual);
    if (!t.ok) return std::nullopt;
    const auto proof = proved(desk, t.question);
    EXPECT_TRUE(proof);
    return proof->sound;
  };
  for (std::uint64_t u = 1; u <= 24; ++u)
    if (const auto p = one("sound", u)) {
      ++sound;
      sound_proved += *p >= procedures::kProved;
      mean_sound += *p;
      brier += (1 - *p) * (1 - *p);
    }
  for (const char* cause :
       {"low_charge", "restriction", "worn_valves", "dirty_condenser", "evaporator_fan", "not_pumping"})
    for (std::uint64_t u = 1; u <= 4; ++u)
      if (const auto p = one(cause, 100 + u)) {
        ++faulty;
        faulty_proved += *p >= procedures::kProved;
        brier += *p * *p;
        if (*p > 0.5) std::printf("%s %d: %.2f\n", cause, static_cast<int>(u), *p);
      }
  std::printf("sound: %d of %d proved, mean %.2f; faulty: %d of %d proved; Brier score %.3f\n", sound_proved,
              sound, mean_sound / sound, faulty_proved, faulty, brier / (sound + faulty));
  EXPECT_GE(sound_proved * 10, sound * 7);
  EXPECT_LE(faulty_proved * 8, faulty);
  EXPECT_LT(brier / (sound + faulty), 0.1);
}

// With nothing but a thermometer the course alone already tells the gross faults apart.
TEST(Proof, TheCourseAloneTellsGrossFaults) {
  Desk desk("reach_in_cooler");
  desk.box = desk.kind().set_point_K + 18;
  double sound = 0, dead = 0;
  int n = 0;
  for (std::uint64_t u = 1; u <= 5; ++u) {
    const Trial a = trial(desk, "sound", u, 10, 60, {}), b = trial(desk, "not_pumping", u, 10, 60, {});
    if (!a.ok || !b.ok) continue;
    ++n;
    sound += proved(desk, a.question)->sound;
    dead += proved(desk, b.question)->sound;
  }
  std::printf("course alone: sound %.2f, not pumping %.3f\n", sound / n, dead / n);
  EXPECT_GT(sound / n, 0.75);
  EXPECT_LT(dead / n, 0.02);
}

TEST(Proof, TheBandHoldsTheCourseAndNarrowsWithReadings) {
  Desk desk("reach_in_cooler");
  desk.box = desk.kind().set_point_K + 18;
  int inside = 0, points = 0, inside_updated = 0, later = 0, time_inside = 0, times = 0;
  double width = 0, width_updated = 0;
  for (std::uint64_t u = 1; u <= 40; ++u) {
    Trial t = trial(desk, "sound", 300 + u, 10, 90, {});
    if (!t.ok) continue;
    const auto all = t.question.readings;
    ProofQuestion early = t.question;
    early.readings.resize(5);  // 40 minutes; the rest is to be foretold
    early.final_state.box = early.readings.back().box;
    const auto proof = proved(desk, early);
    ASSERT_TRUE(proof);
    const auto band_at = [](const procedures::PullDown& d, double s) {
      std::size_t i = 1;
      while (i + 1 < d.band.size() && d.band[i].seconds < s) ++i;
      const auto &a = d.band[i - 1], &b = d.band[i];
      const double x = std::min((s - a.seconds) / (b.seconds - a.seconds), 1.0);
      return diagnosis::Interval{a.box.low + x * (b.box.low - a.box.low),
                                 a.box.mid + x * (b.box.mid - a.box.mid),
                                 a.box.high + x * (b.box.high - a.box.high)};
    };
    for (std::size_t i = 1; i < all.size(); ++i) {
      if (all[i].seconds > proof->predicted.band.back().seconds) break;
      const auto before = band_at(proof->predicted, all[i].seconds);
      ++points;
      inside += all[i].box >= before.low && all[i].box <= before.high;
      width += before.high - before.low;
      if (i < 5) continue;
      const auto after = band_at(*proof->updated, all[i].seconds);
      ++later;
      inside_updated += all[i].box >= after.low && all[i].box <= after.high;
      width_updated += after.high - after.low;
    }
    for (std::size_t i = 1; i < t.true_box.size(); ++i)
      if (t.true_box[i] <= desk.kind().set_point_K + 1e-9 && t.true_box[i - 1] > desk.kind().set_point_K) {
        ASSERT_TRUE(proof->updated->seconds_to_set_point);
        ++times;
        const auto& when = *proof->updated->seconds_to_set_point;
        time_inside += when.low <= all[i].seconds && when.high >= all[i - 1].seconds;
      }
  }
  std::printf("inside: %d of %d before, %d of %d after; width %.1f K before, %.1f K after; times %d of %d\n",
              inside, points, inside_updated, later, width / points, width_updated / later, time_inside,
              times);
  EXPECT_GE(inside * 100, points * 82);
  EXPECT_GE(inside_updated * 100, later * 80);
  EXPECT_LT(width_updated / later, 0.6 * width / points);
  if (times > 5) {
    EXPECT_GE(time_inside * 10, times * 8);
  }
}

// The start alone gives a prediction and no verdict; a kitchen too hot for any machine of the kind says that
// the set point may not be reached.
TEST(Proof, TheStartAloneIsAPredictionOnly) {
  Desk desk("reach_in_cooler");
  ProofQuestion q;
  q.final_state = desk.blank();
  q.final_state.observations.clear();
  q.final_state.box = desk.kind().set_point_K + 18;
  q.readings = {{0, *q.final_state.box}};
  const auto proof = proved(desk, q);
  ASSERT_TRUE(proof);
  EXPECT_TRUE(proof->causes.empty());
  EXPECT_FALSE(proof->updated);
  ASSERT_TRUE(proof->predicted.seconds_to_set_point);
  EXPECT_GT(proof->predicted.reaches, 0.8);
  q.final_state.ambient = 273.15 + 45;
  const auto hot = proved(desk, q);
  ASSERT_TRUE(hot);
  EXPECT_LT(hot->predicted.reaches, proof->predicted.reaches);
  q.product = 60;
  q.final_state.ambient = desk.ambient;
  const auto full = proved(desk, q);
  EXPECT_GT(full->predicted.seconds_to_set_point->mid, 1.5 * proof->predicted.seconds_to_set_point->mid);
}

}  // namespace
}  // namespace coldwright::test

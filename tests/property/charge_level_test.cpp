// The charge in a machine, from what it shows: directions that physics gives, and intervals that hold a
// hidden charge about as often as they say.
#include "diagnosis/charge_level.hpp"

#include "base/normal.hpp"
#include "support/diagnosis_desk.hpp"

namespace coldwright::test {
namespace {

using enum ReadingKind;

diagnosis::Options of(int population, std::uint64_t seed = 1) {
  diagnosis::Options o;
  o.population = population;
  o.seed = seed;
  return o;
}

// A sound machine of the desk's plate with this share of its charge.
Simulated with_share(const Desk& desk, double share, std::uint64_t seed,
                     std::optional<double> own_latent = {}) {
  diagnosis::Scene scene = desk.scene();
  scene.not_cooling = false;
  diagnosis::Knowledge charge_alone = desk.knowledge();
  charge_alone.causes = {{"overcharge", 1, -0.7, 0.5, "none"}};
  scene.knowledge = &charge_alone;
  const Hypothesis h{{0}, "overcharge", 0};
  const double s = (share - 0.3) / 1.2;
  for (std::uint64_t tried = 0; tried < 50; ++tried) {
    const RandomStream random = RandomStream(seed).fork(tried);
    diagnosis::Latents z{};
    for (std::size_t i = 0; i < z.size(); ++i) z[i] = random.fork(i).normal();
    z[diagnosis::index(Extra::severity)] = normal_quantile(s);
    if (own_latent) z[static_cast<std::size_t>(circuit::Latent::charge_unknown)] = *own_latent;
    const Simulated made = diagnosis::simulate(scene, h, z);
    if (made.ok && made.mode == diagnosis::Mode::running) return made;
  }
  ADD_FAILURE() << "no machine";
  return {};
}

Case read_off(const Desk& desk, const Simulated& s, std::uint64_t noise) {
  Case c = desk.blank();
  c.observations.clear();
  desk.read(
      c, s,
      {suction_pressure, evaporator_outlet_temp, condenser_middle_temp, liquid_line_temp, compressor_current},
      noise);
  return c;
}

TEST(ChargeLevels, MoreChargeRaisesPressureAndCurrentAndFillsTheCoil) {
  for (const char* cabinet : {"reach_in_cooler", "reach_in_freezer"}) {
    const Desk desk(cabinet);
    const auto levels = diagnosis::charge_levels(desk.blank(), desk.working(), desk.knowledge(),
                                                 {0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1}, of(60));
    ASSERT_TRUE(levels) << to_text(levels.problem());
    ASSERT_EQ(levels->size(), 7u);
    for (std::size_t i = 1; i < levels->size(); ++i) {
      const auto &a = (*levels)[i - 1], &b = (*levels)[i];
      EXPECT_GT(b.suction_pressure.mid, a.suction_pressure.mid) << cabinet << i;
      EXPECT_LT(b.superheat.mid, a.superheat.mid + 0.3) << cabinet << i;
      EXPECT_GT(b.current.mid, a.current.mid) << cabinet << i;
      EXPECT_NEAR(b.charge.mid, b.share * *desk.plate.charge, 0.01 * *desk.plate.charge);
    }
  }
}

TEST(ChargeEstimate, HoldsAHiddenChargeAboutAsOftenAsItSays) {
  const Desk desk("reach_in_cooler");
  int inside = 0, all = 0;
  RandomStream random(11);
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    const double share = 0.5 + 0.8 * random.uniform();
    const Simulated truth = with_share(desk, share, seed);
    if (!truth.ok) continue;
    const auto e =
        diagnosis::estimate_charge(read_off(desk, truth, seed), desk.working(), desk.knowledge(), of(60));
    ASSERT_TRUE(e) << to_text(e.problem());
    ++all;
    inside += e->charge.low <= truth.charge && truth.charge <= e->charge.high;
    EXPECT_LT(e->charge.high - e->charge.low, 0.75 * *desk.plate.charge);
  }
  // 36 of 40 expected of a 90 % interval; the doubt about the population makes it wider, 30 is three standard
  // deviations less.
  EXPECT_GE(inside, 30) << "of " << all;
}

TEST(ChargeEstimate, TellsAThirdMissingFromRightAndTooMuch) {
  const Desk desk("reach_in_cooler");
  int low = 0, high = 0;
  for (std::uint64_t seed = 1; seed <= 8; ++seed) {
    const auto a = diagnosis::estimate_charge(read_off(desk, with_share(desk, 0.65, seed), seed),
                                              desk.working(), desk.knowledge(), of(60));
    const auto b = diagnosis::estimate_charge(read_off(desk, with_share(desk, 1.25, seed), seed),
                                              desk.working(), desk.knowledge(), of(60));
    ASSERT_TRUE(a && b);
    low += a->below > 0.8;
    high += b->above > a->above && b->share.mid > a->share.mid + 0.15;
  }
  EXPECT_GE(low, 7);
  EXPECT_GE(high, 7);
}

TEST(ChargeSearch, FindsWhatIsMissingWithoutAPlate) {
  Desk desk("reach_in_cooler");
  desk.plate.charge.reset();
  int inside = 0, all = 0, wider = 0;
  RandomStream random(5);
  for (std::uint64_t seed = 1; seed <= 24; ++seed) {
    const double latent = random.normal(), share = 0.55 + 0.34 * random.uniform();
    const Simulated truth = with_share(desk, share, seed, latent);
    if (!truth.ok) continue;
    const double missing = truth.charge / share - truth.charge;
    const auto found = diagnosis::search_charge(read_off(desk, truth, seed), desk.working(), desk.knowledge(),
                                                truth.charge, 1e-3, of(60));
    ASSERT_TRUE(found) << to_text(found.problem());
    ++all;
    inside += found->missing.low <= missing && missing <= found->missing.high;
    const diagnosis::Interval prior = diagnosis::usual_charge(desk.kind());
    wider += found->own.high - found->own.low >= prior.high - prior.low;
  }
  EXPECT_GE(inside, 17) << "of " << all;  // 21.6 of 24 expected; three standard deviations less
  EXPECT_LE(wider, 2);                    // readings narrow the spread of the kind
}

TEST(ChargeSearch, WithoutReadingsIsTheKindsOwnSpread) {
  const Desk desk("reach_in_cooler");
  Case c = desk.blank();
  const auto found = diagnosis::search_charge(c, desk.working(), desk.knowledge(), 0.05, 1e-3, of(300));
  ASSERT_TRUE(found);
  const diagnosis::Interval usual = diagnosis::usual_charge(desk.kind());
  EXPECT_NEAR(found->own.mid, usual.mid, 0.03 * usual.mid);
  EXPECT_NEAR(found->own.low, usual.low, 0.05 * usual.mid);
  EXPECT_NEAR(found->missing.mid, usual.mid - 0.05, 0.03 * usual.mid);
}

TEST(ChargeEstimate, NeedsAReading) {
  const Desk desk("reach_in_cooler");
  EXPECT_FALSE(diagnosis::estimate_charge(desk.blank(), desk.working(), desk.knowledge(), of(20)));
}

}  // namespace
}  // namespace coldwright::test

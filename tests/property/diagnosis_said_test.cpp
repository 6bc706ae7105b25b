// What an answer says and what it leaves out: nothing about a flow where nothing flows, no verdict that would
// turn on a value no machine shows, no digits that the drawing doesn't support.
#include <algorithm>
#include <cmath>
#include <set>

#include "diagnosis/findings.hpp"
#include "support/diagnosis_desk.hpp"

namespace coldwright::test {
namespace {

using enum ReadingKind;

std::set<std::string> parts(const std::string& cause) {
  const auto plus = cause.find('+');
  if (plus == std::string::npos) return {cause};
  return {cause.substr(0, plus), cause.substr(plus + 1)};
}

const std::vector<ReadingKind> kUsual{compressor_current, condenser_middle_temp, liquid_line_temp,
                                      suction_pressure};

// A cause and the same cause beside another, about equally likely: a trace of oil, which either shows 0.4 of
// the time and a sound machine 0.06, speaks for the cause with the log of these two's ratio, each less the
// share of what is said that tells nothing, though not for one of the two against the other.
TEST(Contributions, ACauseAndItsPairAreNoRivals) {
  const Desk desk("reach_in_cooler");
  Case c = desk.blank();
  Desk::see(c, "oil_trace", "found");
  const auto evidence = diagnosis::prepare(c, desk.knowledge());
  ASSERT_TRUE(evidence);
  const diagnosis::Scene scene = desk.scene();
  diagnosis::Posterior posterior;
  for (const auto& [id, p] :
       {std::pair{"low_charge", 0.5}, {"low_charge+dirty_condenser", 0.45}, {"sound", 0.05}}) {
    diagnosis::HypothesisPosterior h;
    h.hypothesis = desk.hypothesis(id);
    h.hypothesis.log_prior = 0;
    h.log_evidence = std::log(p);
    h.probability = p;
    diagnosis::Particle one;
    one.weight = 1;
    one.sim.ok = true;
    one.sim.severity_share = one.sim.severity_share_2 = 0.5;
    h.particles.push_back(one);
    posterior.items.push_back(std::move(h));
  }
  const std::vector<diagnosis::Particle> none;
  const auto found = diagnosis::contributions({c, scene, *evidence, posterior, none});
  ASSERT_EQ(found.size(), 2u);
  EXPECT_NEAR(found[0].log_odds, 0, 1e-9) << "the complaint tells nothing apart";
  const double anyhow = diagnosis::kSaidAnyhow;
  EXPECT_NEAR(found[1].log_odds,
              std::log(((1 - anyhow) * 0.4 + anyhow / 2) / ((1 - anyhow) * 0.06 + anyhow / 2)), 0.01);
}

// The fan beside the motor is switched with it in most cabinets: where it runs, something else holds the
// motor.
TEST(Seen, TheFanOfAStandingMotorTellsWhetherItIsCalledFor) {
  const Desk desk("reach_in_cooler");
  const auto odds = [&](const char* fan) {
    Case c = desk.blank();
    Desk::see(c, "compressor", "off");
    if (*fan) Desk::see(c, "condenser_fan", fan);
    const Answer a = desk.diagnose(c);
    return probability(a, "start_or_winding") / probability(a, "control");
  };
  const double unseen = odds("");
  EXPECT_GT(odds("running"), 3 * unseen);
  EXPECT_LT(odds("stopped"), unseen / 3);
}

TEST(Seen, AFanThatIsntThereTellsNothing) {
  const Desk desk("still_air_refrigerator");
  Case c = desk.blank();
  Desk::see(c, "compressor", "off");
  const Answer before = desk.diagnose(c);
  for (const auto& step : before.next) EXPECT_NE(step.subject, "condenser_fan");
  Desk::see(c, "condenser_fan", "stopped");
  const Answer after = desk.diagnose(c);
  for (const char* cause : {"control", "start_or_winding", "low_voltage"})
    EXPECT_NEAR(probability(after, cause), probability(before, cause), 1e-9) << cause;
}

// Warm pipes beside a current of nothing: it has just stopped.
TEST(Seen, ACurrentReadAtRestRulesNoRunningCauseOut) {
  const Desk desk("reach_in_cooler");
  for (const char* cause : {"sound", "overcharge"}) {
    Case c = desk.blank();
    Desk::see(c, "compressor", "running");
    desk.read(c, desk.machine(cause, 2),
              {condenser_middle_temp, liquid_line_temp, ReadingKind::discharge_line_temp}, 2);
    desk.read_one(c, compressor_current, 0.0);
    const Answer a = desk.diagnose(c);
    EXPECT_LT(probability(a, "control") + probability(a, "start_or_winding"), 0.05) << cause;
  }
}

// What a trace shows with a confidence: certain, it is the observation itself; at one in as many as there are
// values it tells nothing apart; in between its odds lie in between.
TEST(Seen, CountsAsMuchAsItIsSure) {
  const Desk desk("reach_in_cooler");
  Case c = desk.blank();
  Desk::see(c, "condenser_fan", "stopped");
  diagnosis::Simulated one;
  one.ok = true;
  one.severity_share = 0.5;
  const auto odds = [&](double confidence) {
    c.observations.back().confidence = confidence;
    const auto evidence = diagnosis::prepare(c, desk.knowledge());
    EXPECT_TRUE(evidence);
    const auto chance = [&](const char* id) {
      return diagnosis::seen_probability(evidence->seen.back(), desk.hypothesis(id), desk.knowledge(), one);
    };
    return chance("condenser_fan") / chance("sound");
  };
  const double sure = odds(1);
  EXPECT_GT(sure, 3);
  EXPECT_NEAR(odds(1.0 / 3), 1, 1e-9);  // running, slow, stopped
  EXPECT_GT(odds(0.8), odds(0.5));
  EXPECT_GT(odds(0.5), 1);
  EXPECT_LT(odds(0.8), sure);
}

TEST(Turnings, NoneAtAValueThatWouldBeTakenForAMistake) {
  Desk desk("reach_in_cooler");
  desk.single_causes_only();
  int checked = 0;
  for (const char* cause : {"low_charge", "restriction", "overcharge", "dirty_condenser"}) {
    Case c = desk.blank();
    Desk::see(c, "condenser_fan", "running");
    desk.read(c, desk.machine(cause, 6), kUsual, 6);
    for (const auto& t : desk.diagnose(c).turnings) {
      if (!t.already_read) continue;
      Case moved = c;
      for (auto& r : moved.readings)
        if (r.kind == t.kind) r.value = t.value;
      ++checked;
      for (const auto& s : desk.diagnose(moved).suspects)
        EXPECT_FALSE(s.kind == t.kind && s.probability_mistaken > 0.8)
            << cause << " " << circuit::info(t.kind).id << " at " << t.value;
    }
  }
  EXPECT_GT(checked, 0);
}

TEST(UnseenSide, NothingIsSaidOfAFlowWhereNothingFlows) {
  const Desk desk("reach_in_cooler");
  const std::vector<std::string> of_flow{"superheat", "subcooling", "condenser_split"};
  for (const char* cause : {"not_pumping", "control"}) {
    Case c = desk.blank();
    desk.read(c, desk.machine(cause, 1), kUsual, 1);
    const Answer a = desk.diagnose(c);
    for (const auto& quantity : of_flow) EXPECT_EQ(unseen(a, quantity), nullptr) << cause << " " << quantity;
    ASSERT_NE(unseen(a, "capacity"), nullptr);
    EXPECT_TRUE(unseen(a, "capacity")->sound.has_value());
  }
  Case c = desk.blank();
  desk.read(c, desk.machine("dirty_condenser", 1), clamps(), 1);
  const Answer a = desk.diagnose(c);
  for (const auto& quantity : of_flow) {
    ASSERT_NE(unseen(a, quantity), nullptr) << quantity;
    EXPECT_TRUE(unseen(a, quantity)->sound.has_value()) << quantity;
  }
}

// The stated error of a probability is what other seeds scatter by, within a factor of three: eight seeds
// know a spread to a quarter, and where draws are few their number is itself uncertain.
TEST(Trust, TheStatedErrorIsTheScatterOfOtherSeeds) {
  Desk desk("reach_in_cooler");
  desk.single_causes_only();
  Case c = desk.blank();
  desk.read(c, desk.machine("low_charge", 3, {{Extra::severity, -0.5}}), kUsual, 3);
  double sum = 0, squares = 0, stated = 0;
  const int seeds = 8;
  std::string first;
  for (int i = 0; i < seeds; ++i) {
    desk.seed = static_cast<std::uint64_t>(50 + i);
    const Answer a = desk.diagnose(c);
    if (first.empty()) first = leader(a);
    for (const auto& r : a.causes) {
      if (r.cause != first) continue;
      sum += r.probability;
      squares += r.probability * r.probability;
      stated += r.error;
    }
  }
  const double mean = sum / seeds, scatter = std::sqrt(std::max(squares / seeds - mean * mean, 0.0));
  EXPECT_GT(scatter, stated / seeds / 3) << first << " " << mean;
  EXPECT_LT(scatter, stated / seeds * 3) << first << " " << mean;
}

TEST(Reasons, HighAndLowLieOutsideTheRangeTheyName) {
  const Desk desk("reach_in_cooler");
  int said = 0;
  for (const char* cause : {"low_charge", "dirty_condenser", "overcharge", "worn_valves"}) {
    Case c = desk.blank();
    desk.read(c, desk.machine(cause, 2), clamps(), 2);
    for (const auto& s : desk.diagnose(c).reasons) {
      if (!s.key.ends_with("_high") && !s.key.ends_with("_low")) continue;
      ++said;
      if (s.key.ends_with("_high")) {
        EXPECT_GT(value(s, "value"), value(s, "high")) << cause << " " << s.key;
      } else {
        EXPECT_LT(value(s, "value"), value(s, "low")) << cause << " " << s.key;
      }
    }
  }
  EXPECT_GT(said, 3);
}

TEST(Reasons, TheHeatMovedIsNamedOnlyWhereItIsUnusual) {
  const Desk desk("reach_in_cooler");
  Case sound = desk.blank();
  desk.read(sound, desk.machine("high_load", 1), clamps(), 1);
  const Answer usual = desk.diagnose(sound);
  EXPECT_FALSE(reason(usual, "capacity_near_usual")) << ranking(usual);
  EXPECT_FALSE(reason(usual, "capacity_short")) << ranking(usual);
  Case starved = desk.blank();
  desk.read(starved, desk.machine("low_charge", 1, {{Extra::severity, 1}}), clamps(), 1);
  const Answer a = desk.diagnose(starved);
  ASSERT_TRUE(reason(a, "capacity_short")) << ranking(a);
  EXPECT_LT(value(*reason(a, "capacity_short"), "share"), 80);
}

TEST(Pairs, BothSeveritiesAreGiven) {
  const Desk desk("reach_in_cooler");
  Case c = desk.blank();
  Desk::see(c, "condenser_face", "blocked");
  desk.read(c,
            desk.machine("low_charge+dirty_condenser", 1, {{Extra::severity, 0.8}, {Extra::severity_2, 0.4}}),
            clamps(), 1);
  int pairs = 0;
  for (const auto& r : desk.diagnose(c).causes) {
    const bool pair = parts(r.cause).size() == 2;
    if (!pair) {
      EXPECT_FALSE(r.severity_2.has_value()) << r.cause;
    }
    if (!pair || r.probability < 0.02) continue;
    ++pairs;
    ASSERT_TRUE(r.severity && r.severity_2) << r.cause;
    EXPECT_FALSE(r.severity_measure_2.empty());
    EXPECT_LT(r.severity_2->low, r.severity_2->high);
  }
  EXPECT_GT(pairs, 0);
}

// A locked rotor is a locked rotor: low voltage and a dead start device differ by the current alone, and by
// their priors. On machines locked by low voltage the two share nearly all, and low voltage its fair part.
TEST(Branches, ALockedRotorUnderLowVoltageIsFound) {
  Desk desk("reach_in_cooler");
  desk.single_causes_only();
  double low = 0, both = 0;
  const int calls = 6;
  for (std::uint64_t seed = 1; seed <= calls; ++seed) {
    const Simulated truth =
        desk.machine("low_voltage", seed, {{Extra::severity, 0.6}, {Extra::variant, -1.2}});
    ASSERT_EQ(truth.mode, diagnosis::Mode::locked);
    Case c = desk.blank();
    Desk::see(c, "compressor", "humming");
    desk.read(c, truth, kUsual, seed);
    const Answer a = desk.diagnose(c);
    low += probability(a, "low_voltage") / calls;
    both += (probability(a, "low_voltage") + probability(a, "start_or_winding")) / calls;
  }
  EXPECT_GT(both, 0.9);
  EXPECT_GT(low, 0.08);
}

// Wherever on its branch the search starts, it ends at a machine about as probable.
TEST(Branches, TheSearchForTheMostProbableMachineDoesntHangOnTheirEdge) {
  Desk desk("reach_in_cooler");
  const Hypothesis h = desk.hypothesis("low_voltage");
  const Simulated truth = desk.machine("low_voltage", 3, {{Extra::severity, 0.8}, {Extra::variant, -1}});
  Case c = desk.blank();
  Desk::see(c, "compressor", "humming");
  desk.read(c, truth, kUsual, 3);
  const auto evidence = diagnosis::prepare(c, desk.knowledge());
  ASSERT_TRUE(evidence);
  diagnosis::Scene scene = desk.scene();
  scene.doubt = 1;
  std::vector<double> found;
  for (std::uint64_t seed = 0; found.size() < 12 && seed < 400; ++seed) {
    RandomStream random(seed);
    diagnosis::Latents z{};
    for (double& x : z) x = random.normal();
    if (diagnosis::simulate(scene, h, z).mode != diagnosis::Mode::locked) continue;
    int solves = 0;
    found.push_back(diagnosis::laplace_evidence(diagnosis::find_mode(scene, h, *evidence, z, true, solves)));
  }
  ASSERT_EQ(found.size(), 12u);
  const auto [worst, best] = std::minmax_element(found.begin(), found.end());
  EXPECT_LT(*best - *worst, 7) << "nats; five are reached, and sampling corrects those";
}

// The most probable machine of a cause that is seldom complained of is one that was complained of.
TEST(Branches, TheSearchEndsAtAMachineThatWouldHaveBeenCalledFor) {
  Desk desk("reach_in_cooler");
  desk.ambient = 273.15 + 31;
  const Hypothesis h = desk.hypothesis("overcharge");
  Case c = desk.blank();
  desk.read(c, desk.machine("overcharge", 2), kUsual, 2);
  const auto evidence = diagnosis::prepare(c, desk.knowledge());
  ASSERT_TRUE(evidence);
  diagnosis::Scene scene = desk.scene();
  scene.doubt = 1;
  const int starts = 10;
  int called_for = 0;
  for (std::uint64_t seed = 1; seed <= starts; ++seed) {
    RandomStream random(seed);
    diagnosis::Latents z{};
    for (double& x : z) x = random.normal();
    int solves = 0;
    called_for += diagnosis::find_mode(scene, h, *evidence, z, true, solves).complaint > 0.02;
  }
  EXPECT_GE(called_for, 8);
}

// Nobody complains of a box that holds: a cause that never lets it hold is then less likely beside a sound
// machine.
TEST(Complaint, NoneSpeaksAgainstWhatIsAlwaysComplainedOf) {
  Desk desk("reach_in_cooler");
  desk.single_causes_only();
  desk.not_cooling = false;
  for (const char* cause : {"low_charge", "sound"}) {
    Case silent = desk.blank();
    desk.read(silent, desk.machine(cause, 2), {compressor_current, condenser_middle_temp}, 2);
    Case none = silent;
    Desk::see(none, "complaint", "none");
    const Answer a = desk.diagnose(silent), b = desk.diagnose(none);
    EXPECT_GT(probability(b, "sound"), probability(a, "sound")) << cause;
    double before = 0, after = 0;
    // Frozen water is complained of by degree, as a restriction is.
    for (const char* always : {"control", "start_or_winding", "not_pumping", "pumping_lost_at_times"}) {
      before += probability(a, always);
      after += probability(b, always);
    }
    EXPECT_LT(after / probability(b, "sound"), 0.2 * before / probability(a, "sound")) << cause;
  }
}

// At 39 C many a sound cabinet can't carry its load. That call is not put down to a fault that takes nothing;
// one that stops the machine's cooling has most of the shortfall, in any weather.
TEST(Complaint, IsPutDownToACauseInItsShareOfTheShortfall) {
  Desk desk("reach_in_cooler");
  const auto mean_chance = [&](const std::string& cause, double severity) {
    const Hypothesis h = desk.hypothesis(cause);
    double sum = 0;
    int count = 0;
    for (std::uint64_t seed = 0; seed < 100; ++seed) {
      RandomStream random(seed);
      diagnosis::Latents z{};
      for (double& x : z) x = random.normal();
      z[diagnosis::index(Extra::severity)] = severity;
      const Simulated s = diagnosis::simulate(desk.scene(), h, z);
      if (!s.ok) continue;
      sum += s.complaint;
      ++count;
    }
    return sum / count;
  };
  desk.ambient = 273.15 + 39;
  EXPECT_LT(mean_chance("overcharge", -2), 0.25);
  EXPECT_LT(mean_chance("low_voltage", -2), 0.25) << "the motor runs at 0.89 of its voltage";
  EXPECT_GT(mean_chance("restriction", 1.5), 0.6);
  EXPECT_GT(mean_chance("low_voltage", 2), 0.99) << "it fails to start";
  desk.ambient = 273.15 + 24;
  EXPECT_LT(mean_chance("overcharge", -2), 0.05);
  EXPECT_GT(mean_chance("restriction", 1.5), 0.9);
}

TEST(Cautions, FlammabilityIsReadFromTheSafetyClasses) {
  const auto burns = [](const Desk& desk) {
    Case c = desk.blank();
    desk.read(c, desk.machine("low_charge", 1), {compressor_current}, 1);
    const Answer a = desk.diagnose(c);
    return std::any_of(a.cautions.begin(), a.cautions.end(),
                       [](const auto& s) { return s.key == "caution_flammable"; });
  };
  EXPECT_TRUE(burns(Desk("reach_in_cooler")));
  EXPECT_FALSE(burns(Desk("older_reach_in_cooler")));
  Desk unlisted("older_reach_in_cooler");
  unlisted.no_safety_classes();
  EXPECT_TRUE(burns(unlisted)) << "what isn't known burns";
}

}  // namespace
}  // namespace coldwright::test

// The solver over random machines of every kind and every cause: it always ends in one of its answers, hardly
// ever without one, and the same input gives the same bits.
#include <gtest/gtest.h>

#include <cmath>
#include <cstring>

#include "diagnosis/causes.hpp"
#include "support/circuit_bench.hpp"

namespace {

using namespace coldwright;
using namespace coldwright::circuit;
using namespace coldwright::test;

constexpr double kZero = 273.15;

struct Situation {
  Drawn drawn;
  Conditions around;
  Departure departure;
  std::string label;
};

std::vector<Situation> random_situations(int count, std::uint64_t seed) {
  std::vector<Situation> all;
  RandomStream random(seed);
  const auto pick = [&](std::size_t n) {
    return std::min(static_cast<std::size_t>(random.uniform() * static_cast<double>(n)), n - 1);
  };
  while (static_cast<int>(all.size()) < count) {
    const Archetype& kind = knowledge().archetypes[pick(knowledge().archetypes.size())];
    const auto& cause = knowledge().causes[pick(knowledge().causes.size())];
    const double severity = diagnosis::severity_of(cause, random.normal()), variant = random.uniform();
    const WorkingFluid& table = working_fluid(kind.refrigerant);
    Nameplate plate;
    plate.archetype = kind.id;
    const auto machine = machine_from(draw_latents(random), plate, kind, table);
    if (!machine) continue;
    diagnosis::Effects effects;
    diagnosis::apply_cause(cause.id, severity, variant, effects);
    const Conditions around{
        kZero + 16 + 24 * random.uniform(), machine->set_point - 2 + 20 * random.uniform(),
        machine->compressor.rated_voltage * effects.voltage_factor, 0.75 + 0.25 * random.uniform()};
    char label[160];
    std::snprintf(label, sizeof label, "%s, %s %.3g/%.2f, ambient %.1f C, box %.1f C", kind.id.c_str(),
                  cause.id.c_str(), severity, variant, around.ambient - kZero, around.box - kZero);
    all.push_back({{*machine, &table, &kind}, around, effects.departure, label});
  }
  return all;
}

bool finite(const OperatingPoint& p) {
  for (double v : {p.p_suction,
                   p.p_evaporator,
                   p.p_condensing,
                   p.p_discharge,
                   p.T_evaporating,
                   p.T_condensing,
                   p.flow,
                   p.T_evaporator_out,
                   p.T_suction,
                   p.T_discharge,
                   p.T_shell,
                   p.T_condenser_middle,
                   p.T_liquid,
                   p.superheat,
                   p.subcooling,
                   p.capacity,
                   p.condenser_heat,
                   p.power,
                   p.current,
                   p.T_evaporator_air_out,
                   p.T_condenser_air_out,
                   p.charge_condenser,
                   p.charge_evaporator})
    if (!std::isfinite(v)) return false;
  return true;
}

TEST(CircuitSolver, EndsInOneOfItsAnswers) {
  int failed = 0, converged = 0, tripped = 0, equalised = 0;
  double worst = 0;
  const auto situations = random_situations(2000, 2024);
  for (const Situation& s : situations) {
    const OperatingPoint p = operate(s.drawn.machine, *s.drawn.fluid, s.around, s.departure);
    switch (p.summary.status) {
      case Status::converged:
        ++converged;
        worst = std::max(worst, p.summary.residual);
        EXPECT_LT(p.summary.residual, 1e-4) << s.label;
        EXPECT_LE(p.T_condensing, s.drawn.machine.T_trip) << s.label;
        EXPECT_LE(p.current, s.drawn.machine.current_trip) << s.label;
        break;
      case Status::tripped:
        ++tripped;
        EXPECT_FALSE(p.summary.why.empty()) << s.label;
        break;
      case Status::equalised:
        ++equalised;
        break;
      case Status::failed:
        ++failed;
        std::printf("  no answer: %s: %s\n", s.label.c_str(), std::string(p.summary.why).c_str());
        EXPECT_FALSE(p.summary.why.empty()) << s.label;
        break;
      case Status::not_run:
        ADD_FAILURE() << s.label;
    }
    if (p.summary.status == Status::failed) continue;
    EXPECT_TRUE(finite(p)) << s.label;
    EXPECT_GT(p.summary.evaluations, 0) << s.label;
    EXPECT_LE(p.p_suction, p.p_discharge * (1 + 1e-12)) << s.label;
  }
  std::printf("  measured: %d converged (residual up to %.1e), %d tripped, %d equalised, %d failed\n",
              converged, worst, tripped, equalised, failed);
  EXPECT_LE(failed, 4);  // 0.2 % of 2000
  EXPECT_GT(converged, 1000);
  EXPECT_GT(tripped, 20);
  EXPECT_GT(equalised, 20);
}

// Where no steady state is found, the snapshot says how hot the machine would be. The condenser as it is must
// fall short there: if it could give more heat than it has to, the machine would cool down and never trip.
bool falls_short(const Situation& s, const OperatingPoint& p) {
  const Machine& m = s.drawn.machine;
  const SatPoint sat = s.drawn.fluid->saturation(std::log(p.p_condensing));
  const Isobar at = s.drawn.fluid->isobar(std::log(p.p_condensing));
  const AirPoint air = air_point(m.condenser_air, s.departure.condenser_air, s.around.air_density,
                                 p.T_condensing - s.around.ambient);
  const double h_out = p.quality_liquid_line > 0 ? sat.h_l + p.quality_liquid_line * (sat.h_v - sat.h_l)
                                                 : sat.h_l - sat.cp_l * p.subcooling;
  const double blanket = std::max(1 - 0.04e-5 * s.departure.noncondensable, 0.5);  // as in operate()
  const CondenserPoint real = condense(m.condenser, at, air.K * blanket, s.around.ambient, p.flow,
                                       h_out + p.condenser_heat / p.flow, p.T_discharge);
  return real.heat < p.condenser_heat;
}

TEST(CircuitSolver, ATripIsOne) {
  int tripped = 0, doubtful = 0;
  const auto situations = random_situations(4000, 77);
  for (const Situation& s : situations) {
    const OperatingPoint p = operate(s.drawn.machine, *s.drawn.fluid, s.around, s.departure);
    if (p.summary.status != Status::tripped ||
        p.summary.why.find("no steady state") == std::string_view::npos)
      continue;
    ++tripped;
    if (falls_short(s, p)) continue;
    ++doubtful;
    std::printf("  doubtful: %s\n", s.label.c_str());
  }
  std::printf("  measured: %d without a steady state, %d of them doubtful, of 4000\n", tripped, doubtful);
  EXPECT_LE(doubtful, 8);  // 0.2 %: what an unexplained failure may be
}

// At rest at its own set point on a usual day, a sound machine of any kind has an operating point.
TEST(CircuitSolver, SoundMachinesRun) {
  int all = 0, running = 0;
  for (const Archetype& kind : knowledge().archetypes) {
    for (const Drawn& d : draw_machines(kind, 100, 15)) {
      for (double ambient : {kZero + 20, kZero + 25, kZero + 30}) {
        for (double warm : {0.0, 4.0, 12.0}) {
          const OperatingPoint p =
              operate(d.machine, *d.fluid,
                      {ambient, d.machine.set_point + warm, d.machine.compressor.rated_voltage, 1}, {});
          ++all;
          if (p.summary.status == Status::converged) {
            ++running;
          } else {
            std::printf("  not running: %s, ambient %.0f C, %.0f K above set point: %s\n", kind.id.c_str(),
                        ambient - kZero, warm, std::string(p.summary.why).c_str());
          }
        }
      }
    }
  }
  std::printf("  measured: %d of %d\n", running, all);
  EXPECT_GE(running, all * 998 / 1000);
}

bool same_bits(double a, double b) { return std::memcmp(&a, &b, sizeof a) == 0; }

TEST(CircuitSolver, GivesTheSameBitsAgain) {
  const auto first = random_situations(150, 7), second = random_situations(150, 7);
  for (std::size_t i = 0; i < first.size(); ++i) {
    const OperatingPoint a =
        operate(first[i].drawn.machine, *first[i].drawn.fluid, first[i].around, first[i].departure);
    const OperatingPoint b =
        operate(second[i].drawn.machine, *second[i].drawn.fluid, second[i].around, second[i].departure);
    EXPECT_EQ(a.summary.status, b.summary.status);
    EXPECT_EQ(a.summary.evaluations, b.summary.evaluations);
    EXPECT_TRUE(same_bits(a.p_suction, b.p_suction) && same_bits(a.T_discharge, b.T_discharge) &&
                same_bits(a.current, b.current) && same_bits(a.charge_condenser, b.charge_condenser))
        << first[i].label;
  }
}

// Started from its own solution, or from that of a machine in nearly the same place, it ends there again.
TEST(CircuitSolver, ANearbyStartEndsInTheSamePlace) {
  int compared = 0;
  for (const Situation& s : random_situations(300, 31)) {
    const OperatingPoint cold = operate(s.drawn.machine, *s.drawn.fluid, s.around, s.departure);
    if (cold.summary.status != Status::converged || cold.summary.residual > 2e-6) continue;
    Conditions nearby = s.around;
    nearby.ambient += 0.5;
    const OperatingPoint beside = operate(s.drawn.machine, *s.drawn.fluid, nearby, s.departure);
    if (beside.summary.status != Status::converged) continue;
    const OperatingPoint warm =
        operate(s.drawn.machine, *s.drawn.fluid, s.around, s.departure, &beside.solution);
    ASSERT_EQ(warm.summary.status, Status::converged) << s.label;
    EXPECT_NEAR(warm.T_condensing, cold.T_condensing, 0.02) << s.label;
    EXPECT_NEAR(warm.p_suction / cold.p_suction, 1, 2e-3) << s.label;
    ++compared;
  }
  std::printf("  measured: %d compared\n", compared);
  EXPECT_GT(compared, 150);
}

// A condenser without air on a hot day and a warm box: no steady state.
TEST(CircuitSolver, FarFromAnySteadyStateItTripsAndSaysWhy) {
  int tripped = 0;
  const auto machines = draw_machines(cabinet("reach_in_cooler"), 50, 3);
  for (const Drawn& d : machines) {
    Departure dead;
    dead.condenser_air.flow = 0.05;
    const OperatingPoint p =
        operate(d.machine, *d.fluid, {kZero + 43, kZero + 30, d.machine.compressor.rated_voltage, 1}, dead);
    EXPECT_EQ(p.summary.status, Status::tripped) << p.summary.why;
    EXPECT_FALSE(p.summary.why.empty());
    tripped += p.summary.status == Status::tripped;
    if (p.summary.status == Status::tripped) {
      // a snapshot on the way: hot, and below where the overload opens
      EXPECT_GT(p.T_condensing, kZero + 43);
      EXPECT_LE(p.T_condensing, d.machine.T_trip);
    }
  }
  EXPECT_EQ(tripped, 50);
}

// Half of the voltage: the motor can't hold its load.
TEST(CircuitSolver, AStarvedMotorTrips) {
  for (const Drawn& d : draw_machines(cabinet("reach_in_cooler"), 50, 4)) {
    const OperatingPoint p = operate(
        d.machine, *d.fluid, {kZero + 32, kZero + 10, 0.35 * d.machine.compressor.rated_voltage, 1}, {});
    EXPECT_EQ(p.summary.status, Status::tripped) << p.summary.why;
  }
}

// At rest, every volume at its own temperature: recount what equalise() says.
double held(const Machine& m, const fluids::Fluid& exact, const WorkingFluid& f, double p,
            const Conditions& around, double T_shell) {
  const auto gas = [&](double T) {
    const double p_sat = f.saturation_pressure(T);
    if (p >= p_sat * (1 - 1e-5)) return must(exact.saturation_at_T(T), "rest").vapour.rho;
    return must(exact.at_Tp(T, p), "rest").rho;
  };
  // oil: w = a r (1 + 1.5 r^2), r = p / p_sat(T_shell), kg per kg of oil w / (1 - w)
  const double r = p / f.saturation_pressure(T_shell);
  const double w = m.vessels.oil_solubility * r * (1 + 1.5 * r * r);
  return m.evaporator.volume * gas(around.box) +
         (m.condenser.volume + m.vessels.liquid_line) * gas(around.ambient) + m.vessels.shell * gas(T_shell) +
         m.vessels.oil * w / (1 - w);
}

TEST(Equalise, GivesSaturationAtTheColdestPlaceOrTheChargeAsGas) {
  int with_liquid = 0, all_gas = 0;
  double worst = 0;
  std::vector<double> shares;
  for (const char* id :
       {"reach_in_cooler", "undercounter_cooler", "reach_in_freezer", "older_reach_in_cooler"}) {
    for (const Drawn& d : draw_machines(cabinet(id), 60, 9)) {
      const fluids::Fluid& exact = fluid(d.kind->refrigerant);
      for (double share : {1.0, 0.4, 0.1}) {
        for (double box : {kZero + 4, kZero + 24}) {
          Departure departure;
          departure.charge = share;
          const Conditions around{kZero + 24, box, d.machine.compressor.rated_voltage, 1};
          const OperatingPoint p = equalise(d.machine, *d.fluid, around, departure, false);
          ASSERT_EQ(p.summary.status, Status::equalised);
          EXPECT_EQ(p.p_suction, p.p_discharge);
          EXPECT_EQ(p.current, 0);
          const double charge = d.machine.charge * share;
          const double mass = held(d.machine, exact, *d.fluid, p.p_suction, around, p.T_shell);
          const double p_cold = must(exact.saturation_pressure(std::min(box, around.ambient)), "coldest");
          EXPECT_LE(p.p_suction, p_cold * (1 + 1e-6));
          if (share == 1 && box > kZero + 20) shares.push_back(p.p_suction / p_cold);
          if (p.p_suction > p_cold * (1 - 1e-6)) {
            ++with_liquid;  // gas and oil hold no more than there is; the rest is liquid in the coldest place
            EXPECT_LE(mass, charge * 1.001) << id;
          } else {
            ++all_gas;
            worst = std::max(worst, std::abs(mass / charge - 1));
            EXPECT_NEAR(mass / charge, 1, 2e-3) << id << " " << share;
          }
        }
      }
    }
  }
  std::printf("  measured: %d with liquid, %d all gas, charge recounted within %.1e\n", with_liquid, all_gas,
              worst);
  // All at one temperature with the whole charge: the oil takes part of it and holds the pressure below
  // saturation.
  std::sort(shares.begin(), shares.end());
  std::printf("  measured: fully charged and all at 24 C: %.2f, %.2f, %.2f of saturation (5, 50, 95 %%)\n",
              shares[shares.size() / 20], shares[shares.size() / 2], shares[shares.size() * 19 / 20]);
  EXPECT_GT(with_liquid, 100);
  EXPECT_GT(all_gas, 100);
}

// Turning without pumping draws the unloaded current, a third to two thirds of the running one.
TEST(Equalise, AMotorThatTurnsWithoutPumpingStillDrawsCurrent) {
  std::vector<double> shares;
  for (const Drawn& d : draw_machines(cabinet("reach_in_cooler"), 200, 10)) {
    Departure broken;
    broken.pumps = false;
    const Conditions around{kZero + 25, kZero + 8, d.machine.compressor.rated_voltage, 1};
    const OperatingPoint p = operate(d.machine, *d.fluid, around, broken);
    ASSERT_EQ(p.summary.status, Status::equalised);
    EXPECT_EQ(p.p_suction, p.p_discharge);
    shares.push_back(p.current / d.machine.design_current);
  }
  std::sort(shares.begin(), shares.end());
  std::printf("  measured: unloaded over design current %.2f to %.2f\n", shares.front(), shares.back());
  EXPECT_GT(shares.front(), 0.30);
  EXPECT_LT(shares.back(), 0.70);
}

}  // namespace

// The paths that the circuit and the screens ask hundreds of thousands of times take no memory from the heap.
// Every malloc of this program is counted, the C++ operators' and Eigen's too.
#include <cstdlib>

#include "fluids/blend_model.hpp"
#include "fluids/state_table.hpp"
#include "support/fluid_rows.hpp"

namespace {
long taken = 0;
}

extern "C" void* __libc_malloc(std::size_t size);  // NOLINT: glibc's own, behind the one replaced here
extern "C" void* malloc(std::size_t size) noexcept {
  ++taken;
  return __libc_malloc(size);
}

namespace {

using namespace coldwright;

template <class Question>
long taken_by(Question&& question) {
  const long before = taken;
  for (int i = 0; i < 50; ++i) question(i);
  return taken - before;
}

TEST(NoAllocation, TheCountIsAbleToFail) {
  volatile double sink = 0;
  EXPECT_GE(taken_by([&](int i) {
              std::vector<double> some(static_cast<std::size_t>(100 + i), 1.0);
              sink = sink + some.back();
            }),
            50);
}

TEST(NoAllocation, OfAPureRefrigerant) {
  const fluids::Fluid& fluid = test::fluid("R290");
  const auto table = test::must(fluids::StateTable::make(fluid), "table");
  double sum = 0;
  EXPECT_EQ(taken_by([&](int i) { sum += *fluid.saturation_pressure(250.0 + i); }), 0);
  EXPECT_EQ(taken_by([&](int i) { sum += *fluid.saturation_temperature(2e5 + 1e3 * i); }), 0);
  EXPECT_EQ(taken_by([&](int i) { sum += fluid.saturation_at_T(250.0 + i)->vapour.h; }), 0);
  EXPECT_EQ(taken_by([&](int i) { sum += fluid.at_Tp(280.0 + i, 2e5)->h; }), 0);
  EXPECT_EQ(taken_by([&](int i) { sum += fluid.at_Tp(240.0, 2e6 + 1e3 * i)->h; }), 0);
  EXPECT_EQ(taken_by([&](int i) { sum += fluid.at_ph(2e5, 1e5 + 1e4 * i)->T; }), 0);
  EXPECT_EQ(taken_by([&](int i) { sum += table.at_ph(2e5, 1e5 + 1e4 * i).value_or(fluids::TableState{}).T; }),
            0);
  EXPECT_EQ(taken_by([&](int i) { sum += table.at_Tp(240.0 + i, 2e5).value_or(fluids::TableState{}).h; }), 0);
  EXPECT_TRUE(std::isfinite(sum));
}

TEST(NoAllocation, OfABlend) {
  const fluids::Fluid& fluid = test::fluid("R448A");
  const fluids::BlendModel& model = *fluid.data().blend;
  double sum = 0;
  EXPECT_EQ(taken_by([&](int i) { sum += *fluid.bubble_pressure(240.0 + i) + *fluid.dew_temperature(2e5); }),
            0);
  EXPECT_EQ(taken_by([&](int i) { sum += model.split_at_T(240.0 + i, 0).p; }), 0);
  EXPECT_EQ(taken_by([&](int i) { sum += model.split_at_p(2e5 + 1e3 * i, 1).T; }), 0);
  EXPECT_EQ(taken_by([&](int i) { sum += fluid.at_Tp(280.0 + i, 2e5)->h; }), 0);
  EXPECT_EQ(taken_by([&](int i) { sum += fluid.at_ph(5e5, 1.5e5 + 6e3 * i)->T; }),
            0);  // liquid, wet and vapour
  EXPECT_EQ(taken_by([&](int i) { sum += fluid.at_px(5e5, 0.02 * i)->h; }), 0);
  EXPECT_EQ(taken_by([&](int i) { sum += fluid.transport(*fluid.at_Tp(280.0 + i, 2e5))->viscosity; }), 0);
  EXPECT_TRUE(std::isfinite(sum));
}

}  // namespace

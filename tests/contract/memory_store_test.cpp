// The memory as a set of calls: order and repetition don't matter, forgetting lasts, what is written reads
// back, and what isn't a memory is refused.
#include "service/memory_store.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "calls/strict_json.hpp"
#include "service/knowledge_loader.hpp"
#include "service/recall.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::test {
namespace {

using nlohmann::json;
using service::Forgotten;
using service::Memory;
using service::RememberedCall;

RememberedCall call(const std::string& id, const std::string& unit, double td = 1,
                    const std::string& cause = "low_charge") {
  RememberedCall c;
  c.id = id;
  c.print = id + "print";
  c.entries = 5;
  c.unit = unit;
  c.model = "Nordhylla / NK 40";
  c.at = 1700000000 + static_cast<std::int64_t>(id.size());
  c.plate.archetype = "reach_in_cooler";
  c.plate.charge = 0.11;
  c.refrigerant = "R290";
  c.cause = cause;
  c.parts = {"drier"};
  c.sound = 0.95;
  c.readings = 1;
  c.lesson.value = {td};
  c.lesson.slope.assign(diagnosis::kLatents, 0);
  c.lesson.slope[static_cast<std::size_t>(circuit::Latent::evaporator_td)] = 1.2345678;
  return c;
}

std::string written(const Memory& m) { return calls::dump(service::write_memory(m)); }

TEST(MemoryStore, IsASetOfCalls) {
  std::vector<RememberedCall> calls{call("a", "U1"), call("b", "U1"), call("c", "U2")};
  RememberedCall later = call("b", "U1", 2);  // a later state of the same call: more entries
  later.entries = 9;
  calls.push_back(later);
  std::sort(calls.begin(), calls.end(), [](const auto& x, const auto& y) { return x.entries < y.entries; });
  std::vector<int> order{0, 1, 2, 3};
  std::string first;
  do {
    Memory m;
    for (int i : order) service::take_in(m, calls[static_cast<std::size_t>(i)]);
    service::take_in(m, calls[static_cast<std::size_t>(order[0])]);  // once more
    if (first.empty()) first = written(m);
    ASSERT_EQ(written(m), first);
    ASSERT_EQ(m.calls.size(), 3u);
  } while (std::next_permutation(order.begin(), order.end()));
  EXPECT_NE(first.find("\"entries\":9"), std::string::npos);
}

TEST(MemoryStore, WhatIsWrittenReadsBackTheSame) {
  Memory m;
  service::take_in(m, call("a", "U1", 0.123456789));
  service::take_in(m, call("b", "U2", -3.3e-3));
  m.corrections.push_back({"U1", "evaporator_td", 9.12345678});
  service::forget(m, {"", "U2", "", ""});
  const std::string once = written(m);
  const auto back = service::read_memory(json::parse(once));
  ASSERT_TRUE(back) << to_text(back.problem());
  EXPECT_EQ(written(*back), once);
  EXPECT_NEAR(back->calls[0].lesson.slope[static_cast<std::size_t>(circuit::Latent::evaporator_td)],
              1.2345678, 1e-5);
  EXPECT_EQ(back->calls[0].plate.charge, 0.11);
  EXPECT_FALSE(back->calls[0].plate.rated_current);
}

TEST(MemoryStore, WhatIsForgottenStaysSoUntilAskedBack) {
  Memory m;
  service::take_in(m, call("a", "Nordhylla / NK 40 / 7"));
  service::take_in(m, call("b", "U2"));
  EXPECT_TRUE(service::forget(m, {"", "nordhylla / nk 40 / 7", "", ""}));  // capitals don't matter
  EXPECT_EQ(m.calls.size(), 1u);
  EXPECT_FALSE(service::take_in(m, call("a", "Nordhylla / NK 40 / 7")));
  EXPECT_FALSE(service::take_in(m, call("new", "Nordhylla / NK 40 / 7")));
  EXPECT_EQ(m.calls.size(), 1u);
  const auto later = service::read_memory(service::write_memory(m));
  ASSERT_TRUE(later);
  Memory again = *later;
  EXPECT_FALSE(service::take_in(again, call("a", "Nordhylla / NK 40 / 7")));
  EXPECT_TRUE(service::ask_back(again, {"", "Nordhylla / NK 40 / 7", "", ""}));
  EXPECT_FALSE(service::ask_back(again, {"", "Nordhylla / NK 40 / 7", "", ""}));
  EXPECT_TRUE(service::take_in(again, call("a", "Nordhylla / NK 40 / 7")));
  EXPECT_FALSE(service::forget(m, {"", "nobody", "", ""}));
  EXPECT_TRUE(service::forget(m, {"b", "", "", ""}));
  EXPECT_TRUE(m.calls.empty());
}

service::Recalled recalled(const Memory& m, const std::string& unit, const std::string& but = {}) {
  const auto knowledge = *service::load_knowledge();
  const auto fluid = *service::load_fluid("R290");
  auto r = service::recall(m, unit, "Nordhylla / NK 40", call("a", "U").plate, but, fluid, knowledge);
  EXPECT_TRUE(r) << (r ? "" : to_text(r.problem()));
  return *r;
}
double td_of(const service::Recalled& r) {
  return r.prior ? r.prior->mean[static_cast<std::size_t>(circuit::Latent::evaporator_td)] : 0;
}

TEST(MemoryStore, RecallsItsOwnUnitAndNotTheCallThatAsks) {
  Memory m;
  service::take_in(m, call("a", "U1", 2));
  EXPECT_EQ(recalled(m, "U1").calls, 1);
  EXPECT_GT(td_of(recalled(m, "u1")), 0.5);
  EXPECT_FALSE(recalled(m, "U1", "a").prior);
  EXPECT_FALSE(recalled(m, "U2").prior);
}

TEST(MemoryStore, ANewCompressorIsAnotherMachine) {
  Memory m;
  service::take_in(m, call("a", "U1", 2));
  RememberedCall renewal = call("renewal", "U1", -2, "not_pumping");
  renewal.renewed = true;
  renewal.parts = {"compressor"};
  service::take_in(m, renewal);
  const auto r = recalled(m, "U1");
  EXPECT_EQ(r.calls, 1);
  EXPECT_EQ(r.earlier_machine, 1);
  EXPECT_LT(td_of(r), 0);
  RememberedCall other = call("longer name", "U1", 2);
  other.plate.charge = 0.15;
  service::take_in(m, other);
  EXPECT_EQ(recalled(m, "U1").another_plate, 1);
}

TEST(MemoryStore, AModelIsRecalledForAUnitNeverSeen) {
  Memory m;
  for (int u = 1; u <= 4; ++u) {
    RememberedCall c = call("call " + std::to_string(u), "U" + std::to_string(u), 6);
    for (double& s : c.lesson.slope) s *= 2.5;  // well read
    service::take_in(m, c);
  }
  const auto r = recalled(m, "new");
  EXPECT_EQ(r.calls, 0);
  EXPECT_EQ(r.units, 4);
  EXPECT_GT(td_of(r), 0.8);
  EXPECT_EQ(recalled(m, "U1").units, 3);  // a unit is no witness of its own model
  service::forget(m, {"", "", "nordhylla / nk 40", ""});
  EXPECT_EQ(recalled(m, "new").units, 0);
  EXPECT_EQ(m.calls.size(), 4u);
}

TEST(MemoryStore, CorrectionsAndForgottenQuantitiesMoveWhatIsBelieved) {
  const auto knowledge = *service::load_knowledge();
  const auto fluid = *service::load_fluid("R290");
  const auto table = std::make_shared<const circuit::WorkingFluid>(*circuit::WorkingFluid::make(fluid));
  const auto opened = diagnosis::AtSetPoint::open(call("a", "U").plate, table, knowledge);
  ASSERT_TRUE(opened);
  const diagnosis::AtSetPoint* machine = opened->get();
  const auto td = [&](const service::Recalled& r) {
    return machine->quantities(r.prior.get(), 200)[0].interval;
  };
  Memory m;
  service::take_in(m, call("a", "U1", 3));
  const auto usual = machine->quantities(nullptr, 200)[0].interval, learned = td(recalled(m, "U1"));
  EXPECT_GT(learned.mid, usual.mid + 1);
  m.corrections.push_back({"U1", "evaporator_td", usual.mid - 2});
  const auto corrected = td(recalled(m, "U1"));
  EXPECT_NEAR(corrected.mid, usual.mid - 2, 0.6);
  EXPECT_LT(corrected.high - corrected.low, 0.6 * (usual.high - usual.low));
  m.corrections.clear();
  service::forget(m, {"", "U1", "", "evaporator_td"});
  const auto forgotten = td(recalled(m, "U1"));
  EXPECT_NEAR(forgotten.mid, usual.mid, 0.6);
  EXPECT_GT(forgotten.high - forgotten.low, 0.85 * (usual.high - usual.low));
}

TEST(MemoryStore, RepeatedFailuresAreSaidWithTheirCounts) {
  const auto knowledge = *service::load_knowledge();
  Memory m;
  for (int u = 1; u <= 5; ++u)
    service::take_in(m, call("c" + std::to_string(u), "U" + std::to_string(u), 0, "evaporator_fan"));
  service::take_in(m, call("d", "U9", 0, "low_charge"));
  const auto said = service::repeated_failures(m, knowledge);
  ASSERT_EQ(said.size(), 1u);  // the driers replaced on the way are no more than usual of their causes
  EXPECT_EQ(said[0].what, "evaporator_fan");
  EXPECT_EQ(said[0].rate.failures, 5);
  EXPECT_EQ(said[0].rate.of, 6);
  EXPECT_EQ(said[0].units, 5);
  EXPECT_GT(said[0].rate.above_usual, 0.995);
  Memory one_unit;
  for (int u = 1; u <= 5; ++u)
    service::take_in(one_unit, call("c" + std::to_string(u), "U1", 0, "evaporator_fan"));
  EXPECT_TRUE(service::repeated_failures(one_unit, knowledge).empty());
}

TEST(MemoryStore, WhatIsNoMemoryIsRefused) {
  Memory m;
  service::take_in(m, call("a", "U1"));
  const json good = service::write_memory(m);
  const auto refused = [&](const char* pointer, const json& value, const std::string& expected) {
    json bad = good;
    bad[json::json_pointer(pointer)] = value;
    const auto r = service::read_memory(bad);
    ASSERT_FALSE(r) << pointer;
    EXPECT_NE(to_text(r.problem()).find(expected), std::string::npos) << to_text(r.problem());
  };
  refused("/schema", "call", "doesn't say that it is one");
  refused("/format", 2, "format 1");
  refused("/calls/0/rows/0/slopes/evaporator_te", 1.0, "another version");
  refused("/calls/0/rows/0/slopes/severity", 1.0, "another version");
  refused("/calls/0/rows/0/slopes/evaporator_td", "much", "number");
  refused("/calls/0/rows/0/value", 1e9, "value and slopes");
  refused("/calls/0/at", "yesterday", "calls[0].at");
  refused("/calls/0/sound", "yes", "a number");
  refused("/calls", 3, "a list");
  refused("/more", 1, "none is skipped");
  EXPECT_FALSE(service::read_memory(json::array()));
}

}  // namespace
}  // namespace coldwright::test

// Traces of the virtual cabinet, whose phases the segmentation doesn't know, through the real program: what
// it finds beside what the cabinet did.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include <cstdio>
#include <string>

#include "contract/program.hpp"
#include "support/lab_cabinet.hpp"

namespace coldwright {
namespace {

using nlohmann::json;

struct Logged {
  std::string text, with_commas;  // the same course, written in two ways
  int starts = 0;
};

/// Ten hours of a cooler at one sample in ten seconds; doors, off-cycle defrosts, a fan of 2 W that never
/// stops.
Logged logged(std::vector<lab::Fault> faults = {}) {
  const lab::Designed unit = lab::lab_cooler();
  lab::Life life;
  life.start = life.outside.ambient = 298;
  life.start_box = unit.set_point + 3;
  life.outside.voltage = unit.plate_voltage;
  life.faults = std::move(faults);
  lab::Simulation run(unit.cabinet, lab::lab_refrigerant("R290"), life, RandomStream(8));
  EXPECT_TRUE(run.advance(1800));
  const std::size_t before = run.starts().size();
  Logged out{"time,power W,box C,suction bar\n", "Zeit;Leistung [W];Innen [\u00B0C];Saugdruck [bar]\n"};
  for (int i = 0; i < 3600; ++i) {
    const lab::Readable r = run.read();
    const int t = 10 * i;
    char clock[16], values[64];
    std::snprintf(clock, sizeof clock, "%02d:%02d:%02d", t / 3600, t / 60 % 60, t % 60);
    std::snprintf(values, sizeof values, ",%.1f,%.2f,%.3f\n", r.power + 2, r.box_air - 273.15,
                  r.suction_pressure / 1e5 - 1.013);
    out.text += std::string("2026-03-02T") + clock + values;
    std::string commas = values;
    for (char& c : commas) c = c == ',' ? ';' : c == '.' ? ',' : c;
    out.with_commas += std::string("02.03.2026 ") + clock + commas;
    EXPECT_TRUE(run.advance(10));
  }
  out.starts = static_cast<int>(run.starts().size() - before);
  return out;
}

json traced(const std::string& text) {
  const tests::Folder folder;
  const auto outcome = tests::coldwright("trace --json " + folder.write("log.csv", text));
  EXPECT_EQ(outcome.status, 0) << outcome.err;
  return json::parse(outcome.out);
}

int count(const json& items, const char* key, const std::string& word) {
  int n = 0;
  for (const json& item : items) n += item[key] == word;
  return n;
}

TEST(LabTrace, EveryCycleOfASoundMachineIsFoundHoweverItIsWritten) {
  const Logged log = logged();
  const json answer = traced(log.text);
  EXPECT_EQ(answer["phase_count"].get<std::size_t>(), answer["phases"].size());
  ASSERT_GT(log.starts, 15);
  EXPECT_NEAR(count(answer["phases"], "state", "running"), log.starts, 1);  // one may run when the log begins
  EXPECT_EQ(count(answer["phases"], "state", "not_pumping"), 0);
  EXPECT_EQ(count(answer["phases"], "state", "overload"), 0);
  // A cycle as wide as the control's band is no pull-down; the one after a defrost may be.
  EXPECT_LE(count(answer["events"], "event", "pull_down"), 4);
  // Decimal commas and the day first say the same.
  const json other = traced(log.with_commas);
  ASSERT_EQ(answer["phases"].size(), other["phases"].size());
  for (std::size_t i = 0; i < other["phases"].size(); ++i) {
    EXPECT_EQ(answer["phases"][i]["state"], other["phases"][i]["state"]);
    EXPECT_EQ(answer["phases"][i]["from"], other["phases"][i]["from"]);
  }
}

TEST(LabTrace, PumpingLostIsTold) {
  const json answer = traced(logged({{"not_pumping", 1, 0.5, 5 * 3600, 0}}).text);
  EXPECT_GE(count(answer["phases"], "state", "not_pumping"), 1);
  double first = 1e9;
  for (const json& p : answer["phases"])
    if (p["state"] == "not_pumping") first = std::min(first, p["from"].get<double>());
  EXPECT_NEAR(first, 4.5 * 3600, 1800);  // the log begins half an hour into the cabinet's life
}

TEST(LabTrace, AStuckRotorIsAnOverloadsCycle) {
  const json answer = traced(logged({{"start_or_winding", 1, 0.2, 5 * 3600, 0}}).text);
  EXPECT_GE(count(answer["phases"], "state", "overload") +
                count(answer["events"], "event", "overload_cycle") +
                count(answer["events"], "event", "failed_start"),
            1);
}

}  // namespace
}  // namespace coldwright

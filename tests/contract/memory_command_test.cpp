// Proof and memory from the command line: a file is written, read again, corrected, forgotten, and used by
// diagnose.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "contract/program.hpp"
#include "support/repaired_call.hpp"

namespace coldwright::tests {
namespace {

using nlohmann::json;

bool has(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

TEST(MemoryCommand, WritesAFileThatDiagnoseUses) {
  const Folder folder;
  const std::string call = folder.write("call.json", test::repaired_call({.td = 1.5}).dump());
  const std::string next = folder.write("next.json", test::repaired_call({.day = 25, .td = 1.5}).dump());
  const std::string memory = folder.file("memory.json");
  const Outcome made = coldwright("memory " + call + " -o " + memory);
  ASSERT_EQ(made.status, 0) << made.err;
  EXPECT_TRUE(has(made.out, "evaporator TD, as learned")) << made.out;
  const json written = json::parse(Folder::read(memory));
  EXPECT_EQ(written["schema"], "memory");
  const Outcome with = coldwright("expect " + next + " --population 20 --memory " + memory);
  ASSERT_EQ(with.status, 0) << with.err;
  EXPECT_TRUE(has(with.out, "taught of this unit")) << with.out;
  EXPECT_FALSE(has(coldwright("expect " + next + " --population 20").out, "taught of this unit"));
  const Outcome how = coldwright("memory --how --memory " + memory);
  EXPECT_TRUE(has(how.out, "P^-1")) << how.out;
  // What --json printed is taken for the memory in it.
  const std::string printed =
      folder.write("printed.json", coldwright("memory --json --memory " + memory).out);
  const Outcome again =
      coldwright("memory " + call + " --memory " + printed + " -o " + folder.file("again.json"));
  ASSERT_EQ(again.status, 0) << again.err;
  EXPECT_EQ(json::parse(Folder::read(folder.file("again.json"))), written);
}

TEST(MemoryCommand, CorrectsForgetsAndAsksBack) {
  const Folder folder;
  const std::string call = folder.write("call.json", test::repaired_call({}).dump());
  const std::string memory = folder.file("memory.json");
  ASSERT_EQ(coldwright("memory " + call + " -o " + memory).status, 0);
  const std::string unit = "'unit=Nordhylla / NK 40 / S1";
  const Outcome corrected = coldwright("memory --memory " + memory + " --correct " + unit +
                                       "; quantity=evaporator_td; value=16F' -o " + memory);
  ASSERT_EQ(corrected.status, 0) << corrected.err;
  EXPECT_TRUE(has(corrected.out, "set by hand"));
  const Outcome forgotten = coldwright("memory --memory " + memory + " --forget " + unit + "' -o " + memory);
  ASSERT_EQ(forgotten.status, 0) << forgotten.err;
  EXPECT_TRUE(has(coldwright("memory " + call + " --memory " + memory).out, "was forgotten"));
  const Outcome back = coldwright("memory " + call + " --memory " + memory + " --ask-back " + unit + "'");
  ASSERT_EQ(back.status, 0) << back.err;
  EXPECT_TRUE(has(back.out, "taught what this unit is like"));
}

TEST(MemoryCommand, WhatIsNoMemoryEndsWithTwo) {
  const Folder folder;
  const std::string call = folder.write("call.json", test::repaired_call({.proved = false}).dump());
  for (const std::string& text :
       {std::string("nonsense"), std::string("{}"), std::string("{\"schema\": \"memory\", \"format\": 7}")}) {
    const Outcome refused = coldwright("diagnose " + call + " --memory " + folder.write("bad.json", text));
    EXPECT_EQ(refused.status, 2) << text;
    EXPECT_TRUE(has(refused.err, "memory")) << refused.err;
    EXPECT_TRUE(refused.out.empty());
  }
  EXPECT_EQ(coldwright("diagnose " + call + " --memory " + folder.file("none.json")).status, 2);
  EXPECT_EQ(coldwright("memory --correct 'unit=x; quantity=superheat; value=3F'").status, 2);
}

TEST(ProofCommand, ForetellsAndJudges) {
  const std::string machine =
      "proof --cabinet reach_in_cooler --refrigerant R290 --charge 110g --rated-current 2.5A --t 81F";
  const Outcome start = coldwright(machine + " --box 70F");
  ASSERT_EQ(start.status, 0) << start.err;
  EXPECT_TRUE(has(start.out, "time to the set point")) << start.out;
  const Outcome judged =
      coldwright(machine +
                 " --reading '0 min, 70 F' --reading '10 min, 71 F' --reading '20 min, 71 F' "
                 "--reading '30 min, 72 F, 0.9 A'");
  ASSERT_EQ(judged.status, 0) << judged.err;
  EXPECT_TRUE(has(judged.out, "Not a sound machine's course")) << judged.out;
  const Outcome muddled = coldwright(machine + " --reading '10 min, 70 F' --reading '5 min, 68 F'");
  EXPECT_EQ(muddled.status, 2);
}

}  // namespace
}  // namespace coldwright::tests

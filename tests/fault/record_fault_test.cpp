// What a record can't be made of: one clear message each.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "contract/program.hpp"

namespace coldwright::tests {
namespace {

using nlohmann::json;

const std::string kSample = SOURCE_DIR "/data/examples/finished-call.json";

void refused(const std::string& arguments, const std::string& word) {
  const Outcome outcome = coldwright("record " + arguments);
  EXPECT_EQ(outcome.status, 2) << arguments << outcome.err;
  EXPECT_NE(outcome.err.find(word), std::string::npos) << outcome.err;
  EXPECT_EQ(outcome.out, "");
}

TEST(RecordFaults, ShopsThatAreNone) {
  const Folder folder;
  refused(kSample + " --shop " + folder.write("a.json", "{\"name\": \"A\", \"owner\": \"B\"}"), "owner");
  refused(kSample + " --shop " + folder.write("b.json", "[1]"), "shop");
  refused(kSample + " --shop " + folder.write("c.json", "{\"name\": 3}"), "name");
  refused(kSample + " --shop " + folder.write("d.json", "{"), "JSON");
  refused(kSample + " --shop " + folder.write("e.json", json{{"name", std::string(301, 'x')}}.dump()),
          "300 bytes");
  refused(kSample + " --shop " + folder.file("nothing.json"), "nothing.json");
}

TEST(RecordFaults, ChoicesThatAreNone) {
  for (const char* option : {"--for boss", "--format doc", "--paper a5"})
    EXPECT_EQ(coldwright("record " + kSample + " " + option).status, 2) << option;
}

TEST(RecordFaults, CallsThatContradictThemselves) {
  const Folder folder;
  json call = json::parse(Folder::read(kSample));
  call["entries"].push_back({{"kind", "nameplate"}, {"charge", "90 g"}});
  refused(folder.write("call.json", call.dump()), "charge");
  refused(folder.write("broken.json", "{\"call\": "), "call file");
  call = json::parse(Folder::read(kSample));
  call["entries"].push_back({{"kind", "step"}, {"step", "tracer"}, {"state", "skipped"}});
  refused(folder.write("skip.json", call.dump()), "reason");
}

}  // namespace
}  // namespace coldwright::tests

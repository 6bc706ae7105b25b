// Live readings from a real broker: one that drops, messages that say nothing, a disk that is full. Nothing
// that was published is lost, and what can't be read is kept as it came.
#include <algorithm>
#include <cstdio>

#include "support/broker.hpp"

namespace {

using namespace coldwright::tests;

/// The values of a sensor in the order of the file.
std::vector<std::string> values(const std::string& file, const std::string& sensor) {
  std::vector<std::string> out;
  std::size_t from = 0;
  while (from < file.size()) {
    const std::size_t end = std::min(file.find('\n', from), file.size());
    const std::string line = file.substr(from, end - from);
    const std::size_t at = line.find("," + sensor + ",");
    if (at != std::string::npos) out.push_back(line.substr(at + sensor.size() + 2));
    from = end + 1;
  }
  return out;
}

std::vector<std::string> numbers(int from, int to) {
  std::vector<std::string> out;
  for (int i = from; i <= to; ++i) out.push_back(std::to_string(i));
  return out;
}

std::string lines(int from, int to, const std::string& unit = "") {
  std::string out;
  for (const std::string& n : numbers(from, to)) out += n + unit + "\n";
  return out;
}

TEST(Live, NothingPublishedIsLostWhenTheBrokerDrops) {
  const Folder folder;
  Broker broker(folder);
  Listening listening(folder, broker, "cooler/#");
  broker.publish("cooler/power", lines(1, 50, " W"));
  ASSERT_TRUE(listening.has(",cooler/power (W),50\n"));
  std::this_thread::sleep_for(std::chrono::seconds(2));  // the broker has written down what it owes
  broker.kill_it();
  EXPECT_TRUE(listening.says("no line to the broker"));
  broker.start();
  broker.publish("cooler/power",
                 lines(51, 120, " W"));  // before the listener is back, or after: whichever comes
  ASSERT_TRUE(listening.has(",cooler/power (W),120\n")) << listening.said();
  EXPECT_EQ(values(listening.file(), "cooler/power (W)"), numbers(1, 120));
  EXPECT_NE(listening.file().find("the broker is gone"), std::string::npos);
  EXPECT_NE(listening.file().find("the broker is back"), std::string::npos);
  EXPECT_EQ(listening.end(), 0);
  EXPECT_NE(listening.summary().find("120 readings of 1 sensor"), std::string::npos) << listening.summary();
  EXPECT_NE(listening.summary().find("the broker was gone 1 time."), std::string::npos)
      << listening.summary();
}

TEST(Live, WhatWasPublishedWhileNobodyListenedArrivesInTheSameFile) {
  const Folder folder;
  Broker broker(folder);
  {
    Listening first(folder, broker, "cooler/power");
    broker.publish("cooler/power", lines(1, 3));
    ASSERT_TRUE(first.has(",cooler/power,3\n"));
    EXPECT_EQ(first.end(), 0);
  }
  broker.publish("cooler/power", lines(4, 9));
  Listening second(folder, broker, "cooler/power");
  ASSERT_TRUE(second.has(",cooler/power,9\n"));
  EXPECT_EQ(values(second.file(), "cooler/power"), numbers(1, 9));
  EXPECT_EQ(second.file().find("time,sensor,value\n"), 0u);
  EXPECT_EQ(second.file().rfind("time,sensor,value\n"), 0u) << "one header";
}

TEST(Live, WhatSaysNothingIsKeptAsItCameAndCounted) {
  const Folder folder;
  Broker broker(folder);
  Listening listening(folder, broker, "#");
  broker.publish("a", "hello\n{\"x\": \n[1]\nnan\n1.2.3\n41 psig and more of it\n\xff\xfe\n");
  broker.publish("b/c, \"d\"", "41,2 psig\n-3 °C\nopen\nfalse\n");
  broker.publish("e",
                 "{\"suction\": \"41.5 psig\", \"power\": 120.5, \"door\": true, \"note\": \"no number\"}\n"
                 "{\"time\": \"2026-03-04T13:05:06Z\", \"value\": 7, \"unit\": \"A\"}\nend 1\n3\n");
  ASSERT_TRUE(listening.has(",e,3\n"));
  const std::string file = listening.file();
  EXPECT_NE(file.find(",\"b/c, \"\"d\"\" (psig)\",41.2\n"), std::string::npos) << file;
  EXPECT_NE(file.find(",\"b/c, \"\"d\"\" (°C)\",-3\n"), std::string::npos) << file;
  EXPECT_EQ(values(file, "e/suction (psig)"), std::vector<std::string>{"41.5"});
  EXPECT_EQ(values(file, "e/power"), std::vector<std::string>{"120.5"});
  EXPECT_EQ(values(file, "e/door"), std::vector<std::string>{"1"});
  EXPECT_NE(file.find("\n2026-03-04T13:05:06Z,e (A),7\n"), std::string::npos) << "its own time counts";
  for (const char* kept :
       {"\"hello\"", "\"{\\\"x\\\": \"", "\"nan\"", "\"1.2.3\"", "\"41 psig and more of it\""})
    EXPECT_NE(file.find(std::string("not understood, as it came: \"a\" ") + kept), std::string::npos)
        << kept << file;
  EXPECT_EQ(listening.end(), 0);
  EXPECT_NE(listening.summary().find("9 readings of 8 sensors, 8 messages not understood"), std::string::npos)
      << listening.summary();
}

TEST(Live, AFullDiskLosesNothing) {
  const Folder folder;
  Broker broker(folder);
  Listening listening(folder, broker, "cooler/power");
  broker.publish("cooler/power",
                 lines(1, 200));  // the limit below holds for what it says as well, which is shorter
  ASSERT_TRUE(listening.has(",cooler/power,200\n"));
  rlimit limit{};
  ASSERT_EQ(prlimit(listening.pid(), RLIMIT_FSIZE, nullptr, &limit), 0);
  const rlimit small{listening.file().size() + 10, limit.rlim_max};  // ends within a row
  ASSERT_EQ(prlimit(listening.pid(), RLIMIT_FSIZE, &small, nullptr), 0);
  broker.publish("cooler/power", lines(201, 260));
  EXPECT_TRUE(listening.says("readings stay in memory")) << listening.said();
  ASSERT_EQ(prlimit(listening.pid(), RLIMIT_FSIZE, &limit, nullptr), 0);
  EXPECT_TRUE(listening.says("nothing was lost")) << listening.said();
  EXPECT_EQ(values(listening.file(), "cooler/power"), numbers(1, 260));
  EXPECT_EQ(listening.end(), 0);
}

TEST(Live, ATraceReadsWhatWasHeard) {
  const Folder folder;
  Broker broker(folder);
  Listening listening(folder, broker, "shop/cooler");
  // Half a day, a row a minute: 18 minutes of running, 22 of rest.
  std::string day;
  for (int m = 0; m < 720; ++m) {
    char row[160];
    std::snprintf(
        row, sizeof row,
        "{\"time\": \"2026-11-25T%02d:%02d:00Z\", \"power\": \"%.1f W\", \"box air\": \"%.1f C\"}\n", m / 60,
        m % 60, m % 40 < 18 ? 115 + 0.5 * (m % 3) : 3 + 0.1 * (m % 2), 3.0 + 0.1 * (m % 5));
    day += row;
    if (m == 300) day += "the sensor says nothing of use\n";
  }
  broker.publish("shop/cooler", day);
  ASSERT_TRUE(listening.has("T11:59:00Z,shop/cooler/power (W),"));
  EXPECT_EQ(listening.end(), 0);
  const Outcome seen = coldwright::tests::coldwright("trace " + folder.file("live.csv"));
  EXPECT_EQ(seen.status, 0) << seen.err;
  EXPECT_NE(seen.out.find("running  >99 %  18.0 min"), std::string::npos) << seen.out;
  EXPECT_NE(seen.out.find("off      >99 %  22 min"), std::string::npos) << seen.out;
  EXPECT_NE(seen.out.find("remark"), std::string::npos) << seen.out;
}

TEST(Live, RefusesInOneMessage) {
  const Folder folder;
  const auto refused = [&](const std::string& words, const std::string& part) {
    const Outcome seen = coldwright::tests::coldwright("listen " + words);
    EXPECT_EQ(seen.status, 2) << words;
    EXPECT_NE(seen.err.find(part), std::string::npos) << seen.err;
    EXPECT_EQ(std::count(seen.err.begin(), seen.err.end(), '\n'), 1) << seen.err;
  };
  const std::string to = " --to " + folder.file("new.csv");
  refused("--broker 127.0.0.1:1 --topic a" + to, "127.0.0.1:1");
  refused("--broker 127.0.0.1:99999 --topic a" + to, "HOST:PORT");
  refused("--broker :1883 --topic a" + to, "HOST:PORT");
  refused("--broker 127.0.0.1:1 --topic a/#/b" + to, "a/#/b");
  refused("--broker 127.0.0.1:1 --topic a --password-file " + folder.file("none") + to, "password");
  refused("--broker 127.0.0.1:1 --topic a --to " + folder.file("no/such/folder.csv"), "folder.csv");
  refused("--broker 127.0.0.1:1 --topic a --user", "--user");
  const std::string other = folder.write("other.csv", "someone's own\n");
  refused("--broker 127.0.0.1:1 --topic a --to " + other, "another kind of file");
  EXPECT_EQ(Folder::read(other), "someone's own\n");
}

TEST(Live, ARowThatWasCutOffSpoilsNoOther) {
  const Folder folder;
  folder.write("live.csv", "time,sensor,value\n2026-03-04T13:05:06Z,cooler/po");
  Broker broker(folder);
  Listening listening(folder, broker, "cooler/power");
  broker.publish("cooler/power", "8\n");
  ASSERT_TRUE(listening.has(",cooler/power,8\n"));
  EXPECT_NE(listening.file().find("cooler/po\n2"), std::string::npos) << listening.file();
}

TEST(Live, TwoListenersDontShareAFile) {
  const Folder folder;
  Broker broker(folder);
  Listening listening(folder, broker, "a");
  const Outcome second = coldwright::tests::coldwright("listen --broker " + broker.place() +
                                                       " --topic a --to " + folder.file("live.csv"));
  EXPECT_EQ(second.status, 2);
  EXPECT_NE(second.err.find("another listener"), std::string::npos) << second.err;
}

}  // namespace

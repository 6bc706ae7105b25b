// What the server does with requests nobody should send, and with a start that can't be: one clear problem
// document (RFC 9457), or one clear line.
#include <gtest/gtest.h>

#include <chrono>
#include <nlohmann/json.hpp>

#include "support/server_process.hpp"

namespace {
using namespace coldwright::tests;

class ServerFaultTest : public testing::Test {
 protected:
  ServerFaultTest() {
    outside.write("secret.txt", "not for the world");
    folder.write("index.html", "page");
    folder.write("assets/app.js", "let a");
    folder.write(".hidden", "not for the world");
    folder.write(".git/config", "not for the world");
    std::filesystem::create_symlink(outside.path() + "/secret.txt", folder.path() + "/link.txt");
    std::filesystem::create_directory_symlink(outside.path(), folder.path() + "/linked");
  }
  AppFolder folder, outside;
};

void expect_problem(const Heard& heard, int status, const std::string& what) {
  const std::string about = what.substr(0, 60);
  EXPECT_EQ(heard.status, status) << about;
  EXPECT_EQ(heard.field("content-type"), "application/problem+json") << about;
  const auto document = nlohmann::json::parse(heard.body, nullptr, false);
  ASSERT_TRUE(document.is_object()) << about << heard.body;
  EXPECT_EQ(document.value("status", 0), status) << about;
  EXPECT_EQ(document.value("type", ""), "about:blank") << about;
  EXPECT_FALSE(document.value("title", "").empty()) << about;
  EXPECT_NE(document.value("title", ""), "Error") << about;
  EXPECT_FALSE(document.value("detail", "").empty()) << about;
}

TEST_F(ServerFaultTest, NoPathLeadsOut) {
  const Server server(folder.path());
  const std::string leaf = std::filesystem::path(outside.path()).filename().string() + "/secret.txt";
  const std::vector<std::string> targets = {"/../" + leaf,
                                            "/assets/../../" + leaf,
                                            "/%2e%2e/" + leaf,
                                            "/..%2f" + leaf,
                                            "/%2e%2e%2f" + leaf,
                                            "/..\\" + leaf,
                                            "/..%5c" + leaf,
                                            "/%252e%252e/" + leaf,
                                            "/....//" + leaf,
                                            "/./../" + leaf,
                                            "/..;/" + leaf,
                                            "/%c0%ae%c0%ae/" + leaf,
                                            "//" + outside.path() + "/secret.txt",
                                            outside.path() + "/secret.txt",
                                            "/link.txt",
                                            "/linked/secret.txt",
                                            "/.hidden",
                                            "/.git/config",
                                            "/index.html%00.txt",
                                            "/assets",
                                            "/assets/",
                                            "/index.html/",
                                            "http://localhost/../" + leaf,
                                            "file:///etc/passwd/",
                                            "/INDEX.HTML"};
  for (const auto& target : targets) {
    const Heard heard = server.get(target);
    expect_problem(heard, target.starts_with("file:") ? 400 : 404, target);
    EXPECT_EQ(heard.body.find("not for the world"), std::string::npos) << target;
  }
  // The same in the form in which a proxy asks is the page, wherever it says the host is.
  EXPECT_EQ(server.get("http://localhost/index.html").body, "page");
  EXPECT_EQ(server.get("http://localhost").body, "page");
}

TEST_F(ServerFaultTest, BytesThatNoAddressHas) {
  const Server server(folder.path());
  for (const std::string& target :
       {std::string("/index.html\0.txt", 16), std::string("/\x01"), std::string("/\x7f")}) {
    expect_problem(server.get(target), 400, target);
  }
  // What stands after a blank is taken for the version.
  expect_problem(server.get("/a b"), 505, "a blank");
  // Not UTF-8, yet its problem document must be.
  expect_problem(server.get("/\xff\xfe"), 404, "bytes above 127");
}

TEST_F(ServerFaultTest, NamesWhatWasAskedFor) {
  const Server server(folder.path());
  const auto document = nlohmann::json::parse(server.get("/no/such\"thing?x=1").body);
  EXPECT_EQ(document.at("instance"), "/no/such\"thing?x=1");
  EXPECT_EQ(document.at("title"), "Not Found");
  EXPECT_LT(server.get("/" + std::string(2000, 'x')).body.size(), 600u) << "echoes no more than it must";
}

TEST_F(ServerFaultTest, OtherMethods) {
  const Server server(folder.path());
  for (const std::string method : {"POST", "PUT", "DELETE", "OPTIONS", "TRACE", "PATCH", "CONNECT", "BREW"}) {
    const Heard heard = server.ask(method + " / HTTP/1.1\r\nHost: localhost\r\n\r\n");
    expect_problem(heard, 405, method);
    EXPECT_EQ(heard.field("allow"), "GET, HEAD");
    EXPECT_EQ(heard.field("connection"), "") << "nothing is wrong with the connection";
  }
}

TEST_F(ServerFaultTest, BodiesAreNeitherTakenNorMistakenForRequests) {
  const Server server(folder.path());
  const std::string inner = "GET /index.html HTTP/1.1\r\nHost: localhost\r\n\r\n";
  const std::string length = "Content-Length: " + std::to_string(inner.size()) + "\r\n";
  for (const auto& [method, status] : {std::pair{"GET", 413}, {"POST", 405}}) {
    for (const std::string& announced : {length, std::string("Transfer-Encoding: chunked\r\n")}) {
      Line line(server.port);
      ASSERT_TRUE(
          line.send(method + std::string(" / HTTP/1.1\r\nHost: localhost\r\n") + announced + "\r\n" + inner));
      const Heard heard = line.hear();
      expect_problem(heard, status, method + announced);
      EXPECT_EQ(heard.field("connection"), "close");
      EXPECT_TRUE(line.ended());
    }
  }
  EXPECT_EQ(server.get("/", "Content-Length: 0\r\n").status, 200);
  // Ten megabytes nobody reads: the answer arrives all the same.
  Line line(server.port);
  line.send("POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 10000000\r\n\r\n" +
            std::string(100'000, 'x'));
  expect_problem(line.hear(), 405, "a large body");
  expect_problem(server.get("/", "Content-Length: 99999999999999999999999\r\n"), 400,
                 "a length beyond numbers");
  expect_problem(server.get("/", "Content-Length: 1\r\nContent-Length: 2\r\n"), 400, "two lengths");
}

TEST_F(ServerFaultTest, TooLong) {
  const Server server(folder.path());
  expect_problem(server.get("/" + std::string(3'000, 'a')), 414, "address");
  expect_problem(server.get("/" + std::string(100'000, 'a')), 414, "first line");
  expect_problem(server.get("/", "X: " + std::string(100'000, 'a') + "\r\n"), 431, "one field");
  std::string many;
  for (int i = 0; i < 2'000; ++i) many += "X-" + std::to_string(i) + ": a\r\n";
  expect_problem(server.get("/", many), 431, "many fields");
  // A stream without an end gets its answer long before the client is done.
  Line line(server.port);
  const std::string piece(64 * 1024, 'a');
  std::size_t sent = 0;
  while (sent < (64u << 20) && line.send(piece)) sent += piece.size();
  EXPECT_LT(sent, 64u << 20) << "the server took it all";
  EXPECT_EQ(server.get("/").status, 200);
}

TEST_F(ServerFaultTest, NotARequest) {
  const Server server(folder.path());
  for (const std::string& text :
       {std::string("nonsense\r\n\r\n"), std::string("GET\r\n\r\n"), std::string("GET /\r\n\r\n"),
        std::string("\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03\r\n\r\n", 15),  // a TLS client's hello
        std::string("GET / HTTP/1.1\r\nno colon\r\n\r\n"),
        std::string("GET / HTTP/1.1\r\nHost: a\r\n folded: b\n\n\r\n\r\n"),
        std::string("GET / HTTP/1.1\r\nHost : a\r\n\r\n"), std::string("GET / HTTP/1.1\r\n\r\n"),
        std::string("GET / HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n"),
        std::string("GET index.html HTTP/1.1\r\nHost: a\r\n\r\n")}) {
    Line line(server.port);
    ASSERT_TRUE(line.send(text));
    expect_problem(line.hear(), 400, text);
    EXPECT_TRUE(line.ended()) << text;
  }
  for (const std::string version : {"HTTP/2.0", "HTTP/0.9", "HTTP/3.7"}) {
    expect_problem(server.ask("GET / " + version + "\r\nHost: a\r\n\r\n"), 505, version);
  }
  EXPECT_EQ(server.get("/").status, 200);
}

TEST_F(ServerFaultTest, WaitsForNobodyForever) {
  using Clock = std::chrono::steady_clock;
  const Server server(folder.path(), {"--port", "0", "--patience", "0.5"});
  // A byte now and then doesn't buy time: the whole head has to arrive.
  Line slow(server.port);
  const auto start = Clock::now();
  const std::string request = "GET / HTTP/1.1\r\nHost: " + std::string(1'000, 'a');
  for (const char c : request) {
    if (!slow.send(std::string(1, c)) || Clock::now() - start > std::chrono::seconds(2)) break;
    ::usleep(10'000);
  }
  expect_problem(slow.hear(), 408, "a byte at a time");
  EXPECT_TRUE(slow.ended());
  Line silent(server.port);
  EXPECT_TRUE(silent.ended());
  // A kept connection is let go of, too, without an answer nobody asked for.
  Line kept(server.port);
  ASSERT_TRUE(kept.send("GET / HTTP/1.1\r\nHost: a\r\n\r\n"));
  EXPECT_EQ(kept.hear().status, 200);
  EXPECT_TRUE(kept.ended());
}

TEST_F(ServerFaultTest, MoreConnectionsThanItHolds) {
  const Server server(folder.path(), {"--port", "0", "--patience", "2"});
  std::vector<std::unique_ptr<Line>> idle;
  for (int i = 0; i < 300; ++i) idle.push_back(std::make_unique<Line>(server.port));
  // It has to wait until the idle ones are let go of, and is served then.
  EXPECT_EQ(server.get("/").status, 200);
}

TEST_F(ServerFaultTest, SomeoneLeaves) {
  const Server server(folder.path());
  for (int i = 0; i < 50; ++i) {
    Line line(server.port);
    line.send(i % 2 ? "GET / HT" : "GET / HTTP/1.1\r\nHost: a\r\n\r\n");
  }
  EXPECT_EQ(server.get("/").status, 200);
}

TEST_F(ServerFaultTest, TellsWhyItCantStart) {
  const std::vector<std::tuple<std::string, std::vector<std::string>, std::string>> faults = {
      {"/no/such/folder", {"--port", "0"}, "root: given /no/such/folder; a folder with the built app"},
      {outside.path(), {"--port", "0"}, "index.html"},
      {folder.path(),
       {"--host", "nowhere.invalid"},
       "host: given nowhere.invalid; a numeric address is needed"},
      {folder.path(), {"--port", "70000"}, "--port"},
      {folder.path(), {"--patience", "-1"}, "--patience"},
      {folder.path(), {"--frob"}, "--frob"},
      {folder.path(), {"--port", "0", "--host", "203.0.113.7"}, "port: given 0 at 203.0.113.7"}};
  for (const auto& [root, words, expected] : faults) {
    Server server(root, words);
    EXPECT_EQ(server.said, "") << expected;
    EXPECT_EQ(server.stop(0), 2) << expected;
    EXPECT_NE(server.complaint().find(expected), std::string::npos) << expected;
  }
}

TEST_F(ServerFaultTest, ATakenPort) {
  const Server first(folder.path());
  Server second(folder.path(), {"--port", std::to_string(first.port)});
  EXPECT_EQ(second.said, "");
  EXPECT_EQ(second.stop(0), 2);
  EXPECT_NE(second.complaint().find("Another program listens there"), std::string::npos);
}

TEST_F(ServerFaultTest, TheNextFreePortWhenNoneWasAskedFor) {
  // Two servers that were told no port; whatever else runs on this machine, they can't share one.
  Server first(folder.path(), {}), second(folder.path(), {});
  EXPECT_GE(first.port, 8290);
  EXPECT_GT(second.port, first.port);
  EXPECT_EQ(second.get("/").body, "page");
  second.stop(SIGTERM);
  EXPECT_NE(second.complaint().find("Port 8290 is taken, so another one is used."), std::string::npos);
}

}  // namespace

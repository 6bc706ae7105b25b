// What the server promises a browser: media types, caching, compression, connections kept, and on every
// answer the fields that keep the page to itself. The real program, asked over sockets.
#include <gtest/gtest.h>

#include <thread>

#include "support/server_process.hpp"

namespace {
using namespace coldwright::tests;

const std::string page = "<!doctype html><html lang=\"en\"><title>Coldwright</title></html>\n";
const std::string module_bytes("\0asm\1\0\0\0", 8);

/// What compresses them is the build's affair; the server must only hand the right file over.
class ServerTest : public testing::Test {
 protected:
  ServerTest() {
    folder.write("index.html", page);
    folder.write("index.html.br", "stands for brotli");
    folder.write("index.html.gz", "stands for gzip");
    folder.write("sw.js", "self.skipWaiting");
    folder.write("manifest.webmanifest", "{}");
    folder.write("icon.svg", "<svg/>");
    folder.write("icon.png", "png");
    folder.write("assets/app-1a2b.js", "let a");
    folder.write("assets/app-1a2b.css", "a{}");
    folder.write("assets/core-3c4d.wasm", module_bytes);
    folder.write("assets/core-3c4d.wasm.gz", "smaller");
    folder.write("a name.txt", "blank");
    folder.write(".hidden", "secret");
  }
  AppFolder folder;
};

TEST_F(ServerTest, SaysWhereItIs) {
  const Server server(folder.path());
  EXPECT_EQ(server.said,
            "The app is at http://127.0.0.1:" + std::to_string(server.port) + "/ (Ctrl-C stops it)\n");
}

TEST_F(ServerTest, DeliversEachFileAsItsMediaType) {
  const Server server(folder.path());
  const std::vector<std::pair<std::string, std::string>> expected = {
      {"/", "text/html; charset=utf-8"},
      {"/index.html", "text/html; charset=utf-8"},
      {"/sw.js", "text/javascript; charset=utf-8"},
      {"/manifest.webmanifest", "application/manifest+json"},
      {"/icon.svg", "image/svg+xml; charset=utf-8"},
      {"/icon.png", "image/png"},
      {"/assets/app-1a2b.js", "text/javascript; charset=utf-8"},
      {"/assets/app-1a2b.css", "text/css; charset=utf-8"},
      {"/assets/core-3c4d.wasm", "application/wasm"},
      {"/a%20name.txt", "text/plain; charset=utf-8"}};
  for (const auto& [path, type] : expected) {
    const Heard heard = server.get(path);
    EXPECT_EQ(heard.status, 200) << path;
    EXPECT_EQ(heard.field("content-type"), type) << path;
  }
  EXPECT_EQ(server.get("/").body, page);
  EXPECT_EQ(server.get("/?source=home").body, page);
  EXPECT_EQ(server.get("/assets/core-3c4d.wasm").body, module_bytes);
}

TEST_F(ServerTest, KeepsForGoodOnlyWhatChangesItsNameWithItsContent) {
  const Server server(folder.path());
  for (const char* path : {"/assets/app-1a2b.js", "/assets/core-3c4d.wasm"}) {
    EXPECT_EQ(server.get(path).field("cache-control"), "public, max-age=31536000, immutable") << path;
  }
  for (const char* path : {"/", "/index.html", "/sw.js", "/manifest.webmanifest"}) {
    EXPECT_EQ(server.get(path).field("cache-control"), "no-cache") << path;
  }
}

TEST_F(ServerTest, SendsNothingAgainThatTheBrowserHas) {
  const Server server(folder.path());
  const std::string tag = server.get("/").field("etag");
  ASSERT_GT(tag.size(), 2u);
  for (const std::string& known : {tag, "W/" + tag, "\"other\", " + tag, std::string("*")}) {
    const Heard heard = server.get("/", "If-None-Match: " + known + "\r\n");
    EXPECT_EQ(heard.status, 304) << known;
    EXPECT_EQ(heard.field("etag"), tag);
    EXPECT_EQ(heard.field("vary"), "Accept-Encoding");
    EXPECT_EQ(heard.field("cache-control"), "no-cache");
    EXPECT_EQ(heard.body, "");
  }
  EXPECT_EQ(server.get("/", "If-None-Match: \"other\"\r\n").status, 200);
  // The compressed page is another representation: its tag doesn't vouch for the plain one.
  const std::string compressed = server.get("/", "Accept-Encoding: br\r\n").field("etag");
  EXPECT_NE(compressed, tag);
  EXPECT_EQ(server.get("/", "If-None-Match: " + compressed + "\r\n").status, 200);
  EXPECT_EQ(server.get("/", "Accept-Encoding: br\r\nIf-None-Match: " + compressed + "\r\n").status, 304);
}

TEST_F(ServerTest, TagChangesWithTheContent) {
  std::string before, after;
  {
    const Server server(folder.path());
    before = server.get("/sw.js").field("etag");
  }
  folder.write("sw.js", "self.skipWaitinh");
  const Server server(folder.path());
  after = server.get("/sw.js").field("etag");
  EXPECT_NE(before, after);
}

TEST_F(ServerTest, SendsTheSmallestThatTheBrowserTakes) {
  const Server server(folder.path());
  const std::vector<std::pair<std::string, std::string>> expected = {{"gzip, deflate, br, zstd", "br"},
                                                                     {"br", "br"},
                                                                     {"BR", "br"},
                                                                     {"gzip", "gzip"},
                                                                     {"gzip, br;q=0", "gzip"},
                                                                     {"gzip;q=1.0, br;q=0.5", "gzip"},
                                                                     {"*", "br"},
                                                                     {"identity", ""},
                                                                     {"br;q=0, gzip;q=0", ""},
                                                                     {"br;q=nonsense", ""},
                                                                     {"brr", ""},
                                                                     {"", ""}};
  for (const auto& [accepted, coding] : expected) {
    const Heard heard = server.get("/", accepted.empty() ? "" : "Accept-Encoding: " + accepted + "\r\n");
    EXPECT_EQ(heard.field("content-encoding"), coding) << accepted;
    EXPECT_EQ(heard.body, coding == "br"     ? "stands for brotli"
                          : coding == "gzip" ? "stands for gzip"
                                             : page)
        << accepted;
    EXPECT_EQ(heard.field("content-type"), "text/html; charset=utf-8");
    EXPECT_EQ(heard.field("vary"), "Accept-Encoding");
  }
  EXPECT_EQ(server.get("/assets/core-3c4d.wasm", "Accept-Encoding: br, gzip\r\n").field("content-encoding"),
            "gzip");
  const Heard plain = server.get("/sw.js", "Accept-Encoding: br, gzip\r\n");
  EXPECT_EQ(plain.field("content-encoding"), "");
  EXPECT_EQ(plain.field("vary"), "");
}

TEST_F(ServerTest, CompressedSiblingsAreNoFilesOfTheirOwn) {
  const Server server(folder.path());
  EXPECT_EQ(server.get("/index.html.br").status, 404);
  EXPECT_EQ(server.get("/assets/core-3c4d.wasm.gz").status, 404);
}

TEST_F(ServerTest, HeadTellsTheLengthAndSendsNothing) {
  const Server server(folder.path());
  Line line(server.port);
  ASSERT_TRUE(
      line.send("HEAD / HTTP/1.1\r\nHost: localhost\r\n\r\nHEAD /no HTTP/1.1\r\nHost: localhost\r\n\r\n"));
  const Heard heard = line.hear(true);
  EXPECT_EQ(heard.status, 200);
  EXPECT_EQ(heard.field("content-length"), std::to_string(page.size()));
  EXPECT_EQ(line.hear(true).status, 404);  // would be garbled had a body followed
}

TEST_F(ServerTest, KeepsTheConnection) {
  const Server server(folder.path());
  Line line(server.port);
  for (int i = 0; i < 20; ++i) {
    ASSERT_TRUE(line.send("GET /sw.js HTTP/1.1\r\nHost: localhost\r\n\r\n"));
    const Heard heard = line.hear();
    EXPECT_EQ(heard.status, 200);
    EXPECT_EQ(heard.field("connection"), "");
  }
  ASSERT_TRUE(
      line.send("GET /none HTTP/1.1\r\nHost: localhost\r\n\r\nGET / HTTP/1.1\r\nHost: localhost\r\n\r\n"));
  EXPECT_EQ(line.hear().status, 404);
  EXPECT_EQ(line.hear().body, page) << "a second request sent before the first was answered";
  ASSERT_TRUE(line.send("GET / HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n"));
  EXPECT_EQ(line.hear().field("connection"), "close");
  EXPECT_TRUE(line.ended());
}

TEST_F(ServerTest, ServesTheOlderProtocol) {
  const Server server(folder.path());
  Line line(server.port);
  ASSERT_TRUE(line.send("GET / HTTP/1.0\r\n\r\n"));
  EXPECT_EQ(line.hear().body, page);
  EXPECT_TRUE(line.ended());
  Line kept(server.port);
  ASSERT_TRUE(kept.send("GET / HTTP/1.0\r\nConnection: keep-alive\r\n\r\n"));
  EXPECT_EQ(kept.hear().field("connection"), "keep-alive");
  ASSERT_TRUE(kept.send("GET / HTTP/1.0\r\n\r\n"));
  EXPECT_EQ(kept.hear().status, 200);
}

TEST_F(ServerTest, ServesManyAtOnce) {
  folder.write("assets/large-5e6f.wasm", std::string(2'000'000, 'x'));
  const Server server(folder.path());
  std::vector<std::unique_ptr<Line>> idle;  // more than a browser holds, kept open throughout
  for (int i = 0; i < 100; ++i) idle.push_back(std::make_unique<Line>(server.port));
  std::vector<std::thread> clients;
  std::atomic<int> whole = 0;
  for (int i = 0; i < 16; ++i) {
    clients.emplace_back([&] {
      Line line(server.port);
      for (int n = 0; n < 5; ++n) {
        line.send("GET /assets/large-5e6f.wasm HTTP/1.1\r\nHost: localhost\r\n\r\n");
        whole += line.hear().body.size() == 2'000'000;
      }
    });
  }
  for (auto& client : clients) client.join();
  EXPECT_EQ(whole, 80);
}

TEST_F(ServerTest, EveryAnswerKeepsThePageToItself) {
  const Server server(folder.path());
  const std::string host = "Host: localhost\r\n";
  for (const std::string& request :
       {"GET / HTTP/1.1\r\n" + host, "GET / HTTP/1.1\r\nIf-None-Match: *\r\n" + host,
        "GET /none HTTP/1.1\r\n" + host, "GET /assets/core-3c4d.wasm HTTP/1.1\r\n" + host,
        "POST / HTTP/1.1\r\n" + host, std::string("nonsense\r\n"),
        "GET /" + std::string(20'000, 'a') + " HTTP/1.1\r\n" + host}) {
    const Heard heard = server.ask(request + "\r\n");
    ASSERT_NE(heard.status, 0) << request.substr(0, 40);
    const std::string policy = heard.field("content-security-policy");
    EXPECT_TRUE(policy.starts_with("default-src 'none'; script-src 'self' 'wasm-unsafe-eval';")) << policy;
    for (const char* part :
         {"frame-ancestors 'none'", "base-uri 'none'", "form-action 'none'", "style-src 'self'"}) {
      EXPECT_NE(policy.find(part), std::string::npos) << part;
    }
    EXPECT_EQ(policy.find("unsafe-inline"), std::string::npos);
    EXPECT_EQ(policy.find("'unsafe-eval'"), std::string::npos);
    EXPECT_EQ(policy.find("http"), std::string::npos) << "no other origin";
    EXPECT_EQ(heard.field("x-content-type-options"), "nosniff");
    EXPECT_EQ(heard.field("referrer-policy"), "no-referrer");
    EXPECT_EQ(heard.field("cross-origin-opener-policy"), "same-origin");
    EXPECT_EQ(heard.field("cross-origin-embedder-policy"), "require-corp");
    EXPECT_EQ(heard.field("cross-origin-resource-policy"), "same-origin");
    EXPECT_TRUE(
        heard.field("permissions-policy").starts_with("camera=(self), microphone=(), geolocation=()"));
    EXPECT_EQ(heard.field("date").size(), std::string("Wed, 25 Nov 2026 22:16:04 GMT").size());
    EXPECT_EQ(heard.field("server"), "") << "nobody need know what to look up";
  }
}

TEST_F(ServerTest, StopsOnSignals) {
  for (const int signal : {SIGINT, SIGTERM}) {
    Server server(folder.path());
    Line kept(server.port);
    ASSERT_TRUE(kept.send("GET / HTTP/1.1\r\nHost: localhost\r\n\r\n"));
    EXPECT_EQ(kept.hear().status, 200);
    EXPECT_EQ(server.stop(signal), 0);
    EXPECT_EQ(server.complaint(), "");
  }
}

TEST_F(ServerTest, ListensOnThisMachineAloneUnlessTold) {
  const Server server(folder.path());
  EXPECT_NE(server.said.find("http://127.0.0.1:"), std::string::npos);
  Server open(folder.path(), {"--port", "0", "--host", "0.0.0.0"});
  EXPECT_EQ(open.get("/").status, 200);
  open.stop(SIGTERM);
  EXPECT_NE(open.complaint().find("Warning: other machines can reach this server"), std::string::npos);
}

}  // namespace

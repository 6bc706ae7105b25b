// The app as it was built, as the server delivers it: the page names no place but its own, and whatever it
// names is there. Needs web/dist, which ./test builds before.
#include <gtest/gtest.h>

#include <regex>

#include "support/server_process.hpp"

namespace {
using namespace coldwright::tests;

const std::string built = SOURCE_DIR "/web/dist";

std::vector<std::string> all_matches(const std::string& text, const std::regex& pattern) {
  std::vector<std::string> found;
  for (std::sregex_iterator at(text.begin(), text.end(), pattern), end; at != end; ++at)
    found.push_back((*at)[1]);
  return found;
}

TEST(ServerAppTest, PageNamesNoForeignOriginAndNothingMissing) {
  const Server server(built);
  ASSERT_NE(server.port, 0) << server.complaint();
  const Heard page = server.get("/");
  ASSERT_EQ(page.status, 200);
  const auto named = all_matches(page.body, std::regex("(?:src|href)\\s*=\\s*[\"']([^\"']*)"));
  ASSERT_GE(named.size(), 3u) << "a script, a style sheet and the manifest at least";
  for (const auto& path : named) {
    EXPECT_TRUE(path.starts_with('/') && !path.starts_with("//")) << path;
    EXPECT_EQ(server.get(path).status, 200) << path;
  }
  EXPECT_EQ(page.body.find("://"), std::string::npos) << "an address elsewhere in the page";
}

TEST(ServerAppTest, PageNeedsNothingThatThePolicyForbids) {
  const Server server(built);
  const std::string page = server.get("/").body;
  EXPECT_TRUE(all_matches(page, std::regex("<script(?![^>]*\\ssrc=)([^>]*)>")).empty()) << "an inline script";
  EXPECT_TRUE(all_matches(page, std::regex("(<style)")).empty()) << "an inline style sheet";
  EXPECT_TRUE(all_matches(page, std::regex("(\\sstyle\\s*=)")).empty()) << "an inline style";
  EXPECT_TRUE(all_matches(page, std::regex("\\s(on[a-z]+)\\s*=")).empty()) << "an inline handler";
}

TEST(ServerAppTest, StyleSheetsFetchFromNowhereElse) {
  const Server server(built);
  for (const auto& path : all_matches(server.get("/").body, std::regex("href=\"([^\"]*\\.css)\""))) {
    const std::string sheet = server.get(path).body;
    EXPECT_EQ(sheet.find("@import"), std::string::npos) << path;
    for (const auto& address : all_matches(sheet, std::regex("url\\(\\s*[\"']?([^)\"']*)"))) {
      EXPECT_TRUE(address.starts_with("/assets/") || address.starts_with("data:")) << address;
    }
  }
}

TEST(ServerAppTest, ManifestAndWorkerComeAsWhatTheyAre) {
  const Server server(built);
  EXPECT_EQ(server.get("/manifest.webmanifest").field("content-type"), "application/manifest+json");
  const Heard worker = server.get("/sw.js");
  EXPECT_EQ(worker.field("content-type"), "text/javascript; charset=utf-8");
  EXPECT_EQ(worker.field("cache-control"), "no-cache");
}

TEST(ServerAppTest, ModuleOfTheCoreComesCompressed) {
  std::string module;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(built)) {
    if (entry.path().extension() == ".wasm") module = "/" + entry.path().lexically_relative(built).string();
  }
  ASSERT_TRUE(module.starts_with("/assets/")) << "no WebAssembly module in the built app";
  const Server server(built);
  const Heard plain = server.get(module);
  EXPECT_TRUE(plain.body.starts_with(std::string("\0asm", 4)));
  EXPECT_EQ(plain.field("content-type"), "application/wasm");
  const Heard small = server.get(module, "Accept-Encoding: gzip, deflate, br\r\n");
  EXPECT_EQ(small.field("content-encoding"), "br");
  EXPECT_LT(small.body.size(), plain.body.size());
  EXPECT_NE(small.field("cache-control").find("immutable"), std::string::npos);
}

}  // namespace

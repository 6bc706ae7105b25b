#include "listen_options.hpp"

#include <unistd.h>

#include <CLI/CLI.hpp>
#include <cerrno>
#include <charconv>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "listen.hpp"

namespace coldwright::cli {
namespace {

std::string known_again(const std::string& file) {
  char host[256] = "";
  ::gethostname(host, sizeof host - 1);
  std::error_code error;
  const auto place = std::filesystem::absolute(file, error);
  std::uint64_t hash = 14695981039346656037u;  // FNV-1a
  for (const char c : std::string(host) + ":" + (error ? file : place.string()))
    hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211u;
  char digits[17];
  std::snprintf(digits, sizeof digits, "%016llx", static_cast<unsigned long long>(hash));
  return "cw" + std::string(digits);  // 18 letters: brokers needn't take more than 23
}

std::optional<Problem> take_broker(const std::string& words, bool tls, ListenOptions& out) {
  const Problem wrong{"broker", words, "HOST or HOST:PORT, such as 192.168.1.20:1883",
                      "readings come from one place"};
  out.port = tls ? 8883 : 1883;
  std::size_t colon = words.rfind(':');
  if (words.starts_with('[')) {  // an address of IPv6
    const std::size_t end = words.find(']');
    if (end == std::string::npos) return wrong;
    out.host = words.substr(1, end - 1);
    colon = end + 1 < words.size() ? end + 1 : std::string::npos;
  } else {
    out.host = words.substr(0, colon);
  }
  if (out.host.empty()) return wrong;
  if (colon == std::string::npos) return std::nullopt;
  const char* end = words.data() + words.size();
  const auto read = std::from_chars(words.data() + colon + 1, end, out.port);
  if (read.ec != std::errc() || read.ptr != end || out.port < 1 || out.port > 65535) return wrong;
  return std::nullopt;
}

std::optional<Problem> take_password(const std::string& path, std::string& password) {
  std::ifstream file(path);
  if (file && std::getline(file, password)) {
    if (password.ends_with('\r')) password.pop_back();
    return std::nullopt;
  }
  return Problem{"password file", path, "a file whose first line is the password",
                 errno == 0 ? "it is empty" : std::strerror(errno)};
}

}  // namespace

ListenWords listen_words(int count, char** words) {
  ListenWords out;
  ListenOptions& o = out.options;
  std::string broker, password_file;
  CLI::App app{kListenSummary, "coldwright listen"};
  app.set_help_flag("--help", "print this help");
  app.add_option("--broker", broker, "HOST or HOST:PORT; 1883 without a port, 8883 with --tls-ca")
      ->required();
  app.add_option("--topic", o.topics, "what to subscribe to, such as shop/cooler/#; may be said again")
      ->required();
  app.add_option("--to", o.to, "the file to append to; a new one gets a header")->required();
  app.add_option("--user", o.user, "a name the broker knows");
  app.add_option("--password-file", password_file, "a file whose first line is the password");
  app.add_option("--tls-ca", o.tls_ca,
                 "certificates to check the broker by, as PEM; the line is then encrypted");
  app.add_option("--client", o.client, "this listener's name for the broker, to be known again by");
  app.add_option("--language", o.language, "of refusals: en (the default), es or fr");
  try {
    app.parse(count, words);
  } catch (const CLI::ParseError& error) {
    std::ostringstream help, trouble;
    // exit() of the library only words what it has to say; nothing ends here.
    out.status = app.exit(error, help, trouble) == 0 ? 0 : 2;
    out.message = out.status == 0 ? help.str()
                                  : "coldwright: command line: " + std::string(error.what()) +
                                        "; try coldwright listen --help\n";
    return out;
  }
  out.problem = take_broker(broker, !o.tls_ca.empty(), o);
  errno = 0;
  if (!out.problem && !password_file.empty()) out.problem = take_password(password_file, o.password);
  if (o.client.empty()) o.client = known_again(o.to);
  return out;
}

}  // namespace coldwright::cli

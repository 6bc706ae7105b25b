#include "answer.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>

#include "problem.hpp"

namespace coldwright::server {
namespace {

constexpr std::size_t longest_target = 2048;

using Field = std::pair<std::string_view, std::string_view>;

// On every answer, problems too. The page runs its own scripts and WebAssembly, shows its own pictures and
// photos held in memory, and speaks to nobody else. The three Cross-Origin fields make it an isolated page,
// to which browsers give memory shared between workers.
constexpr std::array<Field, 8> on_every_answer{{
    {"Content-Security-Policy",
     "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: "
     "blob:; "
     "connect-src 'self'; worker-src 'self'; manifest-src 'self'; font-src 'self'; base-uri 'none'; "
     "form-action 'none'; frame-ancestors 'none'"},
    {"X-Content-Type-Options", "nosniff"},
    {"Referrer-Policy", "no-referrer"},
    {"Permissions-Policy",
     "camera=(self), microphone=(), geolocation=(), payment=(), usb=(), serial=(), hid=(), "
     "midi=(), "
     "display-capture=()"},
    {"X-Frame-Options", "DENY"},
    {"Cross-Origin-Opener-Policy", "same-origin"},
    {"Cross-Origin-Embedder-Policy", "require-corp"},
    {"Cross-Origin-Resource-Policy", "same-origin"},
}};

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

/// Cuts the first part off `rest`, up to `mark`.
std::string_view next_part(std::string_view& rest, char mark) {
  const auto at = rest.find(mark);
  const std::string_view part = trimmed(rest.substr(0, at));
  rest = at == std::string_view::npos ? std::string_view() : rest.substr(at + 1);
  return part;
}

bool same_word(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](unsigned char x, unsigned char y) { return std::tolower(x) == std::tolower(y); });
}

/// The weight after ";q=", 1 without one, 0 when it makes no sense.
double weight(std::string_view parameters) {
  while (!parameters.empty()) {
    const std::string_view parameter = next_part(parameters, ';');
    if (parameter.size() < 2 || !same_word(parameter.substr(0, 2), "q=")) continue;
    double q = 0;
    const auto end = parameter.data() + parameter.size();
    const auto read = std::from_chars(parameter.data() + 2, end, q, std::chars_format::fixed);
    return read.ec == std::errc() && read.ptr == end && q >= 0 && q <= 1 ? q : 0;
  }
  return 1;
}

/// How much Accept-Encoding likes a coding; what it doesn't name counts as "*", and as 0 without that.
double liking(std::string_view accepted, std::string_view coding) {
  double anything = 0;
  while (!accepted.empty()) {
    std::string_view item = next_part(accepted, ',');
    const std::string_view name = next_part(item, ';');
    if (same_word(name, coding)) return weight(item);
    if (name == "*") anything = weight(item);
  }
  return anything;
}

struct Coded {
  std::string_view body;
  std::string_view coding;  ///< empty: as it is
  std::string_view ending;  ///< of the tag: each coding is a representation of its own
};

/// The smallest that the client takes. As it is, when it takes nothing: better than no page.
Coded negotiated(const Asset& asset, std::string_view accepted) {
  const double brotli = asset.brotli.empty() ? 0 : liking(accepted, "br");
  const double gzip = asset.gzip.empty() ? 0 : liking(accepted, "gzip");
  if (brotli > 0 && brotli >= gzip) return {asset.brotli, "br", "-br"};
  if (gzip > 0) return {asset.gzip, "gzip", "-gz"};
  return {asset.plain, "", ""};
}

/// If-None-Match, by weak comparison (RFC 9110, section 13.1.2).
bool has_already(std::string_view if_none_match, std::string_view tag) {
  while (!if_none_match.empty()) {
    std::string_view one = next_part(if_none_match, ',');
    if (one.starts_with("W/")) one.remove_prefix(2);
    if (one == tag || one == "*") return true;
  }
  return false;
}

/// The path of a target in origin form or, as a proxy would write it, absolute form; empty when it is
/// neither.
std::string_view path_of(std::string_view target) {
  for (const std::string_view scheme : {"http://", "https://"}) {
    if (target.size() < scheme.size() || !same_word(target.substr(0, scheme.size()), scheme)) continue;
    const auto slash = target.find('/', scheme.size());
    target = slash == std::string_view::npos ? "/" : target.substr(slash);
    break;
  }
  if (!target.starts_with('/')) return {};
  return target.substr(0, target.find('?'));
}

Answer problem(unsigned status, std::string_view detail, std::string_view instance) {
  Answer made;
  made.status = status;
  made.problem = problem_document(status, detail, instance);
  made.fields = {{"Content-Type", "application/problem+json"}, {"Cache-Control", "no-store"}};
  return made;
}

Answer deliver(const Asset& asset, const Asked& asked) {
  const Coded coded = negotiated(asset, asked.accept_encoding);
  const std::string tag = '"' + asset.tag + std::string(coded.ending) + '"';
  Answer made;
  made.fields = {{"Cache-Control", asset.immutable ? "public, max-age=31536000, immutable" : "no-cache"},
                 {"ETag", tag}};
  if (!asset.brotli.empty() || !asset.gzip.empty()) made.fields.emplace_back("Vary", "Accept-Encoding");
  if (has_already(asked.if_none_match, tag)) {
    made.status = 304;
    return made;
  }
  made.fields.emplace_back("Content-Type", asset.media_type);
  if (!coded.coding.empty()) made.fields.emplace_back("Content-Encoding", coded.coding);
  made.body = coded.body;
  return made;
}

Answer chosen(const Site& site, const Asked& asked) {
  if (asked.hosts != 1 && !(asked.hosts == 0 && asked.http_1_0)) {
    return refuse(400, "A request names its host, once.", asked.target);
  }
  if (asked.method != "GET" && asked.method != "HEAD") {
    Answer made =
        problem(405, "This server only delivers files: GET and HEAD are all it knows.", asked.target);
    made.fields.emplace_back("Allow", "GET, HEAD");
    return made;
  }
  if (asked.has_body)
    return refuse(413, "This server takes no body in a request, of any size.", asked.target);
  if (asked.target.size() > longest_target) {
    return refuse(414, "The address is longer than the 2048 bytes that this server reads.", asked.target);
  }
  const std::string_view path = path_of(asked.target);
  if (path.empty())
    return refuse(400, "The target of a request is a path that begins with a slash.", asked.target);
  if (const Asset* asset = site.find(path)) return deliver(*asset, asked);
  return problem(404, "Nothing is delivered under this address.", asked.target);
}

}  // namespace

Answer answer(const Site& site, const Asked& asked) {
  Answer made = chosen(site, asked);
  made.bodiless = asked.method == "HEAD";
  // What follows an announced body nobody reads would be taken for the next request.
  made.close = made.close || asked.has_body || !asked.keep_alive;
  return made;
}

Answer refuse(unsigned status, std::string_view detail, std::string_view instance) {
  Answer made = problem(status, detail, instance);
  made.close = true;
  return made;
}

std::string head(const Answer& answer, bool http_1_0, std::time_t now) {
  std::string text = "HTTP/1.1 " + std::to_string(answer.status) + " ";
  const auto add = [&text](std::string_view name, std::string_view value) {
    text.append(name).append(": ").append(value).append("\r\n");
  };
  text.append(reason(answer.status)).append("\r\n");
  char date[40];
  std::tm calendar{};
  gmtime_r(&now, &calendar);
  add("Date",
      std::string_view(date, std::strftime(date, sizeof date, "%a, %d %b %Y %H:%M:%S GMT", &calendar)));
  for (const auto& [name, value] : answer.fields) add(name, value);
  if (answer.status != 304) add("Content-Length", std::to_string(answer.payload().size()));
  for (const auto& [name, value] : on_every_answer) add(name, value);
  if (answer.close) {
    add("Connection", "close");
  } else if (http_1_0) {
    add("Connection", "keep-alive");
  }
  return text + "\r\n";
}

}  // namespace coldwright::server

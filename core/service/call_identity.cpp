#include "service/call_identity.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <vector>

#include "calls/instant.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

// FNV-1a, as a check against mistakes, not against malice.
std::string print_of(const std::vector<std::string>& contents) {
  std::uint64_t h = 14695981039346656037u;
  for (const std::string& content : contents) {
    for (const char c : content) h = (h ^ static_cast<unsigned char>(c)) * 1099511628211u;
    h = (h ^ 0xff) * 1099511628211u;
  }
  static constexpr char digits[] = "0123456789abcdef";
  std::string text;
  for (int shift = 60; shift >= 0; shift -= 4) text += digits[(h >> shift) & 15];
  return text;
}

}  // namespace

CallIdentity identity_of(const calls::Call& call) {
  std::set<std::string> replaced;
  std::vector<std::string> contents;
  CallIdentity out;
  for (const calls::Entry& entry : call.entries) {
    if (entry.replaces) replaced.insert(*entry.replaces);
    contents.push_back(entry.id + entry.content);
    if (!entry.at) continue;
    out.first = std::min(out.first.value_or(entry.at->seconds), entry.at->seconds);
    out.last = std::max(out.last.value_or(entry.at->seconds), entry.at->seconds);
  }
  std::sort(contents.begin(), contents.end());
  out.print = print_of(contents);
  std::string maker, model, serial;
  for (const calls::Entry& entry : call.entries) {
    if (entry.kind != "nameplate" || replaced.contains(entry.id)) continue;
    const json content = json::parse(entry.content, nullptr, false);
    const auto take = [&](const char* key, std::string& into) {
      if (content.is_object() && content.contains(key) && content[key].is_string())
        into = std::max(into, content[key].get<std::string>());  // whatever the order of the entries
    };
    take("maker", maker);
    take("model", model);
    take("serial", serial);
  }
  if (!model.empty()) out.model = maker.empty() ? model : maker + " / " + model;
  out.unit = serial.empty() ? call.name : (out.model.empty() ? maker : out.model) + " / " + serial;
  out.id = call.name;
  if (out.first) out.id += " @ " + calls::to_text(calls::Instant{*out.first, 0}).substr(0, 10);
  return out;
}

}  // namespace coldwright::service

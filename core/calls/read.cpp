// From the text of a call file to its entries: which keys there are, and what may stand behind each.
#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <utility>

#include "base/text.hpp"
#include "calls/call.hpp"
#include "calls/entry_reader.hpp"
#include "calls/strict_json.hpp"

namespace coldwright::calls {
namespace {

using nlohmann::json;

const std::vector<std::string> kTopKeys = {"call", "format", "units", "entries"};
using Read = void (EntryReader::*)(Entry&);
const std::vector<std::pair<std::string, Read>> kReaders = {
    {"nameplate", &EntryReader::nameplate},
    {"site", &EntryReader::site},
    {"observation", &EntryReader::observation},
    {"reading", &EntryReader::reading},
    {"note", &EntryReader::note},
    {"step", &EntryReader::step},
    {"order", &EntryReader::order},
    {"procedure", &EntryReader::procedure},
    {"test_reading", &EntryReader::test_reading},
    {"refrigerant_moved", &EntryReader::refrigerant_moved},
    {"part", &EntryReader::part},
    {"work", &EntryReader::work},
    {"cause_found", &EntryReader::cause_found},
    {"product_temperature", &EntryReader::product_temperature},
    {"signature", &EntryReader::signature},
    {"watch", &EntryReader::watch},
};
std::vector<std::string> kinds() {
  std::vector<std::string> out;
  for (const auto& [kind, read] : kReaders) out.push_back(kind);
  return out;
}
const std::vector<std::string> kKinds = kinds();
constexpr std::string_view kFile = "call file";

std::string field_of(std::size_t index, std::string_view kind) {
  return "entry " + std::to_string(index + 1) + (kind.empty() ? "" : " (" + std::string(kind) + ")");
}

/// FNV-1a, 64 bits: entries without an id are known by what they say, so that a file read twice stays one.
std::string id_from(std::string_view content) {
  std::uint64_t hash = 14695981039346656037ULL;
  for (char c : content) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
  constexpr std::string_view hex = "0123456789abcdef";
  std::string id = "entry-";
  for (int shift = 60; shift >= 0; shift -= 4) id += hex[(hash >> shift) & 15U];
  return id;
}

Result<std::string> kind_of(const json& object, std::size_t index) {
  const auto found = object.find("kind");
  const Problem problem{field_of(index, "") + ", kind", "", base::listed(kKinds),
                        "every entry says what it is"};
  if (found == object.end()) {
    Problem missing = problem;
    missing.given = "nothing";
    return missing;
  }
  const std::string* text = found->get_ptr<const std::string*>();
  if (text == nullptr || text->empty() || text->size() > 60) {
    Problem wrong = problem;
    wrong.given = base::quoted(dump(*found));
    return wrong;
  }
  if (std::find(kKinds.begin(), kKinds.end(), *text) != kKinds.end()) return *text;
  // A slip of the pen is refused; a word far from all of ours may be a later version's kind and is kept.
  if (const auto near = base::nearest(*text, kKinds))
    return Problem{problem.field, base::quoted(*text), problem.allowed, "did you mean \"" + *near + "\"?"};
  return *text;
}

Result<Entry> read_entry(const json& object, std::size_t index) {
  if (!object.is_object())
    return Problem{field_of(index, ""), base::quoted(dump(object)),
                   "an object such as {\"kind\": \"note\", \"text\": \"...\"}", "entries are objects"};
  const auto kind = kind_of(object, index);
  if (!kind) return kind.problem();
  Entry entry;
  entry.kind = *kind;
  EntryReader reader(object, field_of(index, *kind));
  reader.common(entry);
  const auto row =
      std::find_if(kReaders.begin(), kReaders.end(), [&](const auto& r) { return r.first == *kind; });
  if (row != kReaders.end())
    (reader.*row->second)(entry);
  else
    entry.body = UnknownEntry{};
  if (reader.problem()) return *reader.problem();
  json content = object;
  content.erase("id");
  entry.content = dump(content);
  if (entry.id.empty()) entry.id = id_from(entry.content);
  return entry;
}

std::optional<Problem> check_top(const json& root) {
  if (!root.is_object())
    return Problem{std::string(kFile), base::quoted(dump(root), 40),
                   "an object: {\"call\": \"...\", \"entries\": [...]}", "a call file is one JSON object"};
  for (const auto& [key, value] : root.items()) {
    if (std::find(kTopKeys.begin(), kTopKeys.end(), key) != kTopKeys.end()) continue;
    const auto near = base::nearest(key, kTopKeys);
    return Problem{
        std::string(kFile), "the key " + base::quoted(key), base::listed(kTopKeys),
        near ? "did you mean \"" + *near + "\"?" : "no such key is known, and none is skipped in silence"};
  }
  if (const auto format = root.find("format"); format != root.end() && *format != 1)
    return Problem{std::string(kFile) + ", format", base::quoted(dump(*format)), "1, or leave it out",
                   "this version reads format 1"};
  const auto entries = root.find("entries");
  if (entries == root.end() || !entries->is_array())
    return Problem{std::string(kFile) + ", entries",
                   entries == root.end() ? "nothing" : base::quoted(dump(*entries), 40),
                   "a list: \"entries\": [{...}, {...}]", "a call is a list of entries"};
  if (entries->size() > most_entries)
    return Problem{std::string(kFile) + ", entries", std::to_string(entries->size()) + " entries",
                   "at most " + std::to_string(most_entries),
                   "no call has more; the file may be something else"};
  return std::nullopt;
}

std::optional<Problem> read_heading(const json& root, Call& call) {
  if (const auto name = root.find("call"); name != root.end()) {
    const std::string* text = name->get_ptr<const std::string*>();
    if (text == nullptr || text->size() > 200)
      return Problem{std::string(kFile) + ", call", base::quoted(dump(*name), 40),
                     "a name of at most 200 bytes in quotes", "it says which machine this is about"};
    call.name = *text;
  }
  if (const auto units = root.find("units"); units != root.end()) {
    if (*units == "us")
      call.units = base::UnitSystem::us;
    else if (*units == "metric")
      call.units = base::UnitSystem::metric;
    else
      return Problem{std::string(kFile) + ", units", base::quoted(dump(*units), 40), "\"us\" or \"metric\"",
                     "it chooses the units of the answer only; what is read carries its own"};
  }
  return std::nullopt;
}

/// The same entry twice is one entry; one id with two contents is a contradiction.
std::optional<Problem> add_entry(Call& call, Entry entry) {
  for (const Entry& other : call.entries) {
    if (other.id != entry.id) continue;
    if (other.content == entry.content) return std::nullopt;
    return Problem{"entry " + base::quoted(entry.id), "two entries with this id and different contents",
                   "an id of its own for each entry",
                   "an entry is never edited; a correction is another entry with \"replaces\": " +
                       base::quoted(entry.id)};
  }
  call.entries.push_back(std::move(entry));
  return std::nullopt;
}

bool earlier(const Entry& a, const Entry& b) {
  if (a.at != b.at) return a.at < b.at;  // no time sorts first
  return a.id < b.id;
}

}  // namespace

Result<Call> read_call(std::string_view json_text) {
  const auto root = parse_strict(json_text, kFile, {largest_call_file, 32});
  if (!root) return root.problem();
  if (auto problem = check_top(*root)) return *problem;
  Call call;
  if (auto problem = read_heading(*root, call)) return *problem;
  const json& entries = *root->find("entries");
  for (std::size_t i = 0; i < entries.size(); ++i) {
    auto entry = read_entry(entries[i], i);
    if (!entry) return entry.problem();
    if (auto problem = add_entry(call, std::move(*entry))) return *problem;
  }
  return call;
}

std::string write_call(const Call& call) {
  json root = {{"call", call.name}, {"format", 1}, {"entries", json::array()}};
  if (call.units) root["units"] = *call.units == base::UnitSystem::us ? "us" : "metric";
  for (const Entry& entry : call.entries) {
    json object = json::parse(entry.content, nullptr, false);
    object["id"] = entry.id;
    root["entries"].push_back(std::move(object));
  }
  return dump(root, 2) + "\n";
}

Result<Call> merge(const Call& a, const Call& b) {
  if (!a.name.empty() && !b.name.empty() && a.name != b.name)
    return Problem{"call", base::quoted(a.name) + " and " + base::quoted(b.name), "two files of one call",
                   "different names are different calls"};
  Call both;
  both.name = std::max(a.name, b.name);
  both.units = a.units && b.units ? std::min(a.units, b.units) : (a.units ? a.units : b.units);
  for (const Call* part : {&a, &b})
    for (const Entry& entry : part->entries)
      if (auto problem = add_entry(both, entry)) return *problem;
  if (both.entries.size() > most_entries)
    return Problem{"call, entries", std::to_string(both.entries.size()) + " entries together",
                   "at most " + std::to_string(most_entries), "no call has more"};
  std::sort(both.entries.begin(), both.entries.end(), earlier);
  return both;
}

}  // namespace coldwright::calls

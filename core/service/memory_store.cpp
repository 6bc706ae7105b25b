#include "service/memory_store.hpp"

#include <algorithm>
#include <cctype>
#include <tuple>

#include "base/text.hpp"

namespace coldwright::service {
namespace {

bool same(const std::string& a, const std::string& b) { return key_of(a) == key_of(b); }

bool names(const Forgotten& f, const RememberedCall& c) {
  if (!f.call.empty()) return same(f.call, c.id);
  return !f.unit.empty() && f.quantity.empty() && same(f.unit, c.unit);
}

bool alike(const Forgotten& a, const Forgotten& b) {
  return same(a.call, b.call) && same(a.unit, b.unit) && same(a.model, b.model) && a.quantity == b.quantity;
}

}  // namespace

std::string key_of(std::string_view name) {
  std::string key;
  for (const char c : base::lower(name)) {
    const bool blank = c == ' ' || c == '\t' || c == '_';
    if (blank && (key.empty() || key.back() == ' ')) continue;
    key += blank ? ' ' : c;
  }
  while (!key.empty() && key.back() == ' ') key.pop_back();
  return key;
}

bool is_forgotten(const Memory& memory, const RememberedCall& call) {
  return std::any_of(memory.forgotten.begin(), memory.forgotten.end(),
                     [&](const Forgotten& f) { return names(f, call); });
}

bool take_in(Memory& memory, RememberedCall call) {
  if (is_forgotten(memory, call)) return false;
  const auto at = std::lower_bound(memory.calls.begin(), memory.calls.end(), call,
                                   [](const auto& a, const auto& b) { return a.id < b.id; });
  if (at == memory.calls.end() || at->id != call.id) {
    memory.calls.insert(at, std::move(call));
  } else if (std::tie(at->entries, at->print) < std::tie(call.entries, call.print)) {
    *at = std::move(call);
  }
  return true;
}

bool forget(Memory& memory, const Forgotten& what) {
  const bool known = std::any_of(memory.calls.begin(), memory.calls.end(), [&](const RememberedCall& c) {
    return !what.call.empty()   ? same(what.call, c.id)
           : !what.unit.empty() ? same(what.unit, c.unit)
                                : !what.model.empty() && same(what.model, c.model);
  });
  const bool already = std::any_of(memory.forgotten.begin(), memory.forgotten.end(),
                                   [&](const Forgotten& f) { return alike(f, what); });
  if (!known && !already) return false;
  if (!already) {
    memory.forgotten.push_back(what);
    std::sort(memory.forgotten.begin(), memory.forgotten.end());
  }
  std::erase_if(memory.calls, [&](const RememberedCall& c) { return names(what, c); });
  std::erase_if(memory.corrections, [&](const Correction& c) {
    return !what.unit.empty() && same(what.unit, c.unit) &&
           (what.quantity.empty() || what.quantity == c.quantity);
  });
  return true;
}

bool ask_back(Memory& memory, const Forgotten& what) {
  return std::erase_if(memory.forgotten, [&](const Forgotten& f) { return alike(f, what); }) > 0;
}

}  // namespace coldwright::service

#include "calls/repair.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace coldwright::calls {
namespace {

template <class Body>
void keep(const Entry& entry, std::vector<Standing<Body>>& list) {
  if (const Body* body = std::get_if<Body>(&entry.body))
    list.push_back({*body, entry.id, entry.by, entry.at});
}

/// Of several words on one step the last counts.
std::vector<Standing<StepEntry>> latest(const std::vector<Standing<StepEntry>>& all) {
  std::vector<Standing<StepEntry>> out;
  for (const auto& step : all) {
    std::erase_if(out, [&](const auto& earlier) { return earlier.body.step == step.body.step; });
    out.push_back(step);
  }
  return out;
}

}  // namespace

Repair repair_of(const Call& call) {
  std::set<std::string> replaced;
  for (const Entry& entry : call.entries)
    if (entry.replaces) replaced.insert(*entry.replaces);
  std::vector<const Entry*> standing;
  for (const Entry& entry : call.entries)
    if (!replaced.contains(entry.id)) standing.push_back(&entry);
  std::stable_sort(standing.begin(), standing.end(),
                   [](const Entry* a, const Entry* b) { return a->at < b->at; });
  Repair repair;
  std::vector<Standing<StepEntry>> steps;
  for (const Entry* entry : standing) {
    keep(*entry, steps);
    if (const auto* order = std::get_if<OrderEntry>(&entry->body)) repair.order = order->steps;
    keep(*entry, repair.procedures);
    keep(*entry, repair.test_readings);
    keep(*entry, repair.moved);
    keep(*entry, repair.parts);
    keep(*entry, repair.work);
    keep(*entry, repair.causes_found);
    keep(*entry, repair.product_temperatures);
    keep(*entry, repair.signatures);
    keep(*entry, repair.watch);
  }
  repair.steps = latest(steps);
  return repair;
}

std::vector<std::pair<std::string, std::string>> settings_of(const Repair& repair, std::string_view procedure,
                                                             int run) {
  std::map<std::string, std::string> settings;
  for (const auto& entry : repair.procedures)
    if (entry.body.procedure == procedure && entry.body.run == run)
      for (const auto& [key, text] : entry.body.with) settings[key] = text;
  return {settings.begin(), settings.end()};
}

}  // namespace coldwright::calls

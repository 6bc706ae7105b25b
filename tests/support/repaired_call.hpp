// Calls of a repaired unit for the tests of proof and memory: the plate, what was done, and readings that a
// sound machine of chosen latents shows. Unit, maker and town are invented.
#pragma once

#include <cstdio>
#include <nlohmann/json.hpp>
#include <string>

#include "support/diagnosis_desk.hpp"

namespace coldwright::test {

struct RepairedUnit {
  std::string name = "Skarrvik bakery, cooler by the door", serial = "S1", model = "NK 40",
              cause = "low_charge";
  std::string part = "drier";
  int day = 20;                // of November 2025
  double td = 0;               // latents, standard normal
  bool proved = true;          // with readings after the repair
  std::string left = "sound";  // what the machine is at the end
};

inline std::string fahrenheit(double kelvin) {
  char text[32];
  std::snprintf(text, sizeof text, "%.1f F", (kelvin - 273.15) * 1.8 + 32);
  return text;
}

inline nlohmann::json repaired_call(const RepairedUnit& u) {
  using nlohmann::json;
  Desk desk("reach_in_cooler", 0.110, 2.5);
  desk.plate.rated_voltage = 115;
  desk.not_cooling = false;
  desk.box = 273.15 + 6;
  diagnosis::Latents z{};
  z[static_cast<std::size_t>(circuit::Latent::evaporator_td)] = u.td;
  const Simulated s = diagnosis::simulate(desk.scene(), desk.hypothesis(u.left), z);
  const auto at = [&](int hour, int minute) {
    char text[40];
    std::snprintf(text, sizeof text, "2025-11-%02dT%02d:%02d:00+01:00", u.day, hour, minute);
    return std::string(text);
  };
  json entries = json::array();
  entries.push_back({{"kind", "nameplate"},
                     {"cabinet", "reach_in_cooler"},
                     {"refrigerant", "R290"},
                     {"charge", "110 g"},
                     {"rated_current", "2.5 A"},
                     {"rated_voltage", "115 V"},
                     {"maker", "Nordhylla"},
                     {"model", u.model},
                     {"serial", u.serial}});
  entries.push_back({{"kind", "site"},
                     {"ambient", fahrenheit(desk.ambient)},
                     {"box", fahrenheit(desk.box)},
                     {"altitude", "0 ft"},
                     {"at", at(8, 0)}});
  entries.push_back(
      {{"kind", "observation"}, {"subject", "complaint"}, {"value", "not_cooling"}, {"at", at(8, 0)}});
  entries.push_back(
      {{"kind", "reading"}, {"what", "compressor_current"}, {"value", "1.30 A"}, {"at", at(8, 30)}});
  if (!u.cause.empty()) entries.push_back({{"kind", "cause_found"}, {"cause", u.cause}, {"at", at(9, 0)}});
  entries.push_back({{"kind", "part"}, {"part", u.part}, {"action", "replaced"}, {"at", at(10, 0)}});
  if (!u.proved) return {{"call", u.name}, {"units", "us"}, {"entries", entries}};
  for (ReadingKind kind : clamps()) {
    char text[32];
    const double value = Desk::shown(s, kind);
    if (kind == ReadingKind::compressor_current)
      std::snprintf(text, sizeof text, "%.2f A", value);
    else
      std::snprintf(text, sizeof text, "%s", fahrenheit(value).c_str());
    entries.push_back(
        {{"kind", "reading"}, {"what", circuit::info(kind).id}, {"value", text}, {"at", at(13, 0)}});
  }
  return {{"call", u.name}, {"units", "us"}, {"entries", entries}};
}

}  // namespace coldwright::test

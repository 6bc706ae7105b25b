// The charge limits of data/charge_limits.json, by standard and edition, each with what it rests on.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace coldwright::service {

enum class LimitRule { grams, lfl, room_lfl, room_density };

struct ChargeLimit {
  std::string key;  // wording: section "charge_limits"
  std::string standard, edition;
  std::vector<std::string> classes, refrigerants;  // it holds for one of either
  LimitRule rule = LimitRule::grams;
  double value = 0;           // kg, m3, share or kg/m3, by the rule
  std::optional<double> cap;  // kg
  std::string basis;          // published_summary, from_memory
  std::string source;         // keys of data/references.bib
  bool brief = false;         // shown by the tool for one room
};

/// From the file inside the program.
Result<std::vector<ChargeLimit>> load_charge_limits();
/// The same from a given text, for checking the file.
Result<std::vector<ChargeLimit>> parse_charge_limits(std::string_view json_text);

/// Whether the row speaks of this refrigerant of this class ("A3"; empty when not known).
bool concerns(const ChargeLimit& limit, std::string_view designation, std::string_view safety_class);

/// kg that the row allows, from the tabulated lower flammability limit (kg/m3) and, where the row asks for
/// one, the room's volume (m3); none without it.
std::optional<double> allowed_charge(const ChargeLimit& limit, double lower_limit,
                                     std::optional<double> volume);

}  // namespace coldwright::service

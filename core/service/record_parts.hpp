// What the parts of the use case "record" share: the call as it stands, what was computed for it, and its
// facts as one JSON value (schema record.data), from which page, export and table are all made. Kept to
// service/.
#pragma once

#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/field_units.hpp"
#include "calls/call.hpp"
#include "calls/repair.hpp"
#include "service/use_cases.hpp"
#include "service/wording.hpp"

namespace coldwright::service {

/// One procedure of the call: its answer, or why there is none.
struct RecordTest {
  std::string procedure;
  int run = 1;
  nlohmann::json answer;  // procedure.answer, or null
  std::string why_not;
};

struct RecordSource {
  const Wording& wording;
  base::Display display;
  std::string language;
  std::int64_t now = 0;  // s, UTC
  calls::Call call;
  calls::Repair repair;
  std::map<std::string, nlohmann::json> contents;  // of every standing entry, by its id
  nlohmann::json diagnosis;                        // diagnose.answer, or null
  std::string why_not_diagnosed;
  std::vector<RecordTest> tests;
  nlohmann::json shop;  // {name, address, phone, licence}, or null
};

// --- reading JSON that may lack anything: nothing here ever stops the program ---

std::string text_in(const nlohmann::json& object, std::string_view key);
std::optional<double> number_in(const nlohmann::json& object, std::string_view key);
bool flag_in(const nlohmann::json& object, std::string_view key);
/// The list or object behind a key; an empty one when there is none.
const nlohmann::json& list_in(const nlohmann::json& object, std::string_view key);
const nlohmann::json& object_in(const nlohmann::json& object, std::string_view key);

// --- the facts ---

/// All that the call and its answers say, by record.data.
nlohmann::json record_data(const RecordSource& source);
/// "refrigerant" of it: movements, sums, and what each cylinder gave and took.
nlohmann::json refrigerant_account(const RecordSource& source);
/// "food" of it: each product's history.
nlohmann::json food_histories(const RecordSource& source);
/// An entry's time as its file writes it, made whole: "2025-11-20T09:30:00+01:00"; empty without one.
std::string entry_time(const RecordSource& source, const std::string& id);
/// "2025-11-20 09:30" of that, for people; with the hour alone where `like` is of the same day.
std::string shown_time(std::string_view rfc3339, std::string_view like = "");
/// "2 h 40 min", "25 min".
std::string shown_span(double seconds, const Wording& wording);

/// The facts as a table, RFC 4180: section, item, value, unit, si, time, source. A cell that a spreadsheet
/// would take for a formula begins with an apostrophe.
std::string record_csv(const nlohmann::json& data);

}  // namespace coldwright::service

// Bad input, one case a kind: a single message that names the field, the value given, what is allowed and
// why.
#include <gtest/gtest.h>

#include "calls/call.hpp"
#include "calls/fold.hpp"
#include "contract/call_words.hpp"
#include "contract/spoken.hpp"

namespace coldwright::calls {
namespace {

using tests::call_of;
using tests::noon;
using tests::plate;
using tests::words;

struct Bad {
  const char* name;
  std::string text;
  const char* field;  // part of each, in order
  const char* given;
  const char* allowed;
  const char* why;
};

std::string name_of(const testing::TestParamInfo<Bad>& row) { return row.param.name; }

class BadCall : public testing::TestWithParam<Bad> {};

TEST_P(BadCall, GetsOneClearMessage) {
  const Bad& bad = GetParam();
  const auto call = read_call(bad.text);
  const auto folded = call ? fold(*call, words(), noon) : Result<Folded>(call.problem());
  ASSERT_FALSE(folded);
  const Problem& p = folded.problem();
  const auto holds = [&](const std::string& part, const char* wanted) {
    EXPECT_NE(part.find(wanted), std::string::npos) << "wanted \"" << wanted << "\" in: " << to_text(p);
  };
  tests::expect_said_everywhere(p);
  holds(p.field, bad.field);
  holds(p.given, bad.given);
  holds(p.allowed, bad.allowed);
  holds(p.why, bad.why);
  EXPECT_LT(to_text(p).size(), 1200u) << to_text(p);
}

std::string with(const std::string& entry) { return call_of(plate + "," + entry); }
std::string reading(const std::string& what, const std::string& value) {
  return with(R"({"kind": "reading", "what": ")" + what + R"(", "value": ")" + value + "\"}");
}
std::string plate_with(const std::string& members) {
  return call_of(R"({"kind": "nameplate", "cabinet": "reach_in_cooler")" + members + "}");
}
std::string nested(int depth) {
  std::string deep;
  for (int i = 0; i < depth; ++i) deep += "[";
  return call_of(R"({"kind": "decay_trace", "x": )" + deep +
                 std::string(static_cast<std::size_t>(depth), ']') + "}");
}

INSTANTIATE_TEST_SUITE_P(
    Words, BadCall,
    testing::Values(
        Bad{"unknown_refrigerant", plate_with(R"(, "refrigerant": "R999")"), "refrigerant", "R999", "R290",
            "known"},
        Bad{"unknown_cabinet", call_of(R"({"kind": "nameplate", "cabinet": "reach_in_coolr"})"), "cabinet",
            "reach_in_coolr", "bottle_cooler", "did you mean \"reach_in_cooler\""},
        Bad{"no_nameplate", call_of(R"({"kind": "note", "text": "x"})"), "nameplate", "nothing",
            "reach_in_cooler", "kind of cabinet"},
        Bad{"two_charges", call_of(plate + R"(, {"kind": "nameplate", "charge": "3.6 oz"})"),
            "nameplate, charge", "3.6 oz", "replaces", "one thing"},
        Bad{"two_refrigerants", call_of(plate + R"(, {"kind": "nameplate", "refrigerant": "R600a"})"),
            "nameplate, refrigerant", "R600a", "replaces", "one thing"},
        Bad{"unknown_reading", reading("suction_presure", "31 psig"), "what", "suction_presure",
            "discharge_pressure", "did you mean \"suction_pressure\""},
        Bad{"unknown_subject",
            with(R"({"kind": "observation", "subject": "condensor_fan", "value": "running"})"), "subject",
            "condensor_fan", "compressor", "did you mean"},
        Bad{"unknown_value",
            with(R"({"kind": "observation", "subject": "condenser_fan", "value": "purple"})"),
            "condenser_fan", "purple", "running, slow or stopped", "no such answer"},
        Bad{"kind_slip", with(R"({"kind": "redaing", "what": "shell_temp", "value": "90 F"})"),
            "entry 2, kind", "redaing", "nameplate", "did you mean \"reading\""},
        Bad{"no_kind", with(R"({"what": "shell_temp", "value": "90 F"})"), "entry 2, kind", "nothing",
            "reading", "says what it is"},
        Bad{"unknown_key", with(R"({"kind": "reading", "what": "shell_temp", "valeu": "90 F"})"),
            "entry 2 (reading)", "valeu", "value", "did you mean \"value\""},
        Bad{"unknown_top_key", R"({"call": "x", "entrys": []})", "call file", "entrys", "entries",
            "did you mean \"entries\""},
        Bad{"no_entries", R"({"call": "x"})", "entries", "nothing", "a list", "list of entries"},
        Bad{"entries_not_a_list", R"({"entries": {}})", "entries", "{}", "a list", "list of entries"},
        Bad{"not_an_object", R"([1, 2])", "call file", "[1,2]", "an object", "one JSON object"},
        Bad{"entry_not_an_object", call_of("7"), "entry 1", "7", "an object", "entries are objects"},
        Bad{"newer_format", R"({"format": 2, "entries": []})", "format", "2", "1", "format 1"},
        Bad{"reading_without_value", with(R"({"kind": "reading", "what": "shell_temp"})"), "value", "nothing",
            "a temperature", "means nothing without it"},
        Bad{"id_reused", with(R"({"kind": "note", "id": "plate", "text": "x"})"), "plate",
            "different contents", "id of its own", "never edited"}),
    name_of);

INSTANTIATE_TEST_SUITE_P(
    Quantities, BadCall,
    testing::Values(
        Bad{"pressure_too_high", reading("discharge_pressure", "4000 psig"), "discharge pressure",
            "4000 psig", "638 psig", "no sealed cabinet"},
        Bad{"pressure_below_vacuum", reading("suction_pressure", "-16 psig"), "suction pressure", "-16 psig",
            "perfect vacuum", "no sealed cabinet"},
        Bad{"below_vacuum_here",
            call_of(
                plate +
                R"(, {"kind": "site", "altitude": "8000 ft"}, {"kind": "reading", "what": "suction_pressure", "value": "-14 psig"})"),
            "suction pressure", "-14 psig", "inHg", "perfect vacuum"},
        Bad{"temperature_below_zero", reading("shell_temp", "-500 F"), "compressor shell", "-500 F", "22F",
            "absolute zero"},
        Bad{"temperature_too_hot", reading("shell_temp", "900 F"), "compressor shell", "900 F", "392.0 °F",
            "nothing on a sealed cabinet"},
        Bad{"ambient_impossible", with(R"({"kind": "site", "ambient": "260 F"})"), "ambient", "260 F",
            "149.0 °F", "no place"},
        Bad{"wrong_unit", reading("suction_pressure", "22 F"), "suction pressure", "22 F", "psig",
            "a temperature and a pressure is wanted"},
        Bad{"wrong_unit_for_current", reading("compressor_current", "115 V"), "current", "115 V", "1.84 A",
            "a voltage"},
        Bad{"gauge_or_absolute", reading("suction_pressure", "41 psi"), "suction pressure", "41 psi", "psig",
            "psig or psia"},
        Bad{"gauge_and_absolute", reading("suction_pressure", "41 psig abs"), "suction pressure",
            "41 psig abs", "psia", "gauge and absolute at once"},
        Bad{"negative_absolute", reading("suction_pressure", "-3 psia"), "suction pressure", "-3 psia",
            "psig", "above zero"},
        Bad{"gauge_accuracy",
            with(
                R"({"kind": "reading", "what": "suction_pressure", "value": "41 psig", "accuracy": "1 psig"})"),
            "accuracy", "1 psig", "without g or a", "neither gauge nor absolute"},
        Bad{"barometer_gauge", with(R"({"kind": "site", "barometer": "0 psig"})"), "barometer", "0 psig",
            "inHg", "absolute"},
        Bad{"sea_level_barometer",
            with(R"({"kind": "site", "altitude": "5000 ft", "barometer": "30.1 inHg"})"), "barometer",
            "5000 ft", "24.9 inHg", "reduce"},
        Bad{"no_unit", reading("suction_pressure", "41"), "suction pressure", "41", "psig",
            "unit is missing"},
        Bad{"bare_number", with(R"({"kind": "reading", "what": "suction_pressure", "value": 41})"), "value",
            "41", "psig", "bare number"},
        Bad{"nan_text", reading("suction_pressure", "NaN psig"), "suction pressure", "NaN", "psig",
            "isn't a number"},
        Bad{"nan_literal", with(R"({"kind": "reading", "what": "suction_pressure", "value": NaN})"),
            "call file", "NaN", "41 psig", "not a number"},
        Bad{"infinite", reading("suction_pressure", "inf psig"), "suction pressure", "inf", "psig",
            "isn't a number"},
        Bad{"huge_text", reading("suction_pressure", "1e400 psig"), "suction pressure", "1e400", "psig",
            "can hold"},
        Bad{"huge_literal", with(R"({"kind": "reading", "what": "suction_pressure", "value": 1e999})"),
            "call file", "too large", "instrument", "that large"},
        Bad{"charge_too_large", plate_with(R"(, "charge": "320 lb")"), "charge", "320 lb", "oz",
            "slipped digit"},
        Bad{"negative_current", reading("compressor_current", "-2 A"), "current", "-2 A",
            "0.00 A to 150.00 A", "nothing"},
        Bad{"thousands", reading("suction_pressure", "1,840 psig"), "suction pressure", "1,840", "psig",
            "thousands"}),
    name_of);

const std::string future =
    R"({"kind": "reading", "id": "r9", "what": "shell_temp", "value": "90 F", "at": "2025-11-20T12:06:00Z"})";

INSTANTIATE_TEST_SUITE_P(
    Files, BadCall,
    testing::Values(
        Bad{"empty", "", "call file", "empty", "object", "nothing"},
        Bad{"blank", " \n\t ", "call file", "empty", "object", "nothing"},
        Bad{"truncated", call_of(plate).substr(0, 120), "call file", "ends in the middle", "whole",
            "cut off"},
        Bad{"truncated_in_text", R"({"call": "Skarrvik ba)", "call file", "ends in the middle", "whole",
            "cut off"},
        Bad{"missing_comma", "{\"call\": \"x\"\n \"entries\": []}", "call file", "line 2", "JSON", "missing"},
        Bad{"trailing", R"({"entries": []} x)", "call file", "line 1", "JSON", "missing"},
        Bad{"not_json", "suction 31 psig, amps 1.8", "call file", "line 1", "JSON", "missing"},
        Bad{"latin1", "{\"call\": \"K\xE4ltebau\", \"entries\": []}", "call file",
            "not UTF-8 at line 1, column 12", "UTF-8", "save the file"},
        Bad{"utf16", std::string("\xFF\xFE{\0\"\0", 6), "call file", "UTF-16", "UTF-8", "save the file"},
        Bad{"overlong_utf8", "{\"call\": \"\xC0\x80\", \"entries\": []}", "call file", "not UTF-8", "UTF-8",
            "save the file"},
        Bad{"over_the_limit", std::string((1u << 20) + 1, ' '), "call file", "1.0 MB", "1048576 bytes",
            "some pages"},
        Bad{"fifty_megabytes", std::string(50u << 20, '['), "call file", "50.0 MB", "1.0 MB", "some pages"},
        Bad{"deep", nested(40), "call file", "32 deep", "32 levels", "needs more"},
        Bad{"very_deep", std::string(1000000, '['), "call file", "32 deep", "32 levels", "needs more"},
        Bad{"duplicate_key", R"({"call": "a", "call": "b", "entries": []})", "call file", "twice", "once",
            "which of the two"},
        Bad{"duplicate_key_inside", with(R"({"kind": "note", "text": "a", "text": "b"})"), "call file",
            "\"text\" twice", "once", "which of the two"},
        Bad{"future", with(future), "r9", "2025-11-20T12:06:00Z", "2025-11-20T12:00:00Z", "future"},
        Bad{"no_offset", with(R"({"kind": "note", "text": "x", "at": "2025-11-20T09:30:00"})"), "at",
            "2025-11-20T09:30:00", "+01:00", "UTC"},
        Bad{"control_in_id", with(R"({"kind": "note", "text": "x", "id": "a\u0007b"})"), "id", "a?b",
            "short word", "control"},
        Bad{"long_note", with(R"({"kind": "note", "text": ")" + std::string(5000, 'x') + "\"}"), "text",
            "5000 bytes", "4000", "longer"}),
    name_of);

TEST(Limits, AMinuteAheadIsAnotherClockAndTaken) {
  const auto call = read_call(
      with(R"({"kind": "reading", "what": "shell_temp", "value": "90 F", "at": "2025-11-20T12:04:00Z"})"));
  ASSERT_TRUE(call);
  EXPECT_TRUE(fold(*call, words(), noon));
}

TEST(Limits, MoreEntriesThanAnyCallHas) {
  std::string many = R"({"kind":"note","text":"0"})";
  for (int i = 1; i <= 5000; ++i) many += R"(,{"kind":"note","text":")" + std::to_string(i) + "\"}";
  const auto call = read_call(call_of(many));
  ASSERT_FALSE(call);
  EXPECT_NE(call.problem().given.find("5001"), std::string::npos);
}

}  // namespace
}  // namespace coldwright::calls

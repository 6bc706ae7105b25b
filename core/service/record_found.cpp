// The record's section on what was found: plain words, the cause and how sure, the bars.
#include <algorithm>
#include <cmath>

#include "service/record_model.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

/// Bars up to this many; what is left is one bar more.
constexpr std::size_t kMostBars = 5;
/// A cause below this is no bar of its own for a customer (our-estimate: what a person would not act on).
constexpr double kLeastBar = 0.02;

std::string plain_cause(const std::string& cause, const Wording& wording) {
  std::string out;
  for (std::size_t from = 0; from <= cause.size();) {
    const std::size_t end = std::min(cause.find('+', from), cause.size());
    const std::string one = cause.substr(from, end - from);
    if (wording.has("record_plain", one)) out += (out.empty() ? "" : " ") + wording.word("record_plain", one);
    from = end + 1;
  }
  return out;
}

const json* lead_of(const json& findings) {
  const json& causes = list_in(findings, "causes");
  return causes.empty() ? nullptr : &causes.front();
}

/// "The readings alone had made this very likely (92 %)."
std::string beside(const json& findings, const std::string& cause, const Wording& wording) {
  const json* lead = lead_of(findings);
  if (lead == nullptr) return "";
  if (text_in(*lead, "cause") == cause)
    return wording.phrase(
        "record", "readings_said",
        {{"words", text_in(*lead, "in_words")}, {"probability", text_in(*lead, "probability_text")}});
  return wording.phrase(
      "record", "readings_said_other",
      {{"cause", text_in(*lead, "label")}, {"probability", text_in(*lead, "probability_text")}});
}

void add_found(json& blocks, const json& findings, const Wording& wording) {
  for (const json& found : list_in(findings, "found")) {
    const std::string label = text_in(found, "label"), how = text_in(found, "how"),
                      cause = text_in(found, "cause");
    const std::string named =
        how.empty() ? label : wording.phrase("record", "found_how", {{"cause", label}, {"how", how}});
    std::string text = wording.phrase("record", "found_cause", {{"cause", named}});
    for (const std::string& more : {plain_cause(cause, wording), beside(findings, cause, wording)})
      if (!more.empty()) text += " " + more;
    blocks.push_back(paragraph_block(text));
  }
}

void add_probable(json& blocks, const json& findings, const Wording& wording) {
  const json* lead = lead_of(findings);
  if (lead == nullptr) return;
  std::string text = wording.phrase("record", "most_probable",
                                    {{"cause", text_in(*lead, "label")},
                                     {"words", text_in(*lead, "in_words")},
                                     {"probability", text_in(*lead, "probability_text")}});
  if (const std::string more = plain_cause(text_in(*lead, "cause"), wording); !more.empty())
    text += " " + more;
  if (const std::string extent = text_in(*lead, "severity_text"); !extent.empty())
    text += " " + wording.phrase("record", "extent", {{"text", extent}});
  blocks.push_back(paragraph_block(text));
}

void add_bars(json& blocks, const json& findings, const Wording& wording, bool shop) {
  json bars = json::array();
  double rest = 0;
  for (const json& cause : list_in(findings, "causes")) {
    const double share = std::clamp(number_in(cause, "probability").value_or(0), 0.0, 1.0);
    const std::string id = text_in(cause, "cause");
    bool found = false;
    for (const json& one : list_in(findings, "found")) found = found || text_in(one, "cause") == id;
    const bool own = found || (shop ? share >= 0.005 : share >= kLeastBar && bars.size() < kMostBars);
    if (!own) {
      rest += share;
      continue;
    }
    bars.push_back({{"label", text_in(cause, "label")},
                    {"share", share},
                    {"text", text_in(cause, "probability_text")},
                    {"words", found ? wording.word("record", "bar_found") : text_in(cause, "in_words")},
                    {"found", found}});
  }
  if (bars.empty()) return;
  if (rest > 0.005)
    bars.push_back(
        {{"label", wording.word("record", "bars_other")},
         {"share", rest},
         {"text", std::to_string(std::lround(100 * rest)) + std::string(wording.numerals().gap) + "%"},
         {"words", ""},
         {"found", false}});
  blocks.push_back({{"kind", "bars"}, {"caption", wording.word("record", "bars")}, {"bars", bars}});
}

}  // namespace

void found_blocks(json& blocks, const json& data, const Wording& wording, bool shop) {
  const json& findings = object_in(data, "findings");
  blocks.push_back(heading_block(2, wording.word("record", "found")));
  for (const json& seen : list_in(data, "observations"))
    if (text_in(seen, "subject") == "complaint")
      blocks.push_back(
          paragraph_block(wording.phrase("record", "complaint", {{"text", text_in(seen, "value_label")}})));
  add_found(blocks, findings, wording);
  if (!flag_in(findings, "diagnosed")) {
    blocks.push_back(
        paragraph_block(wording.phrase("record", "no_diagnosis", {{"why", text_in(findings, "why_not")}})));
  } else {
    if (list_in(findings, "found").empty()) add_probable(blocks, findings, wording);
    if (number_in(findings, "evidence").value_or(0) == 0)
      blocks.push_back(paragraph_block(wording.word("record", "no_readings")));
    if (!flag_in(findings, "trustworthy"))
      blocks.push_back(paragraph_block(wording.word("record", "not_trustworthy")));
    add_bars(blocks, findings, wording, shop);
    std::vector<std::string> reasons;
    for (const json& reason : list_in(findings, "reasons"))
      if (reason.is_string() && (shop || reasons.size() < 3)) reasons.push_back(reason.get<std::string>());
    if (!reasons.empty()) blocks.push_back(list_block(reasons));
  }
  if (const double photos = number_in(object_in(data, "call"), "photos").value_or(0); photos > 0)
    blocks.push_back(paragraph_block(
        wording.phrase("record", "photos", {{"count", std::to_string(std::lround(photos))}})));
}

}  // namespace coldwright::service

// The answer to "what is wrong with it", in the order a technician needs it: cause, why, what to watch, what
// to read next.
#include <algorithm>
#include <cmath>

#include "plain.hpp"

namespace coldwright::cli {
namespace {

using nlohmann::json;

constexpr std::size_t kMostCauses = 6, kMostSteps = 5, kMostTurnings = 4;
constexpr std::size_t kBar = 16;

std::string one_decimal(double value) {
  const long tenths = std::lround(std::abs(value) * 10);
  return (value < 0 && tenths > 0 ? "-" : "") + std::to_string(tenths / 10) + "." +
         std::to_string(tenths % 10);
}

/// Bits, with a second decimal where the first would read zero.
std::string bits_text(double bits) {
  if (bits >= 0.095) return one_decimal(bits);
  const long hundredths = std::lround(bits * 100);
  return hundredths < 1 ? "under 0.01" : "0.0" + std::to_string(hundredths);
}

void causes(Page& page, const json& answer) {
  page.heading("Causes");
  std::size_t shown = 0, rest = 0;
  double rest_share = 0;
  std::size_t width = 24;
  const json& list = list_at(answer, "causes");
  const auto counts = [&](const json& cause) {
    return shown < kMostCauses && (shown < 2 || number_at(cause, "probability") >= 0.01);
  };
  for (const json& cause : list)
    width = std::max(width, std::min<std::size_t>(38, text_at(cause, {"label"}).size()));
  for (const json& cause : list) {
    const double share = number_at(cause, "probability");
    if (!counts(cause)) {
      ++rest;
      rest_share += share;
      continue;
    }
    ++shown;
    const std::string label = text_at(cause, {"label"});
    const std::string tail = bar(share, kBar) + " " + padded(text_at(cause, {"probability_text"}), 6) +
                             text_at(cause, {"in_words"});
    if (label.size() > width) {
      page.paragraph(label);
      page.line("  " + padded("", width + 1) + tail);
    } else {
      page.line("  " + padded(label, width + 1) + tail);
    }
    const std::string severity = text_at(cause, {"severity_text"});
    if (!severity.empty()) page.paragraph(severity, "      if so: ");
  }
  if (rest > 0)
    page.line("  " + padded(std::to_string(rest) + " others together", width + 1) + bar(rest_share, kBar) +
              " " + percent(rest_share));
}

void reasons(Page& page, const json& answer) {
  if (list_at(answer, "reasons").empty()) return;
  page.heading("Why");
  for (const json& reason : list_at(answer, "reasons")) page.paragraph(text_at(reason, {"text"}), "  - ");
}

void suspects(Page& page, const json& answer) {
  if (list_at(answer, "suspects").empty()) return;
  page.heading("Readings to doubt");
  for (const json& suspect : list_at(answer, "suspects")) {
    const std::string chance = percent(number_at(suspect, "probability_mistaken"));
    page.paragraph(text_at(suspect, {"text"}) + " Chance that it is a mistake: " + chance + ".", "  ? ");
  }
}

/// "for 2.1 bit" or "against 0.4 bit": what the entry did to the leading cause.
std::string pull(const json& row) {
  const double bits = number_at(row, "log_odds") / std::log(2.0);
  if (std::abs(bits) < 0.05) return "neither way";
  return (bits > 0 ? "for " : "against ") + one_decimal(std::abs(bits));
}

void evidence(Page& page, const json& answer) {
  std::vector<std::vector<std::string>> rows = {{"", "found", "sound machine", "", "leading cause"}};
  for (const json& row : list_at(answer, "evidence")) {
    const bool reading = text_at(row, {"kind"}) == "reading";
    const std::string where = text_at(row, {"against_sound"});
    rows.push_back({text_at(row, {"label"}),
                    reading ? text_at(row, {"given", "text"}) : text_at(row, {"value_label"}),
                    text_at(row, {"expected_if_sound", "text"}),
                    where == "below"   ? "low"
                    : where == "above" ? "high"
                                       : "",
                    pull(row)});
  }
  if (rows.size() == 1) return;
  page.heading("What was found, beside what a sound machine shows here (5 to 95 %)");
  page.table(rows);
  page.paragraph("The last column is the bits each finding gives for or against the leading cause.");
}

void unseen(Page& page, const json& answer) {
  std::vector<std::vector<std::string>> rows = {{"", "here", "sound machine"}};
  for (const json& row : list_at(answer, "unseen"))
    rows.push_back(
        {text_at(row, {"label"}), text_at(row, {"interval", "text"}), text_at(row, {"sound", "text"})});
  if (rows.size() == 1) return;
  page.heading("The unseen side: reckoned, not measured (5 to 95 %)");
  page.table(rows);
}

void next(Page& page, const json& answer) {
  if (list_at(answer, "next").empty()) return;
  page.heading("Worth reading next, best first (1 bit halves the doubt)");
  std::size_t number = 0;
  for (const json& step : list_at(answer, "next")) {
    if (++number > kMostSteps) break;
    std::string text = text_at(step, {"label"}) + ": " +
                       std::to_string(std::lround(number_at(step, "minutes"))) + " min, tells " +
                       bits_text(number_at(step, "bits")) + " bit";
    const double grams = number_at(step, "grams_lost");
    if (grams > 0) text += ", costs about " + one_decimal(grams) + " g of refrigerant";
    text += flag_at(step, "opens_circuit") ? ", OPENS the sealed circuit" : ", nothing is opened";
    page.paragraph(text, "  " + std::to_string(number) + ". ");
    const std::string hazard = text_at(step, {"hazard_text"});
    if (!hazard.empty()) page.paragraph(hazard, "     ! ");
  }
}

void turnings(Page& page, const json& answer) {
  if (list_at(answer, "turnings").empty()) return;
  page.heading("What would change this");
  std::size_t number = 0;
  for (const json& turning : list_at(answer, "turnings")) {
    if (++number > kMostTurnings) break;
    std::string text = text_at(turning, {"text"});
    if (!flag_at(turning, "already_read")) text += " Chance: " + percent(number_at(turning, "chance")) + ".";
    page.paragraph(text, "  - ");
  }
}

}  // namespace

std::string plain_diagnosis(const json& answer) {
  Page page;
  call_heading(page, answer);
  remarks(page, answer);
  causes(page, answer);
  reasons(page, answer);
  suspects(page, answer);
  evidence(page, answer);
  unseen(page, answer);
  cautions(page, answer);
  next(page, answer);
  turnings(page, answer);
  how_sure(page, answer);
  references(page, answer);
  return page.text();
}

}  // namespace coldwright::cli

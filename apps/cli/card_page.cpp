#include "card_page.hpp"

#include "layout.hpp"
#include "print/card.hpp"

namespace coldwright::cli {
namespace {

using nlohmann::json;

constexpr const char* kNone = "\u2013";

/// A quantity's text less its unit and the gap before it, which is " " or a space that doesn't break.
std::string number_of(const json& quantity) {
  std::string text = text_at(quantity, {"text"});
  const std::string unit = text_at(quantity, {"unit"});
  if (unit.empty() || !text.ends_with(unit)) return text;
  text.resize(text.size() - unit.size());
  for (const std::string_view gap : {" ", "\u00A0", "\u202F"})
    if (text.ends_with(gap)) text.resize(text.size() - gap.size());
  return text;
}

/// The text less its unit, which stands in the notes; inches of mercury without their sign.
print::Cell cell_of(const json& cell, const char* key) {
  const auto found = cell.find(key);
  if (found == cell.end() || !found->is_object()) return {kNone, false, ""};
  std::string text = number_of(*found);
  const bool vacuum = text.starts_with('-');
  if (vacuum && text_at(*found, {"unit"}) == "inHg") return {text.substr(1), true, "\u2033"};
  if (vacuum) text.replace(0, 1, "\u2212");
  return {text, vacuum, ""};
}

std::string shown_class(const json& column) {
  return text_at(column, {"safety_class"}) + (flag_at(column, "safety_class_recalled") ? "*" : "");
}

void add_column(print::Card& card, const json& column, const json& words) {
  const bool blend = flag_at(column, "blend");
  std::vector<std::string> parts = {""};
  if (blend) parts = {text_at(words, {"bubble"}), text_at(words, {"dew"}), text_at(words, {"glide"})};
  card.columns.push_back({text_at(column, {"refrigerant"}), shown_class(column), parts});
}

void add_row(print::Card& card, const json& row) {
  std::string temperature = number_of(row["temperature"]);
  if (temperature.starts_with('-')) temperature.replace(0, 1, "\u2212");
  print::Row out{temperature, {}};
  for (const json& cell : list_at(row, "cells"))
    for (const char* key : {"pressure", "bubble", "dew", "glide"})
      if (cell.contains(key)) out.cells.push_back(cell_of(cell, key));
  card.rows.push_back(std::move(out));
}

}  // namespace

Result<std::string> card_pdf(const json& answer, const std::string& paper, std::int64_t now) {
  const auto words = answer.find("words");
  if (words == answer.end()) return Problem{"card", "an answer without words", "the core's own answer", ""};
  print::Card card;
  card.title = text_at(*words, {"title"});
  card.page_words = text_at(*words, {"page"});
  card.sources_words = text_at(*words, {"works_on_page"});
  card.created = now;
  for (const json& note : list_at(answer, "notes")) card.notes.push_back(text_at(note, {"text"}));
  for (const json& caution : list_at(answer, "cautions")) card.cautions.push_back(text_at(caution, {"text"}));
  for (const json& column : list_at(answer, "columns")) add_column(card, column, *words);
  for (const json& row : list_at(answer, "rows")) {
    if (card.temperature_unit.empty()) card.temperature_unit = text_at(row, {"temperature", "unit"});
    add_row(card, row);
  }
  const auto about = answer.find("about");
  if (about != answer.end()) {
    card.sources = text_at(*words, {"works"}) + ": ";
    for (const json& work : list_at(*about, "references")) card.sources += text_at(work, {"citation"}) + ". ";
    card.sources +=
        "coldwright " + text_at(*about, {"version"}) + ", data " + text_at(*about, {"data"}) + ".";
  }
  const bool letter = paper.empty() ? text_at(answer, {"units"}) == "us" : paper == "letter";
  return print::card_pdf(card, letter ? print::Paper::letter : print::Paper::a4);
}

}  // namespace coldwright::cli

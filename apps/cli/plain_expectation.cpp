// The answer to "what should it be reading": this moment beside the set point, physics beside rules of thumb.
#include "plain.hpp"

namespace coldwright::cli {
namespace {

using nlohmann::json;

/// The interval's text for `name` in the list under `list`, whose rows carry `key`.
std::string found(const json& state, const char* list, const char* key, const std::string& name) {
  for (const json& row : list_at(state, list))
    if (text_at(row, {key}) == name) return text_at(row, {"interval", "text"});
  return "";
}

void side_by_side(Page& page, const json& now, const json& set_point, const char* list, const char* key) {
  std::vector<std::vector<std::string>> rows = {{"", "now", "at the set point"}};
  for (const json& row : list_at(now, list))
    rows.push_back({text_at(row, {"label"}), text_at(row, {"interval", "text"}),
                    found(set_point, list, key, text_at(row, {key}))});
  for (const json& row : list_at(set_point, list))
    if (found(now, list, key, text_at(row, {key})).empty())
      rows.push_back({text_at(row, {"label"}), "", text_at(row, {"interval", "text"})});
  if (rows.size() > 1) page.table(rows);
}

void rules(Page& page, const json& answer) {
  std::vector<std::vector<std::string>> rows = {{"", "rule of thumb", "physics now", "physics at set point"}};
  for (const json& row : list_at(answer, "rules_of_thumb"))
    rows.push_back({text_at(row, {"label"}), text_at(row, {"rule", "text"}),
                    text_at(row, {"physics_now", "text"}), text_at(row, {"physics_set_point", "text"})});
  if (rows.size() == 1) return;
  page.heading("Rules of thumb (common practice) beside the physics");
  page.table(rows);
  for (const json& row : list_at(answer, "rules_of_thumb"))
    for (const json& part : list_at(row, "where_they_part")) page.paragraph(text_at(part, {"text"}), "  - ");
}

}  // namespace

std::string plain_expectation(const json& answer) {
  Page page;
  call_heading(page, answer);
  remarks(page, answer);
  const json empty = json::object();
  const json& now = answer.contains("now") ? answer["now"] : empty;
  const json& set_point = answer.contains("set_point") ? answer["set_point"] : empty;
  page.heading("What a sound machine of this kind reads (5 to 95 %)");
  page.paragraph("Now: ambient " + text_at(now, {"ambient", "text"}) + ", box " +
                 text_at(now, {"box", "text"}) + ". At the set point: box " +
                 text_at(set_point, {"box", "text"}) + ". A machine pulling down is not a machine at rest.");
  side_by_side(page, now, set_point, "readings", "reading");
  page.heading("And what nobody reads directly");
  side_by_side(page, now, set_point, "quantities", "quantity");
  rules(page, answer);
  cautions(page, answer);
  how_sure(page, answer);
  references(page, answer);
  return page.text();
}

}  // namespace coldwright::cli

// The answers of "trace" and "trace_layout".
#include "plain.hpp"

namespace coldwright::cli {
namespace {

using nlohmann::json;

constexpr std::size_t kShown = 24;

std::string number(double v) {
  std::string text = std::to_string(v);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.ends_with('.')) text.pop_back();
  return text;
}

void layout(Page& page, const json& layout) {
  const json& time = layout.contains("time") ? layout["time"] : layout;
  page.line("  " + text_at(layout, {"separator"}) + ", " + text_at(layout, {"decimal"}) + ", " +
            text_at(time, {"form"}));
  std::vector<std::vector<std::string>> rows;
  for (const json& column : list_at(layout, "columns"))
    rows.push_back({text_at(column, {"header"}), text_at(column, {"label"}), text_at(column, {"unit"}),
                    percent(number_at(column, "confidence")), text_at(column, {"why"})});
  for (const json& sensor : list_at(layout, "sensors"))
    rows.push_back(
        {text_at(sensor, {"name"}), text_at(sensor, {"label"}), text_at(sensor, {"unit"}), "", ""});
  page.table(rows, "    ");
}

void questions(Page& page, const json& answer) {
  for (const json& question : list_at(answer, "questions")) {
    std::string options;
    for (const json& option : list_at(question, "options"))
      options += (options.empty() ? "" : ", ") + text_at(option, {"label"});
    page.paragraph(text_at(question, {"text"}) + " (" + options + ")", "  ? ");
  }
}

void rows_of(Page& page, const json& list, const char* name) {
  std::vector<std::vector<std::string>> rows;
  for (const json& one : list) {
    if (rows.size() >= kShown) break;
    rows.push_back({text_at(one, {"from_text"}), text_at(one, {"label"}),
                    percent(number_at(one, "probability")), text_at(one, {name})});
  }
  page.table(rows, "  ");
  if (list.size() > kShown) page.line("  ... +" + std::to_string(list.size() - kShown));
}

}  // namespace

std::string plain_trace_layout(const json& answer) {
  Page page;
  if (answer.contains("layout")) layout(page, answer["layout"]);
  questions(page, answer);
  return page.text();
}

std::string plain_trace(const json& answer) {
  Page page;
  for (const json& file : list_at(answer, "files")) {
    page.line(text_at(file, {"name"}) + ": " + number(number_at(file, "used")) + " / " +
              number(number_at(file, "rows")) + ", " + text_at(file, {"from_text"}) + " - " +
              text_at(file, {"to_text"}) + ", " + number(number_at(file, "interval")) + " s");
    if (file.contains("layout")) layout(page, file["layout"]);
  }
  questions(page, answer);
  for (const json& aside : list_at(answer, "set_aside")) page.paragraph(text_at(aside, {"text"}), "  - ");
  for (const json& said : list_at(answer, "statements")) page.paragraph(text_at(said, {"text"}), "  ");
  page.blank();
  rows_of(page, list_at(answer, "phases"), "lasts");
  page.blank();
  rows_of(page, list_at(answer, "events"), "text");
  page.blank();
  std::vector<std::vector<std::string>> figures;
  for (const json& figure : list_at(answer, "figures"))
    figures.push_back({text_at(figure, {"label"}), text_at(figure, {"text"})});
  page.table(figures, "  ");
  if (!answer.contains("evidence")) return page.text();
  const json& evidence = answer["evidence"];
  page.blank();
  std::vector<std::vector<std::string>> rows;
  for (const json& reading : list_at(evidence, "readings"))
    rows.push_back({text_at(reading, {"label"}), text_at(reading, {"text"})});
  for (const json& seen : list_at(evidence, "observed"))
    rows.push_back({text_at(seen, {"label"}), percent(number_at(seen, "confidence"))});
  page.table(rows, "  ");
  references(page, answer);
  return page.text();
}

}  // namespace coldwright::cli

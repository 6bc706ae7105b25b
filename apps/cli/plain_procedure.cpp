// A procedure's answer: verdict, sentences, figures, tables, cautions. With `how` each figure opens to its
// formula, inputs and sources.
#include "plain.hpp"

namespace coldwright::cli {
namespace {

void figure_opened(Page& page, const nlohmann::json& figure) {
  page.line("      " + text_at(figure, {"formula"}));
  for (const auto& input : list_at(figure, "where")) {
    const std::string symbol = text_at(input, {"symbol"});
    page.line("      " + (symbol.empty() ? "" : symbol + ": ") + text_at(input, {"label"}) + " " +
              text_at(input, {"text"}));
  }
  std::string from = text_at(figure, {"basis_text"});
  for (const auto& key : list_at(figure, "cited")) from += " [" + key.get<std::string>() + "]";
  page.line("      " + from);
}

void tables(Page& page, const nlohmann::json& answer) {
  for (const auto& table : list_at(answer, "tables")) {
    page.blank();
    page.heading(text_at(table, {"label"}));
    std::vector<std::vector<std::string>> rows(1);
    for (const auto& column : list_at(table, "columns")) rows[0].push_back(text_at(column, {"label"}));
    for (const auto& row : list_at(table, "rows")) rows.push_back(row.get<std::vector<std::string>>());
    page.table(rows);
  }
}

}  // namespace

std::string plain_procedure(const nlohmann::json& answer, bool how) {
  Page page;
  if (const std::string refrigerant = text_at(answer, {"refrigerant"}); !refrigerant.empty())
    page.paragraph(refrigerant, "");
  for (const auto& caution : list_at(answer, "cautions")) page.paragraph(text_at(caution, {"text"}), "  ! ");
  for (const auto& asked : list_at(answer, "asks")) page.paragraph(text_at(asked, {"text"}), "  ? ");
  if (const std::string verdict = text_at(answer, {"verdict", "text"}); !verdict.empty()) {
    page.blank();
    page.paragraph(verdict, "");
  }
  for (const auto& said : list_at(answer, "statements")) page.paragraph(text_at(said, {"text"}), "  ");
  if (!list_at(answer, "figures").empty()) page.blank();
  std::vector<std::vector<std::string>> rows;
  for (const auto& figure : list_at(answer, "figures")) {
    rows.push_back({text_at(figure, {"label"}), text_at(figure, {"text"})});
    if (!how) continue;
    page.table(rows);
    rows.clear();
    figure_opened(page, figure);
  }
  if (!rows.empty()) page.table(rows);
  tables(page, answer);
  references(page, answer);
  return page.text();
}

}  // namespace coldwright::cli

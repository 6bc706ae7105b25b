// The plan of a repair: its steps with a box each, why, and the cautions where the hand acts.
#include "plain.hpp"

namespace coldwright::cli {

std::string plain_plan(const nlohmann::json& answer) {
  Page page;
  call_heading(page, answer);
  page.blank();
  for (const auto& lead : list_at(answer, "leads"))
    page.line("  " + padded(text_at(lead, {"probability_text"}), 6) + " " + text_at(lead, {"label"}));
  page.blank();
  for (const auto& step : list_at(answer, "steps")) {
    const std::string state = text_at(step, {"state"});
    const std::string box = state == "done" ? "[x] " : state == "skipped" ? "[-] " : "[ ] ";
    page.line(box + text_at(step, {"title"}) + " (" + text_at(step, {"key"}) + ")");
    page.paragraph(text_at(step, {"why"}), "    ");
    if (const std::string reason = text_at(step, {"reason"}); !reason.empty())
      page.paragraph(reason, "    - ");
    for (const auto& caution : list_at(step, "cautions"))
      page.paragraph(text_at(caution, {"text"}), "    ! ");
  }
  remarks(page, answer);
  cautions(page, answer);
  references(page, answer);
  return page.text();
}

}  // namespace coldwright::cli

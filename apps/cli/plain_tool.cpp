// The answer of a tool at hand ("room", "hose", "standing"): its sentences carry the numbers.
#include "plain.hpp"

namespace coldwright::cli {

std::string plain_tool(const nlohmann::json& answer) {
  Page page;
  page.paragraph(text_at(answer, {"refrigerant"}), "");
  for (const auto& said : list_at(answer, "statements")) page.paragraph(text_at(said, {"text"}), "  ");
  for (const auto& limit : list_at(answer, "customary")) page.paragraph(text_at(limit, {"text"}), "  - ");
  for (const auto& caution : list_at(answer, "cautions")) page.paragraph(text_at(caution, {"text"}), "  ! ");
  references(page, answer);
  return page.text();
}

}  // namespace coldwright::cli

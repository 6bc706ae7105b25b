// The answer of "quantity": what was understood, and the same amount in every unit of its kind.
#include "plain.hpp"

namespace coldwright::cli {

std::string plain_quantity(const nlohmann::json& answer) {
  Page page;
  page.paragraph(text_at(answer, {"value", "text"}), "");
  for (const auto& remark : list_at(answer, "remarks")) page.paragraph(text_at(remark, {"text"}), "  ");
  for (const auto& same : list_at(answer, "same")) page.line("  " + text_at(same, {"text"}));
  return page.text();
}

}  // namespace coldwright::cli

// The page of a record as plain blocks in their order: heading, paragraph, facts, table, bars, figure,
// verdicts, signatures, small print. One model, drawn by every painter: HTML here, PDF natively and in the
// browser. Texts are plain and in the reader's language; no painter adds a word. Kept to service/.
#pragma once

#include "service/record_parts.hpp"

namespace coldwright::service {

struct RecordPage {
  bool shop = false;  // the shop's copy: every reading, all weights, how the numbers were reckoned
  /// The cycle on the pressure-enthalpy diagram as SVG, where there is a diagnosis; empty without.
  std::string cycle_svg;
};

/// {"title", "foot", "blocks": [...]}; schema record.model within record.answer.
nlohmann::json record_model(const nlohmann::json& data, const RecordSource& source, const RecordPage& page);

/// The sections of the page, each appended to `blocks`.
void found_blocks(nlohmann::json& blocks, const nlohmann::json& data, const Wording& wording, bool shop);
void done_blocks(nlohmann::json& blocks, const nlohmann::json& data, const Wording& wording, bool shop);
void proved_blocks(nlohmann::json& blocks, const nlohmann::json& data, const RecordSource& source, bool shop);
void food_blocks(nlohmann::json& blocks, const nlohmann::json& data, const Wording& wording);
void shop_blocks(nlohmann::json& blocks, const nlohmann::json& data, const RecordSource& source,
                 const RecordPage& page);

// --- making blocks ---

nlohmann::json heading_block(int level, const std::string& text);
nlohmann::json paragraph_block(const std::string& text);
nlohmann::json list_block(const std::vector<std::string>& items);
struct TableColumn {
  std::string label;
  const char* align = "left";  // or "right"
  double share = 1;            // of the width, beside the others
};
/// Numbers of a column that stands right made as long behind the decimal mark, with blanks as wide as a
/// digit: so their marks stand below each other in any painter.
void align_decimals(std::vector<std::vector<std::string>>& rows, std::size_t column, std::string_view mark);
/// The last `sums` rows are sums of those above.
nlohmann::json table_block(const std::string& caption, const std::vector<TableColumn>& columns,
                           const std::vector<std::vector<std::string>>& rows, std::size_t sums = 0);

/// The model as one HTML page that needs nothing else: its own style sheet, rules for print, no script.
/// `paper` is "a4" or "letter".
std::string record_html(const nlohmann::json& model, const std::string& language, const std::string& paper);

}  // namespace coldwright::service

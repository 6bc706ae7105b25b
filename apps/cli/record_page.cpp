#include "record_page.hpp"

#include "files.hpp"
#include "layout.hpp"
#include "print/record.hpp"

namespace coldwright::cli {
namespace {

using nlohmann::json;

std::vector<std::string> texts(const json& list) {
  std::vector<std::string> out;
  for (const json& text : list) out.push_back(text.is_string() ? text.get<std::string>() : "");
  return out;
}

print::Pairs pairs_of(const json& list, const char* value, bool verdicts) {
  print::Pairs out{{}, verdicts};
  for (const json& one : list)
    out.pairs.push_back({text_at(one, {"label"}), text_at(one, {value}), texts(list_at(one, "lines"))});
  return out;
}

print::Grid grid_of(const json& block) {
  print::Grid out{text_at(block, {"caption"}),
                  {},
                  {},
                  static_cast<std::size_t>(number_at(block, "sums")),
                  flag_at(block, "narrow")};
  for (const json& column : list_at(block, "columns"))
    out.columns.push_back(
        {text_at(column, {"label"}), text_at(column, {"align"}) == "right", number_at(column, "share")});
  for (const json& row : list_at(block, "rows")) out.rows.push_back(texts(row));
  return out;
}

print::Bars bars_of(const json& block) {
  print::Bars out{text_at(block, {"caption"}), {}};
  for (const json& bar : list_at(block, "bars"))
    out.bars.push_back({text_at(bar, {"label"}), text_at(bar, {"text"}), text_at(bar, {"words"}),
                        number_at(bar, "share"), flag_at(bar, "found")});
  return out;
}

print::Signatures signatures_of(const json& block) {
  print::Signatures out;
  for (const json& one : list_at(block, "signatures"))
    out.signatures.push_back({text_at(one, {"label"}), text_at(one, {"name"}), text_at(one, {"at"}),
                              text_at(one, {"path"}), number_at(one, "width"), number_at(one, "height")});
  return out;
}

std::optional<print::Block> block_of(const json& block) {
  const std::string kind = text_at(block, {"kind"}), words = text_at(block, {"text"});
  if (kind == "letterhead")
    return print::Letterhead{text_at(block, {"name"}), texts(list_at(block, "lines"))};
  if (kind == "heading") return print::Heading{static_cast<int>(number_at(block, "level")), words};
  if (kind == "paragraph" || kind == "small") return print::Paragraph{words, kind == "small"};
  if (kind == "facts") return pairs_of(list_at(block, "facts"), "value", false);
  if (kind == "verdicts") return pairs_of(list_at(block, "verdicts"), "text", true);
  if (kind == "list" || kind == "cautions")
    return print::Items{texts(list_at(block, "items")), kind == "cautions"};
  if (kind == "table") return grid_of(block);
  if (kind == "bars") return bars_of(block);
  if (kind == "signatures") return signatures_of(block);
  if (kind == "figure")
    return print::Figure{text_at(block, {"svg"}), text_at(block, {"caption"}), number_at(block, "width"),
                         number_at(block, "height")};
  return std::nullopt;
}

Result<std::string> record_pdf(const json& answer, std::int64_t now) {
  const auto model = answer.find("model"), data = answer.find("data");
  if (model == answer.end() || data == answer.end())
    return Problem{"record", "an answer without a model", "the core's own answer", ""};
  print::Record record{
      text_at(*model, {"title"}), text_at(*data, {"shop", "name"}), text_at(*model, {"foot"}), {}, now};
  for (const json& block : list_at(*model, "blocks"))
    if (auto one = block_of(block)) record.blocks.push_back(std::move(*one));
  const bool letter = text_at(answer, {"paper"}) == "letter";
  return print::record_pdf(record, letter ? print::Paper::letter : print::Paper::a4);
}

}  // namespace

Result<std::string> record_file(const json& answer, const std::string& format, std::int64_t now) {
  if (format == "html") return text_at(answer, {"html"});
  if (format == "csv") return text_at(answer, {"csv"});
  if (format == "json") {
    const auto data = answer.find("data");
    if (data == answer.end())
      return Problem{"record", "an answer without facts", "the core's own answer", ""};
    return data->dump(2, ' ', false, json::error_handler_t::replace) + "\n";
  }
  return record_pdf(answer, now);
}

Result<json> read_shop(const std::string& path) {
  const auto text = read_call_file(path);
  if (!text) return text.problem();
  json shop = json::parse(*text, nullptr, false);
  if (shop.is_discarded())
    return Problem{"shop", path, "a JSON file with name, address, phone and licence", "it isn't JSON"};
  return shop;
}

}  // namespace coldwright::cli

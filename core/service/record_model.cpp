// The record's page: its head, its sections in order, its foot.
#include "service/record_model.hpp"

#include <algorithm>

#include "calls/strict_json.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

class Facts {
 public:
  void add(const std::string& label, const std::string& value) {
    if (!value.empty()) facts_.push_back({{"label", label}, {"value", value}});
  }
  void into(json& blocks) const {
    if (!facts_.empty()) blocks.push_back({{"kind", "facts"}, {"facts", facts_}});
  }

 private:
  json facts_ = json::array();
};

void letterhead(json& blocks, const json& data, const Wording& wording) {
  const json& shop = object_in(data, "shop");
  if (shop.empty()) return;
  json lines = json::array();
  if (const std::string address = text_in(shop, "address"); !address.empty()) lines.push_back(address);
  std::string last;
  for (const char* key : {"phone", "licence"})
    if (const std::string text = text_in(shop, key); !text.empty())
      last += (last.empty() ? "" : " · ") + wording.phrase("record", key, {{"text", text}});
  if (!last.empty()) lines.push_back(last);
  blocks.push_back({{"kind", "letterhead"}, {"name", text_in(shop, "name")}, {"lines", lines}});
}

std::string refrigerant_text(const json& unit, const Wording& wording) {
  const std::string name = text_in(unit, "refrigerant"), known = text_in(unit, "safety_class");
  if (name.empty() || known.empty()) return name;
  return wording.phrase("record", "class", {{"refrigerant", name}, {"class", known}});
}

std::string conditions(const json& unit, const Wording& wording) {
  const std::string ambient = text_in(object_in(unit, "ambient"), "text"),
                    box = text_in(object_in(unit, "box"), "text");
  const char* key = ambient.empty() ? "box_only" : box.empty() ? "ambient_only" : "ambient_box";
  if (ambient.empty() && box.empty()) return "";
  return wording.phrase("record", key, {{"ambient", ambient}, {"box", box}});
}

void machine(json& blocks, const json& data, const Wording& wording) {
  const json &unit = object_in(data, "unit"), &call = object_in(data, "call");
  const auto word = [&](const char* key) { return wording.word("record", key); };
  Facts facts;
  facts.add(word("machine"), text_in(call, "name"));
  facts.add(word("kind"), text_in(unit, "cabinet_label"));
  for (const char* key : {"maker", "model", "serial"}) facts.add(word(key), text_in(unit, key));
  facts.add(word("refrigerant"), refrigerant_text(unit, wording));
  facts.add(word("charge"), text_in(object_in(unit, "charge"), "text"));
  facts.add(word("set_point"), text_in(object_in(unit, "set_point"), "text"));
  const std::string from = text_in(call, "from"), to = text_in(call, "to");
  if (!from.empty()) {
    const std::string start = shown_time(from), end = shown_time(to, from);
    facts.add(word("visit"), from.substr(0, 16) == to.substr(0, 16)
                                 ? start
                                 : wording.phrase("record", "visit_span", {{"from", start}, {"to", end}}));
  }
  std::vector<std::string> people;
  for (const json& signature : list_in(data, "signatures"))
    if (text_in(signature, "role") == "technician") people.push_back(text_in(signature, "name"));
  if (people.empty())
    for (const json& person : list_in(call, "people"))
      if (person.is_string()) people.push_back(person.get<std::string>());
  facts.add(word("technician"), wording.listed(people, "and"));
  for (const json& signature : list_in(data, "signatures"))
    if (text_in(signature, "role") == "customer") facts.add(word("customer"), text_in(signature, "name"));
  facts.add(word("conditions"), conditions(unit, wording));
  facts.into(blocks);
}

void cautions(json& blocks, const json& data, const RecordSource& source) {
  const Wording& wording = source.wording;
  const std::string name = text_in(object_in(data, "unit"), "refrigerant");
  const std::string known = text_in(object_in(data, "unit"), "safety_class");
  json items = json::array();
  if (name.empty() || known.empty())
    items.push_back(wording.word("record", "caution_unknown"));
  else if (!known.ends_with('1'))
    items.push_back(wording.phrase("record", "caution_a2", {{"refrigerant", name}}));
  items.push_back(wording.word("record", "caution_smell"));
  items.push_back(wording.word("record", "caution_closed"));
  blocks.push_back(heading_block(2, wording.word("record", "cautions")));
  blocks.push_back({{"kind", "cautions"}, {"items", items}});
}

/// A drawn name, or a line to sign on: the technician's and the customer's side by side.
void signatures(json& blocks, const json& data, const Wording& wording) {
  json out = json::array();
  for (const char* role : {"technician", "customer"}) {
    bool any = false;
    for (const json& signature : list_in(data, "signatures")) {
      if (text_in(signature, "role") != role) continue;
      any = true;
      out.push_back({{"role", role},
                     {"label", wording.word("record", role)},
                     {"name", text_in(signature, "name")},
                     {"at", shown_time(text_in(signature, "at"))},
                     {"path", text_in(signature, "path")},
                     {"width", number_in(signature, "width").value_or(0)},
                     {"height", number_in(signature, "height").value_or(0)}});
    }
    if (!any)
      out.push_back({{"role", role},
                     {"label", wording.word("record", role)},
                     {"name", wording.word("record", "sign_here")},
                     {"at", ""},
                     {"path", ""},
                     {"width", 0},
                     {"height", 0}});
  }
  blocks.push_back(heading_block(2, wording.word("record", "signatures")));
  blocks.push_back({{"kind", "signatures"}, {"signatures", out}});
}

/// "Churchill (1977)" of a citation: enough for a customer, the shop's copy has the whole.
std::string short_citation(const std::string& whole) {
  const std::size_t year = whole.find("), ");
  return year == std::string::npos ? whole : whole.substr(0, year + 1);
}

void small_print(json& blocks, const json& data, const Wording& wording, bool shop) {
  const json& about = object_in(data, "about");
  std::string text = wording.word("record", "small_sure") + " " + wording.word("record", "small_defer");
  const std::string from = text_in(object_in(data, "call"), "from");
  if (from.size() > 19) {
    const std::string zone = from.substr(19) == "Z" ? "" : from.substr(19);
    text += " " + wording.phrase("record", "small_zone", {{"zone", zone}});
  }
  std::string works;
  for (const json& work : list_in(about, "references"))
    works += (works.empty() ? "" : "; ") +
             (shop ? text_in(work, "citation") : short_citation(text_in(work, "citation")));
  if (!works.empty()) text += " " + wording.phrase("record", "small_sources", {{"list", works}});
  text += " " + wording.phrase("record", "small_program",
                               {{"version", text_in(about, "version")},
                                {"data", text_in(about, "data")},
                                {"made", text_in(data, "made").substr(0, 10)}});
  blocks.push_back({{"kind", "small"}, {"text", text}});
}

/// Fit for XML and for a page: control characters become blanks, line ends stay.
void clean(json& value) {
  if (value.is_structured()) {
    for (json& inner : value) clean(inner);
    return;
  }
  auto* text = value.get_ptr<std::string*>();
  if (text == nullptr) return;
  for (char& c : *text)
    if ((static_cast<unsigned char>(c) < 0x20 && c != '\n') || c == 0x7F) c = ' ';
  // Not characters at all, and no XML may hold them.
  for (const std::string_view never : {"\xEF\xBF\xBE", "\xEF\xBF\xBF"})
    for (std::size_t at = text->find(never); at != std::string::npos; at = text->find(never, at))
      text->replace(at, never.size(), "\xEF\xBF\xBD");
}

}  // namespace

json heading_block(int level, const std::string& text) {
  return {{"kind", "heading"}, {"level", level}, {"text", text}};
}

json paragraph_block(const std::string& text) { return {{"kind", "paragraph"}, {"text", text}}; }

json list_block(const std::vector<std::string>& items) { return {{"kind", "list"}, {"items", items}}; }

void align_decimals(std::vector<std::vector<std::string>>& rows, std::size_t column, std::string_view mark) {
  const auto fraction = [&](const std::string& text) {
    const std::size_t at = text.find(mark);
    return at == std::string::npos ? std::size_t{0} : text.size() - at - mark.size();
  };
  std::size_t most = 0;
  for (const auto& row : rows) most = std::max(most, fraction(row[column]));
  for (auto& row : rows) {
    const std::size_t own = fraction(row[column]);
    if (own == most || row[column].empty()) continue;
    if (own == 0) row[column] += "\u2008";                             // as wide as the mark
    for (std::size_t i = own; i < most; ++i) row[column] += "\u2007";  // as wide as a digit
  }
}

json table_block(const std::string& caption, const std::vector<TableColumn>& columns,
                 const std::vector<std::vector<std::string>>& rows, std::size_t sums) {
  json heads = json::array();
  for (const TableColumn& column : columns)
    heads.push_back({{"label", column.label}, {"align", column.align}, {"share", column.share}});
  return {{"kind", "table"}, {"caption", caption}, {"columns", heads},
          {"rows", rows},    {"sums", sums},       {"narrow", false}};
}

json record_model(const json& data, const RecordSource& source, const RecordPage& page) {
  const Wording& wording = source.wording;
  json blocks = json::array();
  const std::string title = wording.word("record", page.shop ? "title_shop" : "title");
  const std::string name = text_in(object_in(data, "call"), "name");
  letterhead(blocks, data, wording);
  blocks.push_back(heading_block(1, title));
  machine(blocks, data, wording);
  found_blocks(blocks, data, wording, page.shop);
  done_blocks(blocks, data, wording, page.shop);
  proved_blocks(blocks, data, source, page.shop);
  food_blocks(blocks, data, wording);
  std::vector<std::string> watch;
  for (const json& one : list_in(data, "watch")) watch.push_back(text_in(one, "text"));
  blocks.push_back(heading_block(2, wording.word("record", "watch")));
  blocks.push_back(watch.empty() ? paragraph_block(wording.word("record", "nothing_to_watch"))
                                 : list_block(watch));
  cautions(blocks, data, source);
  signatures(blocks, data, wording);
  if (page.shop) shop_blocks(blocks, data, source, page);
  small_print(blocks, data, wording, page.shop);
  const std::string shown = name.empty() ? wording.word("record", "unnamed") : name;
  json model = {{"title", title + ": " + shown},
                {"foot", wording.phrase("record", "page",
                                        {{"title", shown}, {"page", "{page}"}, {"pages", "{pages}"}})},
                {"blocks", std::move(blocks)}};
  clean(model);
  return model;
}

}  // namespace coldwright::service

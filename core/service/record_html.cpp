// The record as one HTML page. Everything that came from outside passes through escaped(); the only markup
// put in as it is are the pictures of our own drawing.
#include <fmt/format.h>

#include <cmath>

#include "drawing/svg.hpp"
#include "service/record_model.hpp"

namespace coldwright::service {
namespace {

using drawing::escaped;
using nlohmann::json;

constexpr std::string_view kStyle = R"(
*{box-sizing:border-box}
html{color-scheme:light}
body{margin:0 auto;max-width:46rem;padding:1.5rem;background:#fff;color:#1a2629;
 font:15px/1.45 "Noto Sans","DejaVu Sans",system-ui,sans-serif;overflow-wrap:anywhere}
h1{font-size:1.7em;line-height:1.2;margin:.2em 0 .5em}
h2{font-size:1.15em;margin:1.5em 0 .4em;padding-top:.45em;border-top:2px solid #0b6a6f;break-after:avoid}
h3{font-size:1em;margin:1em 0 .3em;break-after:avoid}
p{margin:.35em 0;white-space:pre-line;orphans:2;widows:2}
ul{margin:.35em 0;padding-left:1.2em}li{margin:.15em 0;white-space:pre-line}
header{margin-bottom:1em;color:#5c666d}header strong{display:block;color:#1a2629;font-size:1.1em}
dl{display:grid;grid-template-columns:max-content 1fr;gap:.15em 1.2em;margin:.5em 0}
dt{color:#5c666d}dd{margin:0;font-weight:600}
.verdicts dt{font-weight:600;color:#1a2629}.verdicts dd{font-weight:400}
.table{overflow-x:auto;margin:.6em 0}
table{border-collapse:collapse;width:100%;font-size:.9em;font-variant-numeric:tabular-nums}
caption{text-align:left;font-weight:600;padding:.2em 0}
th{text-align:left;font-weight:600;color:#5c666d;border-bottom:1px solid #8b9599;vertical-align:bottom}
th,td{padding:.22em .8em .22em 0}th:last-child,td:last-child{padding-right:0}
td{border-bottom:1px solid #dfe3e4;vertical-align:top;white-space:pre-line}
.narrow{max-width:32em}
.right{text-align:right}tr.sum td{font-weight:600;border-bottom:0}tr.sum.first td{border-top:1px solid #8b9599}
tr,figure,.bar,.signatures{break-inside:avoid}
figure{margin:.8em 0}figure svg{max-width:100%;height:auto}figcaption{color:#5c666d;font-size:.9em}
.bars{margin:.6em 0}.bars p{color:#5c666d;font-size:.9em}
.bar{display:grid;grid-template-columns:13em 1fr 4em 9em;gap:.8em;align-items:center;margin:.25em 0}
.bar svg{width:100%;height:.8em;display:block}.bar b{text-align:right;font-variant-numeric:tabular-nums}
.bar i{font-style:normal;color:#5c666d}
.cautions{list-style:none;padding:.5em .8em;border:1.5px solid #a3521a}
.signatures{display:grid;grid-template-columns:1fr 1fr;gap:2em;margin-top:.8em}
.signatures div{min-height:6em;display:flex;flex-direction:column;justify-content:flex-end}
.signatures svg{height:4em;max-width:100%;align-self:flex-start}
.signatures p{border-top:1px solid #1a2629;padding-top:.2em;margin:0;font-size:.9em}
small{display:block;color:#5c666d;font-size:.75em;line-height:1.4;margin-top:1em}
@media (max-width:34rem){dl,.bar{grid-template-columns:1fr}.bar{gap:.1em}.bar b{text-align:left}}
@media print{body{max-width:none;padding:0;font-size:9.5pt}
 dl:not(.verdicts){grid-template-columns:max-content 1fr max-content 1fr}}
)";

std::string text_of(const json& block) { return escaped(text_in(block, "text")); }

std::string class_of(const json& column) {
  return text_in(column, "align") == "right" ? " class=\"right\"" : "";
}

std::string table_html(const json& block) {
  const json &columns = list_in(block, "columns"), &rows = list_in(block, "rows");
  const auto sums = static_cast<std::size_t>(number_in(block, "sums").value_or(0));
  std::string out =
      flag_in(block, "narrow") ? "<div class=\"table narrow\"><table>" : "<div class=\"table\"><table>";
  if (const std::string caption = text_in(block, "caption"); !caption.empty())
    out += "<caption>" + escaped(caption) + "</caption>";
  double whole = 0;
  for (const json& column : columns) whole += number_in(column, "share").value_or(1);
  out += "<colgroup>";
  for (const json& column : columns)
    out +=
        fmt::format("<col style=\"width:{:.1f}%\"/>", 100 * number_in(column, "share").value_or(1) / whole);
  out += "</colgroup><thead><tr>";
  for (const json& column : columns)
    out += "<th scope=\"col\"" + class_of(column) + ">" + escaped(text_in(column, "label")) + "</th>";
  out += "</tr></thead>\n<tbody>";
  for (std::size_t r = 0; r < rows.size(); ++r) {
    const bool sum = r + sums >= rows.size();
    out += sum ? r + sums == rows.size() ? "<tr class=\"sum first\">" : "<tr class=\"sum\">" : "<tr>";
    for (std::size_t c = 0; c < rows[r].size() && c < columns.size(); ++c) {
      const auto* text = rows[r][c].get_ptr<const std::string*>();
      out += "<td" + class_of(columns[c]) + ">" + escaped(text == nullptr ? "" : *text) + "</td>";
    }
    out += "</tr>\n";
  }
  return out + "</tbody></table></div>\n";
}

std::string facts_html(const json& block) {
  std::string out = "<dl>";
  for (const json& fact : list_in(block, "facts"))
    out +=
        "<dt>" + escaped(text_in(fact, "label")) + "</dt><dd>" + escaped(text_in(fact, "value")) + "</dd>\n";
  return out + "</dl>\n";
}

std::string items_html(const json& block, const char* open, const char* close) {
  std::string out = open;
  for (const json& item : list_in(block, "items"))
    if (const auto* text = item.get_ptr<const std::string*>()) out += "<li>" + escaped(*text) + "</li>\n";
  return out + close;
}

std::string verdicts_html(const json& block) {
  std::string out = "<dl class=\"verdicts\">";
  for (const json& verdict : list_in(block, "verdicts")) {
    out += "<dt>" + escaped(text_in(verdict, "label")) + "</dt><dd>" + text_of(verdict);
    for (const json& line : list_in(verdict, "lines"))
      if (const auto* text = line.get_ptr<const std::string*>()) out += "<p>" + escaped(*text) + "</p>";
    out += "</dd>\n";
  }
  return out + "</dl>\n";
}

std::string bars_html(const json& block) {
  std::string out = "<div class=\"bars\"><p>" + escaped(text_in(block, "caption")) + "</p>\n";
  for (const json& bar : list_in(block, "bars")) {
    const double width = 200 * number_in(bar, "share").value_or(0);
    const char* fill = flag_in(bar, "found") ? "#0b6a6f" : "#8fb5b3";
    out += "<div class=\"bar\"><span>" + escaped(text_in(bar, "label")) + "</span>";
    out += fmt::format(
        "<svg viewBox=\"0 0 200 8\" preserveAspectRatio=\"none\" aria-hidden=\"true\"><rect width=\"200\" "
        "height=\"8\" fill=\"#eceff0\"/><rect width=\"{:.2f}\" height=\"8\" fill=\"{}\"/></svg>",
        width, fill);
    out += "<b>" + text_of(bar) + "</b><i>" + escaped(text_in(bar, "words")) + "</i></div>\n";
  }
  return out + "</div>\n";
}

std::string signatures_html(const json& block) {
  std::string out = "<div class=\"signatures\">";
  for (const json& one : list_in(block, "signatures")) {
    out += "<div>";
    const double width = number_in(one, "width").value_or(0), height = number_in(one, "height").value_or(0);
    if (const std::string path = text_in(one, "path"); !path.empty() && width > 0 && height > 0)
      out += fmt::format(
          "<svg viewBox=\"0 0 {:.4g} {:.4g}\" aria-hidden=\"true\"><path d=\"{}\" fill=\"none\" "
          "stroke=\"#1a2629\" stroke-width=\"{:.4g}\" stroke-linecap=\"round\" "
          "stroke-linejoin=\"round\"/></svg>",
          width, height, escaped(path), height / 45);
    const std::string at = text_in(one, "at");
    out += "<p>" + escaped(text_in(one, "label")) + ": " + escaped(text_in(one, "name")) +
           (at.empty() ? "" : ", " + escaped(at)) + "</p></div>\n";
  }
  return out + "</div>\n";
}

std::string block_html(const json& block) {
  const std::string kind = text_in(block, "kind");
  if (kind == "letterhead") {
    std::string out = "<header><strong>" + escaped(text_in(block, "name")) + "</strong>";
    for (const json& line : list_in(block, "lines"))
      if (const auto* text = line.get_ptr<const std::string*>()) out += escaped(*text) + "<br/>";
    return out + "</header>\n";
  }
  if (kind == "heading") {
    const std::string level = fmt::format("{:.0f}", number_in(block, "level").value_or(2));
    return "<h" + level + ">" + text_of(block) + "</h" + level + ">\n";
  }
  if (kind == "paragraph") return "<p>" + text_of(block) + "</p>\n";
  if (kind == "small") return "<small>" + text_of(block) + "</small>\n";
  if (kind == "facts") return facts_html(block);
  if (kind == "list") return items_html(block, "<ul>", "</ul>\n");
  if (kind == "cautions") return items_html(block, "<ul class=\"cautions\">", "</ul>\n");
  if (kind == "table") return table_html(block);
  if (kind == "bars") return bars_html(block);
  if (kind == "verdicts") return verdicts_html(block);
  if (kind == "signatures") return signatures_html(block);
  if (kind == "figure")
    return "<figure>" + text_in(block, "svg") + "<figcaption>" + escaped(text_in(block, "caption")) +
           "</figcaption></figure>\n";
  return "";
}

}  // namespace

std::string record_html(const json& model, const std::string& language, const std::string& paper) {
  std::string out =
      "<!doctype html>\n<html lang=\"" + escaped(language) +
      "\"><head><meta charset=\"utf-8\"/>\n<meta name=\"viewport\" "
      "content=\"width=device-width, initial-scale=1\"/>\n<meta http-equiv=\"Content-Security-Policy\" "
      "content=\"default-src 'none'; style-src 'unsafe-inline'\"/>\n<title>" +
      escaped(text_in(model, "title")) + "</title>\n<style>";
  out += kStyle;
  out += std::string("@page{size:") + (paper == "letter" ? "letter" : "A4") +
         ";margin:16mm 17mm}\n</style></head>\n<body>\n";
  for (const json& block : list_in(model, "blocks")) out += block_html(block);
  return out + "</body></html>\n";
}

}  // namespace coldwright::service

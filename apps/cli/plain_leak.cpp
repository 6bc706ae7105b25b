// The answer of "leak": the composition as sold, left and topped up, with the pressures it gives.
#include "plain.hpp"

namespace coldwright::cli {
namespace {

using nlohmann::json;

std::string shares(const json& composition) {
  std::string names, parts;
  for (const json& row : composition) {
    names += (names.empty() ? "" : "/") + text_at(row, {"designation"});
    parts += (parts.empty() ? "" : "/") + text_at(row, {"share", "text"});
  }
  return parts;
}

std::string names(const json& composition) {
  std::string out;
  for (const json& row : composition) out += (out.empty() ? "" : "/") + text_at(row, {"designation"});
  return out;
}

}  // namespace

std::string plain_leak(const json& answer) {
  Page page;
  const auto sold = answer.find("as_sold");
  if (sold == answer.end()) return "";
  page.paragraph(text_at(answer, {"refrigerant"}) + " (" + names((*sold)["composition"]) + ") at " +
                     text_at(answer, {"temperature", "text"}) + ": " + text_at(answer, {"lost", "text"}) +
                     " of the charge has left as " + text_at(answer, {"from"}) + ", slowly, from a system " +
                     text_at(answer, {"liquid_at_start", "text"}) + " full of liquid; gauges read against " +
                     text_at(answer, {"site_pressure", "text"}),
                 "");
  std::vector<std::vector<std::string>> rows = {{"", "share of the mass", "bubble", "dew"}};
  for (const auto& [key, label] :
       {std::pair{"as_sold", "as sold"}, std::pair{"left", "left"}, std::pair{"topped_up", "topped up"}}) {
    const json& side = answer.at(key);
    rows.push_back({label, shares(side.at("composition")), text_at(side, {"bubble_pressure", "text"}),
                    text_at(side, {"dew_pressure", "text"})});
  }
  page.table(rows);
  page.heading("On the way");
  rows = {{"lost", "pressure", "left", "leaving"}};
  const json& steps = answer.at("steps");
  for (std::size_t i = 0; i < steps.size(); i += 4)
    rows.push_back({text_at(steps[i], {"lost", "text"}), text_at(steps[i], {"pressure", "text"}),
                    shares(steps[i].at("left")), shares(steps[i].at("leaving"))});
  page.table(rows);
  for (const json& caution : list_at(answer, "cautions")) page.paragraph(text_at(caution, {"text"}), "  ! ");
  references(page, answer);
  return page.text();
}

}  // namespace coldwright::cli

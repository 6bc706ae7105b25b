// The parts that every answer about a call shares: whose call, what was assumed, cautions, trust, sources.
#include <cmath>

#include "plain.hpp"

namespace coldwright::cli {

using nlohmann::json;

void call_heading(Page& page, const json& answer) {
  const std::string name = text_at(answer, {"call", "name"});
  if (!name.empty()) page.paragraph(name, "");
  std::string about =
      text_at(answer, {"call", "cabinet_label"}) + ", " + text_at(answer, {"call", "refrigerant"});
  const std::string safety = text_at(answer, {"call", "safety_class"});
  if (!safety.empty()) about += " (" + safety + ")";
  const std::string charge = text_at(answer, {"call", "charge", "text"});
  if (!charge.empty()) about += ", " + charge + " on the plate";
  const std::string ambient = text_at(answer, {"call", "ambient", "text"}),
                    box = text_at(answer, {"call", "box", "text"});
  if (!ambient.empty()) about += ", ambient " + ambient;
  if (!box.empty()) about += ", box " + box;
  page.paragraph(about + ", local air " + text_at(answer, {"call", "site_pressure", "text"}), "");
}

void remarks(Page& page, const json& answer) {
  for (const json& remark : list_at(answer, "remarks")) page.paragraph(text_at(remark, {"text"}), "  Note: ");
}

void cautions(Page& page, const json& answer) {
  if (list_at(answer, "cautions").empty()) return;
  page.heading("Before a hand goes near it");
  for (const json& caution : list_at(answer, "cautions")) page.paragraph(text_at(caution, {"text"}), "  ! ");
}

void how_sure(Page& page, const json& answer) {
  const auto found = answer.find("quality");
  if (found == answer.end() || !found->is_object()) return;
  const json& quality = *found;
  page.heading("How far to trust this");
  const auto whole = [&](const char* key) { return std::to_string(std::lround(number_at(quality, key))); };
  std::string text = "Reckoned from " + whole("solves") + " machines";
  if (number_at(quality, "unsolved") > 0) text += ", of them " + whole("unsolved") + " without an answer";
  if (answer.contains("causes")) {
    text += "; " + whole("effective_sample_size") +
            " of them still count after the readings (effective sample size), " +
            whole("smallest_effective_size") + " for the thinnest cause";
  }
  text += ".";
  page.paragraph(text);
  if (!flag_at(quality, "trustworthy"))
    page.paragraph("Too few count: take the order of causes, not the percentages.");
  for (const json& remark : list_at(quality, "remarks")) page.paragraph(text_at(remark, {"text"}));
}

void references(Page& page, const json& answer) {
  const auto about = answer.find("about");
  if (about == answer.end()) return;
  page.heading("Sources");
  for (const json& reference : list_at(*about, "references"))
    page.paragraph(text_at(reference, {"citation"}), "  - ");
  std::string line = "coldwright " + text_at(*about, {"version"}) + ", data " + text_at(*about, {"data"});
  if (about->contains("seed")) line += ", seed " + std::to_string(std::llround(number_at(*about, "seed")));
  page.paragraph(line);
}

}  // namespace coldwright::cli

// Answers about a refrigerant alone, and the list of words for a call file.
#include <array>

#include "plain.hpp"

namespace coldwright::cli {
namespace {

using nlohmann::json;

void refrigerant_heading(Page& page, const json& answer, std::string_view what) {
  std::string line = text_at(answer, {"refrigerant"});
  const std::string safety = text_at(answer, {"safety_class"});
  if (!safety.empty()) line += " (" + safety + ")";
  line.append(", ")
      .append(what)
      .append("; gauges read against ")
      .append(text_at(answer, {"site_pressure", "text"}));
  page.paragraph(line, "");
}

void caution_lines(Page& page, const json& answer) {
  for (const json& caution : list_at(answer, "cautions")) page.paragraph(text_at(caution, {"text"}), "  ! ");
}

constexpr std::array<std::pair<std::string_view, std::string_view>, 20> kStateRows = {{
    {"temperature", "temperature"},
    {"pressure", "pressure"},
    {"pressure_absolute", "absolute"},
    {"saturation_temperature", "saturation temperature"},
    {"bubble_temperature", "bubble point at this pressure"},
    {"dew_temperature", "dew point at this pressure"},
    {"glide", "glide"},
    {"superheat", "superheat"},
    {"subcooling", "subcooling"},
    {"quality", "vapour share"},
    {"density", "density"},
    {"enthalpy", "enthalpy"},
    {"entropy", "entropy"},
    {"internal_energy", "internal energy"},
    {"cp", "cp"},
    {"cv", "cv"},
    {"speed_of_sound", "speed of sound"},
    {"viscosity", "viscosity"},
    {"conductivity", "conductivity"},
    {"", ""},
}};

/// Of a blend what was given stands once, what answers it twice: at the bubble and at the dew point.
std::vector<std::vector<std::string>> saturation_rows(const json& answer) {
  std::vector<std::vector<std::string>> rows;
  for (const json& row : list_at(answer, "rows")) {
    const bool blend = !row.contains("temperature");
    if (rows.empty() && blend)
      rows.push_back({"given", "", "temperature", "pressure", "absolute", "glide"});
    else if (rows.empty())
      rows.push_back({"given", "temperature", "pressure", "absolute", "latent heat"});
    if (!blend) {
      rows.push_back({text_at(row, {"given"}), text_at(row, {"temperature", "text"}),
                      text_at(row, {"pressure", "text"}), text_at(row, {"pressure_absolute", "text"}),
                      text_at(row, {"latent_heat", "text"})});
      continue;
    }
    for (const auto& [side, word] : {std::pair{"liquid", "bubble"}, std::pair{"vapour", "dew"}})
      rows.push_back({side[0] == 'l' ? text_at(row, {"given"}) : "", word,
                      text_at(row, {side, "temperature", "text"}), text_at(row, {side, "pressure", "text"}),
                      text_at(row, {side, "pressure_absolute", "text"}),
                      side[0] == 'l' ? text_at(row, {"glide", "text"}) : ""});
  }
  return rows;
}

}  // namespace

std::string plain_saturation(const json& answer) {
  Page page;
  refrigerant_heading(page, answer, "saturation");
  page.table(saturation_rows(answer));
  caution_lines(page, answer);
  references(page, answer);
  return page.text();
}

std::string plain_state(const json& answer) {
  Page page;
  const auto found = answer.find("state");
  if (found == answer.end()) return "";
  refrigerant_heading(page, answer, text_at(*found, {"phase_text"}));
  std::vector<std::vector<std::string>> rows;
  for (const auto& [key, label] : kStateRows)
    if (std::string text = text_at(*found, {key, "text"}); !text.empty()) {
      const std::string within = text_at(*found, {std::string(key) + "_uncertainty", "text"});
      if (!within.empty()) text += " within " + within;
      rows.push_back({std::string(label), text});
    }
  page.table(rows);
  caution_lines(page, answer);
  references(page, answer);
  return page.text();
}

std::string plain_words(const json& answer) {
  Page page;
  const auto found = answer.find("words");
  if (found == answer.end()) return "";
  page.paragraph(
      "Words a call file may use. The format: docs/formats/call-file.md; a file to fill in: coldwright "
      "example",
      "");
  page.heading("Refrigerants");
  std::string names;
  for (const json& name : list_at(*found, "refrigerants"))
    names += (names.empty() ? "" : ", ") + name.get<std::string>();
  page.paragraph(names);
  page.heading("Kinds of cabinet (nameplate, \"cabinet\")");
  std::vector<std::vector<std::string>> rows;
  for (const json& row : list_at(*found, "cabinets"))
    rows.push_back({text_at(row, {"word"}), text_at(row, {"refrigerant"}), text_at(row, {"label"})});
  page.table(rows);
  page.heading("Observations (\"subject\" and \"value\")");
  rows.clear();
  for (const json& row : list_at(*found, "observations")) {
    std::string values;
    for (const json& value : list_at(row, "values"))
      values += (values.empty() ? "" : ", ") + value.get<std::string>();
    rows.push_back({text_at(row, {"word"}), values});
  }
  page.table(rows);
  page.heading("Readings (\"what\" and \"value\")");
  rows.clear();
  for (const json& row : list_at(*found, "readings"))
    rows.push_back(
        {text_at(row, {"word"}), text_at(row, {"place"}) + " (" + text_at(row, {"written_as"}) + ")"});
  page.table(rows);
  return page.text();
}

}  // namespace coldwright::cli

// A refrigerant's sheet and the list of all of them. What is recalled says so beside the value.
#include "plain.hpp"

namespace coldwright::cli {
namespace {

using nlohmann::json;
using Rows = std::vector<std::vector<std::string>>;

/// "[key, place]" for the sources at the foot.
std::string cited(const json& row, const char* key = "cited") {
  const std::string source = text_at(row, {key});
  return source.empty() ? "" : "[" + source + "]";
}

std::string tolerance(const json& part) {
  const std::string plus = text_at(part, {"tolerance_plus", "text"}),
                    minus = text_at(part, {"tolerance_minus", "text"});
  if (plus.empty() && minus.empty()) return "";
  if (plus == minus) return "± " + plus;
  const auto side = [](const char* sign, const std::string& text) {
    return sign + (text.empty() ? std::string("?") : text);
  };
  return side("+", plus) + ", " + side("-", minus);
}

void heading(Page& page, const json& answer) {
  std::string line = text_at(answer, {"designation"});
  const std::string name = text_at(answer, {"name"}), cas = text_at(answer, {"cas"}),
                    same = text_at(answer, {"same_as"});
  if (!name.empty()) line += ", " + name;
  if (!cas.empty()) line += ", CAS " + cas;
  if (text_at(answer, {"kind"}) == "blend") line += ", a blend";
  if (text_at(answer, {"kind"}) == "composition")
    line += same.empty() ? ": no designation of the catalogue" : ": this is " + same;
  page.paragraph(line, "");
  const std::string note = text_at(answer, {"note"});
  if (!note.empty()) page.paragraph(note, "  Note: ");
}

void composition(Page& page, const json& answer) {
  if (list_at(answer, "composition").size() < 2) return;
  page.heading("Composition, percent by mass");
  Rows rows;
  for (const json& part : list_at(answer, "composition"))
    rows.push_back({text_at(part, {"designation"}), text_at(part, {"mass_fraction", "text"}), tolerance(part),
                    text_at(part, {"name"})});
  page.table(rows);
  std::string sources = cited(answer, "composition_source");
  const std::string tolerances = cited(answer, "tolerance_source");
  if (!tolerances.empty()) sources += ", tolerances " + tolerances;
  if (!sources.empty()) page.paragraph(sources);
}

void safety(Page& page, const json& answer) {
  page.heading("Safety");
  Rows rows;
  const auto known = answer.find("safety_class");
  if (known != answer.end() && known->is_object())
    rows.push_back(
        {"class", text_at(*known, {"text"}) + "; " + text_at(*known, {"edition"}) + " " + cited(*known)});
  else
    rows.push_back({"class", "not known"});
  for (const json& limit : list_at(answer, "lower_flammability_limits")) {
    std::string text = text_at(limit, {"text"});
    const std::string share = text_at(limit, {"volume_fraction", "text"});
    if (!share.empty()) text += ", " + share + " of the air's volume";
    rows.push_back(
        {"lower flammability limit", text + "; " + text_at(limit, {"edition"}) + " " + cited(limit)});
  }
  page.table(rows);
}

void climate(Page& page, const json& answer) {
  page.heading("Climate and ozone");
  Rows rows;
  for (const json& row : list_at(answer, "warming")) {
    const std::string text = text_at(row, {"figure", "text"});
    rows.push_back({"GWP over " + std::to_string(static_cast<int>(number_at(row, "years"))) + " years, " +
                        text_at(row, {"report"}),
                    text.empty() ? "not known" : text + " " + cited(row["figure"])});
  }
  const std::string ozone = text_at(answer, {"ozone_depletion", "text"});
  rows.push_back({"ODP", ozone.empty() ? "not known" : ozone + " " + cited(answer["ozone_depletion"])});
  page.table(rows);
}

void service(Page& page, const json& answer) {
  page.heading("At work");
  Rows rows;
  std::string oils;
  for (const json& oil : list_at(answer, "oils"))
    oils += (oils.empty() ? "" : ", ") + text_at(oil, {"family"}) + " (" + text_at(oil, {"name"}) + ")";
  rows.push_back({"oils", oils.empty() ? "not known" : oils + " " + cited(answer, "oils_source")});
  const std::string equation = cited(answer, "equation");
  const std::string bubble = text_at(answer, {"normal_boiling_point", "bubble", "text"}),
                    dew = text_at(answer, {"normal_boiling_point", "dew", "text"}),
                    critical = text_at(answer, {"critical_point", "temperature", "text"});
  if (!bubble.empty())
    rows.push_back(
        {"normal boiling point", (bubble == dew ? bubble : bubble + " to " + dew) + " " + equation});
  if (!critical.empty())
    rows.push_back(
        {"critical point",
         critical + ", " + text_at(answer, {"critical_point", "pressure", "text"}) + " " + equation});
  page.table(rows);
}

void sources(Page& page, const json& answer) {
  const auto about = answer.find("about");
  if (about == answer.end()) return;
  page.heading("Sources");
  for (const json& reference : list_at(*about, "references"))
    page.paragraph(text_at(reference, {"key"}) + ": " + text_at(reference, {"citation"}), "  - ");
  page.paragraph("coldwright " + text_at(*about, {"version"}) + ", data " + text_at(*about, {"data"}));
}

/// "at least 144" is "144+", what is recalled "144*", what lies below one "<1".
std::string short_figure(const json& row, const char* report) {
  const auto found = row.find("warming");
  if (found == row.end() || !found->contains(report) || !(*found)[report].is_object()) return "-";
  const json& figure = (*found)[report];
  const auto value = figure.find("value");
  const double si = value == figure.end() ? 0 : number_at(*value, "si");
  return (si > 0 && si < 1 ? "<1" : text_at(figure, {"value", "text"})) +
         (list_at(figure, "counted_as_zero").empty() ? "" : "+") + (flag_at(figure, "recalled") ? "*" : "");
}

}  // namespace

std::string plain_refrigerant(const json& answer) {
  Page page;
  heading(page, answer);
  for (const json& caution : list_at(answer, "cautions")) page.paragraph(text_at(caution, {"text"}), "  ! ");
  composition(page, answer);
  safety(page, answer);
  climate(page, answer);
  service(page, answer);
  sources(page, answer);
  return page.text();
}

std::string plain_refrigerants(const json& answer) {
  Page page;
  Rows rows = {{"", "class", "AR4", "AR5", "AR6", ""}};
  for (const json& row : list_at(answer, "refrigerants")) {
    const std::string safety = text_at(row, {"safety_class"});
    rows.push_back({text_at(row, {"designation"}),
                    safety.empty() ? "-" : safety + (flag_at(row, "safety_class_recalled") ? "*" : ""),
                    short_figure(row, "AR4"), short_figure(row, "AR5"), short_figure(row, "AR6"),
                    text_at(row, {"name"})});
  }
  page.table(rows, "");
  page.blank();
  page.paragraph(
      "Safety class, and warming potential over 100 years in three assessment reports. * from "
      "memory, wholly or in part: to be checked before it is relied on. + at least: a component "
      "has no figure there. - not known. One of them in full, with its sources: coldwright "
      "refrigerant R404A",
      "");
  return page.text();
}

}  // namespace coldwright::cli

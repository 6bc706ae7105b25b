// The SVG of "chart": well-formed, told in words too, free of what isn't a number, and its lines stand where
// the refrigerant's own saturation puts them.
#include <gtest/gtest.h>

#include <cctype>
#include <cmath>
#include <map>
#include <sstream>

#include "contract/program.hpp"
#include "contract/schema_check.hpp"
#include "service/refrigerant_loader.hpp"
#include "service/use_cases.hpp"

namespace coldwright::tests {
namespace {

using nlohmann::json;

bool has(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

json answer(const json& request) {
  const auto result = service::find_use_case("chart")->run(request.dump(), {});
  EXPECT_TRUE(result) << (result ? "" : to_text(result.problem()));
  return result ? json::parse(*result) : json::object();
}

std::string svg_of(const json& request) { return answer(request).value("svg", ""); }

struct Element {
  std::string tag;
  std::map<std::string, std::string> attributes;
};

/// A small reader of XML, as far as our drawings use it: "" when tags close in order, attributes are quoted
/// and no bare '<' or '&' stands in a text; else what is wrong. Fills `elements`.
std::string not_well_formed(const std::string& text, std::vector<Element>& elements) {
  std::vector<std::string> open;
  std::size_t at = 0;
  if (text.rfind("<?xml", 0) == 0) at = text.find("?>") + 2;
  while (at < text.size()) {
    if (text[at] == '&') {
      const std::size_t end = text.find(';', at);
      const std::string entity = text.substr(at, end == std::string::npos ? 0 : end - at + 1);
      if (entity != "&amp;" && entity != "&lt;" && entity != "&gt;" && entity != "&quot;") return "a bare &";
    }
    if (text[at] != '<') {
      ++at;
      continue;
    }
    const std::size_t end = text.find('>', at);
    if (end == std::string::npos) return "a tag without an end";
    std::string inside = text.substr(at + 1, end - at - 1);
    at = end + 1;
    if (inside[0] == '/') {
      if (open.empty() || open.back() != inside.substr(1)) return "closes " + inside;
      open.pop_back();
      continue;
    }
    const bool leaf = inside.back() == '/';
    if (leaf) inside.pop_back();
    Element element;
    std::size_t i = inside.find(' ');
    element.tag = inside.substr(0, i);
    while (i != std::string::npos && i + 1 < inside.size()) {
      const std::size_t equals = inside.find("=\"", i), close = inside.find('"', equals + 2);
      if (equals == std::string::npos || close == std::string::npos) return "an attribute of " + inside;
      const std::string name = inside.substr(i + 1, equals - i - 1),
                        value = inside.substr(equals + 2, close - equals - 2);
      if (value.find('<') != std::string::npos) return "a < in an attribute";
      if (!element.attributes.emplace(name, value).second) return name + " twice in " + element.tag;
      i = inside.find(' ', close);
    }
    elements.push_back(element);
    if (!leaf) open.push_back(element.tag);
  }
  return open.empty() ? "" : "never closes " + open.back();
}

std::vector<Element> elements_of(const std::string& svg) {
  std::vector<Element> elements;
  EXPECT_EQ(not_well_formed(svg, elements), "");
  return elements;
}

/// Back from the drawing to values, by the axes that each diagram carries.
struct Scale {
  double low, high, start, end;
  explicit Scale(const std::string& text) {
    std::istringstream in(text);
    in >> low >> high >> start >> end;
  }
  double value(double place) const { return low + (place - start) / (end - start) * (high - low); }
  double log_value(double place) const { return low * std::pow(high / low, (place - start) / (end - start)); }
};

struct Drawn {
  double x, p;
};

/// The points of the first path of this class inside the diagram of that name.
std::vector<Drawn> line_of(const std::vector<Element>& elements, const std::string& diagram,
                           const std::string& css) {
  const Element* inside = nullptr;
  for (const Element& element : elements) {
    const auto name = element.attributes.find("data-diagram");
    if (name != element.attributes.end()) inside = name->second == diagram ? &element : nullptr;
    if (inside == nullptr || element.tag != "path" || element.attributes.at("class") != css) continue;
    const Scale x(inside->attributes.at("data-x")), y(inside->attributes.at("data-y"));
    std::vector<Drawn> out;
    std::string d = element.attributes.at("d");
    for (char& c : d)
      if (c == 'M' || c == ',' || c == 'Z') c = ' ';
    std::istringstream in(d);
    for (double px = 0, py = 0; in >> px >> py;) out.push_back({x.value(px), y.log_value(py)});
    return out;
  }
  return {};
}

const json kCycle = {{"refrigerant", "R290"},
                     {"low", "41 psig"},
                     {"condensing", "105F"},
                     {"superheat", "9F"},
                     {"subcooling", "8F"},
                     {"efficiency", "70 %"},
                     {"points", {{{"name", "suction <1> & \"2\""}, {"p", "41 psig"}, {"t", "60F"}}}}};

const std::vector<json> kMany = {
    kCycle,
    {{"refrigerant", "R448A"}, {"evaporating", "-10C"}, {"condensing", "40C"}, {"superheat", "8K"}},
    {{"refrigerant", "R744"}, {"units", "metric"}},
    {{"refrigerant", "R718"}},
    {{"refrigerant", "R455A"}, {"diagram", "temperature"}},
    {{"refrigerant", "R600a"}, {"low", "-20 inHg"}, {"high", "70 psig"}, {"altitude", "8000ft"}},
    {{"refrigerant", "R32/R125/R134a 20/30/50"}, {"diagram", "enthalpy"}}};

TEST(Drawing, IsWellFormedAndSpeaksInWords) {
  for (const json& request : kMany) {
    const std::string svg = svg_of(request);
    const auto elements = elements_of(svg);
    ASSERT_FALSE(elements.empty());
    EXPECT_EQ(elements[0].tag, "svg");
    EXPECT_EQ(elements[0].attributes.at("role"), "img");
    EXPECT_EQ(elements[0].attributes.at("aria-labelledby"), "chart-title chart-desc");
    EXPECT_EQ(elements[1].tag, "title");
    EXPECT_EQ(elements[2].tag, "desc");
    EXPECT_TRUE(has(svg, "prefers-color-scheme:dark"));
    EXPECT_FALSE(has(svg, "no wording"));
  }
}

/// Numbers of attributes that place something: all finite, and none beyond the page but in clipped lines.
TEST(Drawing, CarriesNumbersAlone) {
  for (const json& request : kMany)
    for (const Element& element : elements_of(svg_of(request)))
      for (const auto& [name, value] : element.attributes) {
        if (name != "x" && name != "y" && name != "cx" && name != "cy" && name != "d") continue;
        for (const char* wrong : {"nan", "NaN", "inf"}) EXPECT_FALSE(has(value, wrong)) << request << value;
        if (element.tag == "text" && name == "x") {
          EXPECT_GE(std::stod(value), 0) << request;
          EXPECT_LE(std::stod(value), 390) << request;
        }
      }
}

/// A hundredth of a drawing unit is all that rounding takes: 1.5e-4 of the pressure, 1e-4 of the width.
void meets_saturation(const char* name, const char* dew_css) {
  const auto fluid = service::load_fluid(name);
  ASSERT_TRUE(fluid);
  const auto elements = elements_of(svg_of({{"refrigerant", name}}));
  for (const bool bubble : {true, false}) {
    const auto line = line_of(elements, "enthalpy", bubble ? "bubble" : dew_css);
    ASSERT_GT(line.size(), 15u) << name;
    const double h_wide = std::abs(line.front().x - line.back().x);
    int compared = 0;
    for (const Drawn& point : line) {
      const auto at = fluid->saturation_at_p(point.p);
      // Near the critical point a hundredth of a unit of pressure is several of enthalpy.
      if (!at || point.p > 0.93 * fluid->limits().p_crit) continue;
      EXPECT_NEAR(point.x, bubble ? at->liquid.h : at->vapour.h, 2e-3 * h_wide) << name << " " << point.p;
      ++compared;
    }
    EXPECT_GT(compared, 8) << name;
    const auto flat = line_of(elements, "temperature", bubble ? "bubble" : dew_css);
    if (flat.empty() && !bubble) continue;  // a pure refrigerant has one line there
    ASSERT_GT(flat.size(), 5u) << name;
    for (std::size_t i = 0; i + 1 < flat.size(); ++i) {
      const auto p = bubble ? fluid->bubble_pressure(flat[i].x) : fluid->dew_pressure(flat[i].x);
      ASSERT_TRUE(p) << name << " " << flat[i].x;
      EXPECT_NEAR(flat[i].p / *p, 1, 2e-3) << name << " " << flat[i].x;
    }
  }
}

TEST(Drawing, DomeOfAPureOneMeetsItsSaturation) { meets_saturation("R290", "dew"); }
TEST(Drawing, DomeOfABlendMeetsItsBubbleAndDewLines) { meets_saturation("R407C", "dew blend"); }

TEST(Drawing, PlacesTheCycleAndThePoints) {
  const json said = answer(kCycle);
  ASSERT_EQ(said["cycles"].size(), 1u);
  const json& states = said["cycles"][0]["states"];
  const auto way = line_of(elements_of(said["svg"]), "enthalpy", "way-given");
  ASSERT_GT(way.size(), 20u);
  for (const json& state : states) {
    const double p = state["pressure"]["si"], h = state["enthalpy"]["si"];
    double nearest = 1e9;
    for (const Drawn& point : way)
      nearest = std::min(nearest, std::hypot((point.x - h) / 5e5, std::log(point.p / p)));
    EXPECT_LT(nearest, 1e-3) << state;
  }
  const auto fluid = service::load_fluid("R290");
  ASSERT_TRUE(fluid);
  const double p_low = states[0]["pressure"]["si"], T_1 = states[0]["temperature"]["si"];
  EXPECT_NEAR(T_1 - *fluid->dew_temperature(p_low), 5.0, 1e-6);  // 9 °F
  EXPECT_NEAR(states[1]["pressure"]["si"].get<double>(), *fluid->dew_pressure((105 + 459.67) / 1.8), 1);
  const auto ideal = fluid->at_ps(states[1]["pressure"]["si"], states[0]["entropy"]["si"]);
  ASSERT_TRUE(ideal);
  const double h_1 = states[0]["enthalpy"]["si"], h_2 = states[1]["enthalpy"]["si"];
  EXPECT_NEAR((ideal->h - h_1) / (h_2 - h_1), 0.7, 1e-6);
  EXPECT_NEAR(states[3]["enthalpy"]["si"].get<double>(), states[2]["enthalpy"]["si"].get<double>(), 1e-3);
  EXPECT_TRUE(has(said["svg"], "suction &lt;1&gt; &amp; &quot;2&quot;"));
  EXPECT_EQ(said["points"][0]["against_sound"], "unknown");
}

TEST(Drawing, OfACallShowsTheSoundMachineAndWhatIsOff) {
  const std::string demo = std::string(SOURCE_DIR) + "/data/demo/3-fish-hall-freezer.json";
  const Outcome printed = coldwright("chart " + demo + " --json");
  ASSERT_EQ(printed.status, 0) << printed.err;
  const json said = json::parse(printed.out);
  EXPECT_EQ(SchemaCheck(json::parse(coldwright("schema chart.answer").out))(said), "");
  ASSERT_FALSE(said["cycles"].empty());
  EXPECT_EQ(said["cycles"][0]["role"], "sound");
  EXPECT_GT(said["points"].size(), 3u);
  const auto elements = elements_of(said["svg"]);
  EXPECT_FALSE(line_of(elements, "enthalpy", "way-sound").empty());
  bool off = false;
  for (const json& point : said["points"])
    off = off || point["against_sound"] == "below" || point["against_sound"] == "above";
  EXPECT_TRUE(off);
  EXPECT_TRUE(has(said["svg"], "class=\"mark off\""));
  EXPECT_TRUE(has(said["svg"], "below a sound machine"));
  EXPECT_EQ(said["refrigerant"], "R290");
}

TEST(Drawing, AsAPictureLeavesWordsAndColoursToThePage) {
  const json said = answer({{"refrigerant", "R290"},
                            {"evaporating", "20F"},
                            {"condensing", "110F"},
                            {"diagram", "enthalpy"},
                            {"picture_width", 260}});
  const std::string svg = said["svg"];
  const auto elements = elements_of(svg);
  ASSERT_FALSE(elements.empty());
  EXPECT_EQ(elements[0].attributes.at("viewBox").rfind("0 0 260 ", 0), 0u);
  // A page under a strict content-security policy shows neither.
  for (const Element& e : elements) {
    EXPECT_NE(e.tag, "style");
    EXPECT_EQ(e.attributes.count("style"), 0u);
  }
  EXPECT_FALSE(line_of(elements, "enthalpy", "way-given").empty());
  EXPECT_FALSE(has(svg, "class=\"title\""));
  EXPECT_FALSE(has(svg, "class=\"row\""));
  EXPECT_TRUE(has(svg, "<desc"));
  const auto narrow =
      service::find_use_case("chart")->run(R"({"refrigerant":"R290","picture_width":100})", {});
  ASSERT_FALSE(narrow);
  EXPECT_EQ(narrow.problem().field, "picture_width");
}

TEST(Drawing, OfACallWithItsDiagnosisIsTheSameWithoutReckoningAgain) {
  const json call =
      json::parse(Folder::read(std::string(SOURCE_DIR) + "/data/demo/3-fish-hall-freezer.json"));
  const auto diagnosed = service::find_use_case("diagnose")->run(json{{"call", call}}.dump(), {});
  ASSERT_TRUE(diagnosed);
  const json whole = json::parse(*diagnosed);
  // A population that would draw another machine shows that none was drawn.
  json request = {{"call", call}, {"population", 11}, {"diagnosis", whole}};
  const json anew = answer({{"call", call}}), given = answer(request);
  EXPECT_EQ(given["cycles"], anew["cycles"]);
  EXPECT_EQ(given["points"], anew["points"]);
  EXPECT_EQ(given["about"]["references"], anew["about"]["references"]);
  request["diagnosis"] = {{"unseen", whole["unseen"]}, {"evidence", whole["evidence"]}};
  EXPECT_EQ(answer(request)["cycles"], anew["cycles"]);
}

TEST(Drawing, RefusesADiagnosisThatIsNone) {
  const json call =
      json::parse(Folder::read(std::string(SOURCE_DIR) + "/data/demo/3-fish-hall-freezer.json"));
  const auto run = [](const json& request) {
    const auto result = service::find_use_case("chart")->run(request.dump(), {});
    return result ? std::string("an answer") : result.problem().field;
  };
  EXPECT_EQ(run({{"call", call}, {"diagnosis", json::object()}}), "diagnosis");
  EXPECT_EQ(run({{"call", call}, {"diagnosis", {{"unseen", "none"}}}}), "diagnosis");
  EXPECT_EQ(run({{"call", call}, {"diagnosis", 7}}), "diagnosis");
  EXPECT_EQ(run({{"refrigerant", "R290"}, {"diagnosis", {{"unseen", json::array({1})}}}}), "diagnosis");
  // Rows that aren't any are passed over.
  EXPECT_EQ(
      run({{"call", call}, {"diagnosis", {{"unseen", {1, {{"quantity", 2}}}}, {"evidence", {nullptr}}}}}),
      "an answer");
}

TEST(Drawing, GoesToAFileOrToStandardOutput) {
  const Folder folder;
  const Outcome quiet = coldwright("chart R290 -o " + folder.file("a.svg"));
  EXPECT_EQ(quiet.status, 0) << quiet.err;
  EXPECT_EQ(quiet.out, "");
  EXPECT_EQ(Folder::read(folder.file("a.svg")), coldwright("chart R290").out);
  EXPECT_TRUE(has(coldwright("chart R290 --units metric").out, "bar(g)"));
  EXPECT_TRUE(has(coldwright("chart R290 --point 'liquid line=95F@200psig'").out, "liquid line"));
}

}  // namespace
}  // namespace coldwright::tests

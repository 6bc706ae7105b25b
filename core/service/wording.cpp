#include "service/wording.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "service/embedded.hpp"

namespace coldwright::service {
namespace {

using diagnosis::Unit;
using nlohmann::json;

base::Dimension dimension_of(Unit unit) {
  using base::Dimension;
  switch (unit) {
    case Unit::temperature:
      return Dimension::temperature;
    case Unit::temperature_difference:
      return Dimension::temperature_difference;
    case Unit::pressure:
      return Dimension::pressure;
    case Unit::mass:
      return Dimension::mass;
    case Unit::power:
      return Dimension::power;
    case Unit::current:
      return Dimension::current;
    case Unit::voltage:
      return Dimension::voltage;
    case Unit::resistance:
      return Dimension::resistance;
    case Unit::percent:
    case Unit::minutes:
    case Unit::count:
      break;
  }
  return Dimension::quality;
}

Problem broken_section(std::string_view where) {
  return {"wording", std::string(where), "sections of texts as data/wording/en.json has them",
          "the wording file is damaged"};
}

bool read_measure(const json& row, Measure& measure) {
  if (!row.is_object() || !row.contains("text") || !row["text"].is_string()) return false;
  measure.text = row["text"].get<std::string>();
  if (row.contains("as") && row["as"].is_string()) measure.as = row["as"].get<std::string>();
  if (row.contains("scale") && row["scale"].is_number()) measure.scale = row["scale"].get<double>();
  if (row.contains("offset") && row["offset"].is_number()) measure.offset = row["offset"].get<double>();
  return true;
}

/// Replaces every {name} by what `fill` gives for it.
template <class Fill>
std::string filled(std::string_view pattern, Fill fill) {
  std::string out;
  for (std::size_t i = 0; i < pattern.size();) {
    const std::size_t open = pattern.find('{', i);
    const std::size_t close = open == std::string_view::npos ? open : pattern.find('}', open);
    if (close == std::string_view::npos) return out += pattern.substr(i);
    out += pattern.substr(i, open - i);
    out += fill(pattern.substr(open + 1, close - open - 1));
    i = close + 1;
  }
  return out;
}

/// Makes the first letter large, also where that is one of those that Spanish and French add to the alphabet.
void capitalise(std::string& text) {
  if (text.empty()) return;
  if (text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  // U+00E0 to U+00FE are C3 A0 to C3 BE in UTF-8, their capitals 0x20 below; U+00F7 is a division sign.
  const auto second = text.size() > 1 ? static_cast<unsigned char>(text[1]) : 0U;
  if (text[0] == '\xC3' && second >= 0xA0 && second <= 0xBE && second != 0xB7)
    text[1] = static_cast<char>(second - 0x20);
}

std::string no_value(std::string_view name) { return "[no value for " + std::string(name) + "]"; }

/// "{low to high}": two values of one kind with their unit said once.
std::string range(const Wording& wording, const diagnosis::Statement& statement, std::string_view low,
                  std::string_view high, const base::Display& display) {
  const auto find = [&](std::string_view name) {
    return std::find_if(statement.values.begin(), statement.values.end(),
                        [&](const auto& v) { return v.name == name; });
  };
  const auto from = find(low), to = find(high);
  if (from == statement.values.end() || to == statement.values.end())
    return no_value(std::string(low) + " to " + std::string(high));
  return wording.interval(from->unit, {from->value, from->value, to->value}, display);
}

}  // namespace

std::span<const std::string_view> languages() {
  static constexpr std::string_view kLanguages[] = {"en", "es", "fr"};
  return kLanguages;
}

std::optional<Problem> check_language(std::string_view language) {
  const auto known = languages();
  if (std::find(known.begin(), known.end(), language) != known.end()) return std::nullopt;
  return Problem{"language", base::quoted(language), "en, es or fr",
                 "there are no words in another language"};
}

Result<Wording> Wording::parse(std::string_view json_text) {
  const json root = json::parse(json_text, nullptr, false);
  if (!root.is_object()) return broken_section("no JSON object");
  Wording wording;
  for (const auto& [section, rows] : root.items()) {
    if (!rows.is_object()) continue;  // "language", "comment"
    for (const auto& [key, row] : rows.items()) {
      if (section == "measures") {
        if (!read_measure(row, wording.measures_[key])) return broken_section("measures." + key);
      } else if (row.is_string()) {
        wording.sections_[section][key] = row.get<std::string>();
      } else {
        return broken_section(section + "." + key);
      }
    }
  }
  return wording;
}

Result<Wording> Wording::load(std::string_view language) {
  if (const auto problem = check_language(language)) return *problem;
  const auto text = embedded("wording/" + std::string(language) + ".json");
  if (!text) return broken_section(language);
  return parse(*text);
}

bool Wording::has(std::string_view section, std::string_view key) const {
  if (section == "measures") return measures_.find(key) != measures_.end();
  const auto found = sections_.find(section);
  return found != sections_.end() && found->second.find(key) != found->second.end();
}

std::string Wording::word(std::string_view section, std::string_view key) const {
  const auto found = sections_.find(section);
  if (found != sections_.end())
    if (const auto text = found->second.find(key); text != found->second.end()) return text->second;
  return "[no wording for " + std::string(section) + "." + std::string(key) + "]";
}

std::string Wording::cause(std::string_view id) const {
  const std::size_t plus = id.find('+');
  if (plus == std::string_view::npos) return word("causes", id);
  return phrase(
      "phrases", "together",
      {{"first", word("causes", id.substr(0, plus))}, {"second", word("causes", id.substr(plus + 1))}});
}

std::string Wording::phrase(std::string_view section, std::string_view key, Filling filling) const {
  return filled(word(section, key), [&](std::string_view name) -> std::string {
    for (const auto& [placeholder, text] : filling)
      if (placeholder == name) return std::string(text);
    return no_value(name);
  });
}

std::string Wording::listed(const std::vector<std::string>& words, std::string_view last) const {
  return base::listed(words, word("phrases", last));
}

base::Numerals Wording::numerals() const {
  base::Numerals out;
  // Given back as literals, which outlive every wording.
  for (const std::string_view mark : {".", ","})
    if (word("numerals", "decimal") == mark) out.decimal = mark;
  for (const std::string_view gap : {" ", "\u00A0", "\u202F"})
    if (word("numerals", "gap") == gap) out.gap = gap;
  return out;
}

std::string Wording::named_word(std::string_view placeholder, std::string_view id) const {
  // The same id can name a part and a fault of it ("condenser_fan"): the placeholder says which is meant.
  constexpr std::pair<std::string_view, std::string_view> meant[] = {
      {"subject", "subjects"}, {"state", "values"},        {"value", "values"}, {"reading", "readings"},
      {"cabinet", "cabinets"}, {"quantity", "quantities"}, {"what", "site"}};
  for (const auto& [name, section] : meant)
    if (name == placeholder && has(section, id)) return word(section, id);
  if (has("causes", id.substr(0, id.find('+')))) return cause(id);
  for (const char* section : {"readings", "subjects", "values", "quantities", "cabinets"})
    if (has(section, id)) return word(section, id);
  return std::string(id);
}

std::vector<std::string> Wording::keys(std::string_view section) const {
  std::vector<std::string> out;
  if (const auto found = sections_.find(section); found != sections_.end())
    for (const auto& [key, text] : found->second) out.push_back(key);
  if (section == "measures")
    for (const auto& [key, measure] : measures_) out.push_back(key);
  return out;
}

std::string Wording::sentence(std::string_view section, const diagnosis::Statement& statement,
                              const base::Display& display) const {
  std::string text = filled(word(section, statement.key), [&](std::string_view name) -> std::string {
    for (const diagnosis::Value& value : statement.values)
      if (value.name == name) return shown(value.unit, value.value, display).text();
    for (const auto& [word_name, id] : statement.words)
      if (word_name == name) return named_word(name, id);
    if (const std::size_t to = name.find(" to "); to != std::string_view::npos)
      return range(*this, statement, name.substr(0, to), name.substr(to + 4), display);
    return no_value(name);
  });
  // A sentence may start with a word filled in: "condenser split: the rule says ...".
  capitalise(text);
  return text;
}

std::string Wording::severity(std::string_view measure, const diagnosis::Interval& interval,
                              const base::Display& display) const {
  if (measure.empty() || measure == "none") return "";
  const auto found = measures_.find(measure);
  if (found == measures_.end()) return "[no wording for measures." + std::string(measure) + "]";
  const Measure& m = found->second;
  const auto at = [&](double x) { return m.offset + m.scale * x; };
  const double a = at(interval.low), b = at(interval.high);
  const diagnosis::Interval ends{std::min(a, b), at(interval.mid), std::max(a, b)};
  const auto both = [&](const std::string& low, const std::string& high) {
    return phrase("phrases", "range", {{"low", low}, {"high", high}});
  };
  std::string text;
  if (m.as == "percent")
    text = this->interval(Unit::percent, ends, display);
  else if (m.as == "times")
    text = phrase("phrases", "times",
                  {{"range", both(base::number_text(ends.low, 1, display.numerals),
                                  base::number_text(ends.high, 1, display.numerals))}});
  else if (m.as == "temperature_difference")
    text = this->interval(Unit::temperature_difference, ends, display);
  else if (m.as == "pressure_difference")
    text = both(base::show(base::Dimension::pressure_difference, ends.low, display).number(),
                base::show(base::Dimension::pressure_difference, ends.high, display).text());
  else
    text = both(base::number_text(ends.low, 2, display.numerals),
                base::number_text(ends.high, 2, display.numerals));
  return filled(m.text, [&](std::string_view) { return text; });
}

base::Shown shown(Unit unit, double value, const base::Display& display) {
  if (unit == Unit::percent) return {value, "%", 0, display.numerals};
  if (unit == Unit::minutes) return {value, "min", 0, display.numerals};
  if (unit == Unit::count) return {value, "", 0};
  return base::show(dimension_of(unit), value, display);
}

std::string Wording::interval(Unit unit, const diagnosis::Interval& interval,
                              const base::Display& display) const {
  const base::Shown low = shown(unit, interval.low, display), high = shown(unit, interval.high, display);
  if (low.text() == high.text()) return low.text();
  return phrase("phrases", "range",
                {{"low", low.unit == high.unit ? low.number() : low.text()}, {"high", high.text()}});
}

std::string probability_text(double probability, double error, const base::Numerals& numerals) {
  int step = 1;
  for (int coarser : {2, 5, 10, 20})
    if (100 * error > step) step = coarser;
  const double percent = 100 * probability;
  std::string text;
  if (percent < step)
    text = "<" + std::to_string(step);
  else if (percent > 100 - step)
    text = ">" + std::to_string(100 - step);
  else
    text = std::to_string(step * std::lround(percent / step));
  return text.append(numerals.gap).append("%");
}

std::string_view sureness(double probability) {
  if (probability >= 0.95) return "almost_certain";
  if (probability >= 0.80) return "very_likely";
  if (probability >= 0.60) return "likely";
  if (probability >= 0.35) return "possible";
  if (probability >= 0.10) return "less_likely";
  if (probability >= 0.02) return "unlikely";
  return "very_unlikely";
}

}  // namespace coldwright::service

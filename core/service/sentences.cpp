#include "service/sentences.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "service/embedded.hpp"
#include "service/wording.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

bool digit(char c) { return c >= '0' && c <= '9'; }
bool letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

/// What somebody typed. JSON that was given where a text belongs has quotes of its own inside.
bool in_whole_quotes(std::string_view text) {
  if (text.size() < 2 || text.front() != '"' || text.back() != '"') return false;
  const bool as_json = text[1] == '"' || text[1] == '[' || text[1] == '{';
  return as_json || std::count(text.begin(), text.end(), '"') == 2;
}

/// The number of a placeholder "{1}" at `at`; 0 when there is none.
std::size_t placeholder(std::string_view text, std::size_t at) {
  return at + 2 < text.size() && text[at] == '{' && digit(text[at + 1]) && text[at + 2] == '}'
             ? static_cast<std::size_t>(text[at + 1] - '0')
             : 0;
}

Problem broken(std::string_view where) {
  return {"wording", std::string(where), "fields and sentences as data/wording/sentences/es.json has them",
          "the wording file is damaged"};
}

/// What may stand for a value: something, and no half of what somebody typed in quotes.
bool may_be_value(std::string_view text) {
  return !text.empty() && std::count(text.begin(), text.end(), '"') % 2 == 0;
}

/// The literals from `i` on, matched against what is left of the text behind the value before them.
bool match_from(const std::vector<std::string>& literals, std::size_t i, std::string_view text,
                std::vector<std::string_view>& captures) {
  if (i == literals.size()) return text.empty();
  const std::string& literal = literals[i];
  const bool last = i + 1 == literals.size();
  if (last) {
    if (!text.ends_with(literal)) return false;
    captures.push_back(text.substr(0, text.size() - literal.size()));
    if (may_be_value(captures.back())) return true;
    captures.pop_back();
    return false;
  }
  for (std::size_t at = text.find(literal, 1); at != std::string_view::npos;
       at = text.find(literal, at + 1)) {
    captures.push_back(text.substr(0, at));
    if (may_be_value(captures.back()) &&
        match_from(literals, i + 1, text.substr(at + literal.size()), captures))
      return true;
    captures.pop_back();
  }
  return false;
}

}  // namespace

Result<Sentences> Sentences::load(std::string_view language) {
  if (const auto problem = check_language(language)) return *problem;
  if (language == "en") return Sentences();
  const auto wording = Wording::load(language);
  if (!wording) return wording.problem();
  const auto text = embedded("wording/sentences/" + std::string(language) + ".json");
  if (!text) return broken(language);
  return parse(*text, wording->numerals());
}

Result<Sentences> Sentences::parse(std::string_view json_text, const base::Numerals& numerals) {
  const json root = json::parse(json_text, nullptr, false);
  if (!root.is_object()) return broken("no JSON object");
  Sentences out;
  out.english_ = false;
  out.numerals_ = numerals;
  for (const char* section : {"fields", "sentences"}) {
    const auto rows = root.find(section);
    if (rows == root.end() || !rows->is_object()) return broken(section);
    for (const auto& [key, row] : rows->items()) {
      if (!row.is_string()) return broken(key);
      if (std::string_view(section) == "fields")
        out.fields_[key] = row.get<std::string>();
      else
        out.add(key, row.get<std::string>());
    }
  }
  std::stable_sort(out.forms_.begin(), out.forms_.end(),
                   [](const Form& a, const Form& b) { return a.weight > b.weight; });
  return out;
}

void Sentences::add(const std::string& key, const std::string& translation) {
  Form form{{""}, translation, 0};
  for (std::size_t i = 0; i < key.size(); ++i) {
    if (placeholder(key, i) == form.literals.size()) {
      form.literals.emplace_back();
      i += 2;
    } else {
      form.literals.back() += key[i];
      ++form.weight;
    }
  }
  if (form.literals.size() == 1)
    whole_[key] = translation;
  else
    forms_.push_back(std::move(form));
}

bool Sentences::match(const Form& form, std::string_view text, Captures& captures) {
  captures.clear();
  if (!text.starts_with(form.literals.front())) return false;
  return match_from(form.literals, 1, text.substr(form.literals.front().size()), captures);
}

std::string Sentences::leaf(std::string_view text, std::vector<std::string>* left) const {
  std::string out;
  bool quoted = false, letters = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '"') quoted = !quoted;
    const bool inside = !quoted && i > 0 && i + 1 < text.size() && digit(text[i - 1]);
    if (inside && text[i] == '.' && digit(text[i + 1]))
      out += numerals_.decimal;
    else if (inside && text[i] == ' ' && !digit(text[i + 1]))
      out += numerals_.gap;
    else
      out += text[i];
    letters = letters || (!quoted && letter(text[i]));
  }
  if (letters && left != nullptr) left->emplace_back(text);
  return out;
}

std::string Sentences::say(std::string_view english, std::vector<std::string>* left) const {
  return english_ ? std::string(english) : said(english, false, left);
}

std::string Sentences::field(std::string_view english, std::vector<std::string>* left) const {
  if (english_) return std::string(english);
  std::string out;
  bool quoted = false;
  std::size_t start = 0;
  for (std::size_t i = 0; i <= english.size(); ++i) {
    if (i < english.size() && english[i] == '"') quoted = !quoted;
    const bool comma = !quoted && i + 1 < english.size() && english[i] == ',' && english[i + 1] == ' ';
    if (!comma && i < english.size()) continue;
    out += said(english.substr(start, i - start), true, left);
    if (comma) out += ", ";
    start = i + 2;
  }
  return out;
}

std::string Sentences::said(std::string_view english, bool of_field, std::vector<std::string>* left) const {
  if (english.empty()) return {};
  if (of_field)
    if (const auto found = fields_.find(english); found != fields_.end()) return found->second;
  if (const auto found = whole_.find(english); found != whole_.end()) return found->second;
  if (in_whole_quotes(english)) return std::string(english);
  Captures captures;
  for (const Form& form : forms_) {
    if (!match(form, english, captures)) continue;
    std::string out;
    for (std::size_t i = 0; i < form.translation.size(); ++i) {
      const std::size_t number = placeholder(form.translation, i);
      if (number == 0 || number > captures.size()) {
        out += form.translation[i];
        continue;
      }
      out += said(captures[number - 1], of_field, left);
      i += 2;
    }
    return out;
  }
  return leaf(english, left);
}

std::vector<std::string> Sentences::keys() const {
  std::vector<std::string> out;
  for (const auto& [key, translation] : fields_) out.push_back("fields." + key);
  for (const auto& [key, translation] : whole_) out.push_back(key);
  for (const Form& form : forms_) {
    std::string key = form.literals.front();
    for (std::size_t i = 1; i < form.literals.size(); ++i)
      key += "{" + std::to_string(i) + "}" + form.literals[i];
    out.push_back(std::move(key));
  }
  return out;
}

}  // namespace coldwright::service

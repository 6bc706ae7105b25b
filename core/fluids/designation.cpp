#include "fluids/designation.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>

#include "base/text.hpp"

namespace coldwright::fluids {
namespace {

constexpr std::size_t longest_name = 80;
constexpr std::size_t longest_composition = 240;
constexpr double sum_tolerance = 0.1;  // percent: what rounding to one decimal can leave

bool digit(char c) { return c >= '0' && c <= '9'; }
bool blank(char c) { return c == ' ' || c == '\t'; }
bool all_digits(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), digit);
}

/// Marks of other scripts that stand for plain ones: hyphens and blanks to drop, small digits to read.
struct Mark {
  std::string_view bytes;
  std::string_view means;
};
constexpr std::array<Mark, 11> kMarks{{{"\u2010", ""},
                                       {"\u2011", ""},
                                       {"\u2012", ""},
                                       {"\u2013", ""},
                                       {"\u2212", ""},
                                       {"\u00A0", ""},
                                       {"\u202F", ""},
                                       {"\u2082", "2"},
                                       {"\u2083", "3"},
                                       {"\u2084", "4"},
                                       {"\u2088", "8"}}};

std::string letters_and_digits(std::string_view typed) {
  std::string out;
  for (std::size_t i = 0; i < typed.size();) {
    const auto mark = std::find_if(kMarks.begin(), kMarks.end(),
                                   [&](const Mark& m) { return typed.substr(i).starts_with(m.bytes); });
    if (mark != kMarks.end()) {
      out += mark->means;
      i += mark->bytes.size();
      continue;
    }
    const char c = typed[i++];
    if (std::string_view(" \t-_.,()[]'").find(c) == std::string_view::npos) out += c;
  }
  return base::lower(out);
}

/// Drops `prefix` where the rest is a number, or a number after the letter of a ring (C) or an ether (E).
bool drop(std::string& text, std::string_view prefix) {
  if (!text.starts_with(prefix)) return false;
  const std::string_view rest = std::string_view(text).substr(prefix.size());
  const bool number = !rest.empty() && digit(rest.front());
  const bool ring_or_ether = rest.size() > 1 && (rest[0] == 'c' || rest[0] == 'e') && digit(rest[1]);
  if (!number && !ring_or_ether) return false;
  text.erase(0, prefix.size());
  return true;
}

/// The families' letters that the designation standard allows before a number, longest first.
constexpr std::string_view kFamilies[] = {"hcfo", "hcfc", "hfo", "hfc", "cfc", "pfc", "fic",
                                          "hfe",  "hco",  "hc",  "fc",  "he",  "r"};

Problem unknown(std::string_view typed, const std::vector<std::string>& near) {
  if (near.empty())
    return {"refrigerant", base::quoted(typed), "a designation such as R404A or a name such as propane",
            "no refrigerant is known by that name, and none is spelled nearly so"};
  return {"refrigerant", base::quoted(typed), base::listed(near),
          "that one isn't known; these are spelled nearest"};
}

Problem ambiguous(std::string_view typed, const std::vector<std::string>& all) {
  return {"refrigerant", base::quoted(typed), base::listed(all),
          "it may be any of these, and they are different refrigerants"};
}

}  // namespace

std::string plain_designation(std::string_view typed) {
  std::string out = letters_and_digits(typed);
  if (out.starts_with("refrigerant")) out.erase(0, std::string_view("refrigerant").size());
  for (const std::string_view family : kFamilies)
    if (drop(out, family)) break;
  return out;
}

Designations::Designations(std::span<const RefrigerantNames> known) {
  for (const RefrigerantNames& names : known) {
    const bool isomer = names.designation.ends_with(')');
    by_plain_name_.insert_or_assign(plain_designation(names.designation),
                                    Known{names.designation, names.blend, isomer, ""});
  }
  // A designation is never overruled by another's byname.
  for (const RefrigerantNames& names : known)
    for (const std::string& name : names.also_called)
      by_plain_name_.insert({plain_designation(name), Known{names.designation, names.blend, false, name}});
}

bool Designations::is_blend(std::string_view designation) const {
  const auto found = by_plain_name_.find(plain_designation(designation));
  return found != by_plain_name_.end() && found->second.blend;
}

/// Designations that are `plain` and one letter more; in alphabetical order.
std::vector<const Designations::Known*> Designations::begun_by(const std::string& plain) const {
  std::vector<const Known*> out;
  for (auto it = by_plain_name_.lower_bound(plain);
       !plain.empty() && it != by_plain_name_.end() && it->first.starts_with(plain); ++it)
    if (it->first.size() == plain.size() + 1 && !digit(it->first.back()) && it->second.byname.empty())
      out.push_back(&it->second);
  return out;
}

std::vector<const Designations::Known*> Designations::near(std::string_view typed) const {
  const std::string plain = plain_designation(typed);
  if (plain.empty() || typed.size() > longest_name) return {};
  std::vector<const Known*> out;
  const auto take = [&](const Known& known) {
    const bool there = std::any_of(
        out.begin(), out.end(), [&](const Known* other) { return other->designation == known.designation; });
    if (out.size() < 3 && !there) out.push_back(&known);
  };
  // The same number with other letters is the likeliest slip: "R448C", "R134".
  const std::size_t length = std::min(plain.find_first_not_of("0123456789"), plain.size());
  const std::string number = plain.substr(0, length);
  for (auto it = by_plain_name_.lower_bound(number);
       length > 1 && it != by_plain_name_.end() && it->first.starts_with(number); ++it)
    if (it->second.byname.empty() && (it->first.size() == length || !digit(it->first[length])))
      take(it->second);
  std::vector<std::string> names;
  for (const auto& [name, known] : by_plain_name_) names.push_back(name);
  while (out.size() < 3 && !names.empty()) {
    const auto nearest = base::nearest(plain, names);
    if (!nearest) break;
    take(by_plain_name_.find(*nearest)->second);
    std::erase(names, *nearest);
  }
  return out;
}

std::vector<std::string> Designations::nearest(std::string_view typed) const {
  std::vector<std::string> out;
  for (const Known* known : near(typed)) out.push_back(known->designation);
  return out;
}

Result<std::string> Designations::find(std::string_view typed) const {
  const std::string plain = typed.size() > longest_name ? std::string() : plain_designation(typed);
  const auto exact = by_plain_name_.find(plain);
  if (exact != by_plain_name_.end()) return exact->second.designation;
  const std::vector<const Known*> begun = begun_by(plain);
  if (begun.size() > 1) {
    std::vector<std::string> all;
    for (const Known* known : begun) all.push_back(known->designation);
    return ambiguous(typed, all);
  }
  // "1233zd" and "404" can mean nothing else; R134 is a substance of its own, and no short name of R134a.
  if (begun.size() == 1 && (begun.front()->isomer || begun.front()->blend)) return begun.front()->designation;
  // A bare "1234": every refrigerant of that number, when there are several.
  std::vector<std::string> of_that_number, spelled;
  for (const Known* known : near(typed)) {
    const std::string other = plain_designation(known->designation);
    if (all_digits(plain) && other.starts_with(plain) && !digit(other[plain.size()]))
      of_that_number.push_back(known->designation);
    const bool number = known->byname.empty() || digit(plain_designation(known->byname).front());
    spelled.push_back(known->designation + (number ? "" : " (" + known->byname + ")"));
  }
  return of_that_number.size() > 1 ? ambiguous(typed, of_that_number) : unknown(typed, spelled);
}

// --- free compositions ---

namespace {

constexpr std::string_view kForm = "such as R32/R125/R134a 23/25/52, percent by mass";

Problem wrong(std::string_view typed, std::string allowed, std::string why) {
  return {"composition", base::quoted(typed, 120), std::move(allowed), std::move(why)};
}

std::vector<std::string> parts_of(std::string_view text) {
  std::vector<std::string> out(1);
  for (const char c : text) {
    if (c == '/')
      out.emplace_back();
    else
      out.back() += c;
  }
  return out;
}

/// Without blanks at the ends and beside a '/', and without percent signs.
std::string tightened(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '%' || (blank(c) && (out.empty() || out.back() == '/' || blank(out.back())))) continue;
    if (c == '/')
      while (!out.empty() && blank(out.back())) out.pop_back();
    out += c;
  }
  while (!out.empty() && blank(out.back())) out.pop_back();
  return out;
}

struct Halves {
  std::string names, numbers;
};

/// "R32/R125 50/50" or "R-32/125 (50/50)" into names and numbers.
std::optional<Halves> halves(std::string_view typed) {
  const std::string text = tightened(typed);
  const bool bracket = text.ends_with(')');
  const std::size_t cut = bracket ? text.rfind('(') : text.find_last_of(" \t");
  if (cut == std::string::npos || cut == 0) return std::nullopt;
  Halves out{text.substr(0, cut), text.substr(cut + 1)};
  if (bracket) out.numbers.pop_back();
  if (out.numbers.empty() || out.numbers.find_first_not_of("0123456789.,/+-") != std::string::npos)
    return std::nullopt;
  return out;
}

std::optional<double> number_of(std::string text) {
  std::replace(text.begin(), text.end(), ',', '.');
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return value;
}

std::string percent_text(double value) {
  std::array<char, 32> text{};
  const auto end =
      std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::general, 6);
  return std::string(text.data(), end.ptr) + " %";
}

/// One component: known, and no blend.
Result<std::string> component(const std::string& name, const Designations& known) {
  auto found = known.find(name);
  if (!found) {
    Problem problem = found.problem();
    problem.field = "composition";
    return problem;
  }
  if (known.is_blend(*found))
    return Problem{"composition", base::quoted(name), "pure refrigerants",
                   *found + " is a blend itself: name its components, with their shares of the whole"};
  return found;
}

/// What the shares add up to decides whether they are a composition.
std::optional<Problem> check_sum(std::string_view typed, double sum) {
  if (std::abs(sum - 100) <= sum_tolerance + 1e-9) return std::nullopt;
  return wrong(typed, "shares that sum to 100 %, within " + percent_text(sum_tolerance),
               "these sum to " + percent_text(sum));
}

}  // namespace

bool is_composition(std::string_view typed) { return typed.find('/') != std::string_view::npos; }

Result<std::vector<Share>> parse_composition(std::string_view typed, const Designations& known) {
  if (typed.size() > longest_composition)
    return wrong(typed, "at most " + std::to_string(longest_composition) + " characters",
                 "no blend is longer");
  const auto both = halves(typed);
  if (!both) return wrong(typed, std::string(kForm), "the shares must follow the names");
  const auto names = parts_of(both->names), numbers = parts_of(both->numbers);
  if (names.size() != numbers.size())
    return wrong(
        typed, std::string(kForm),
        std::to_string(names.size()) + " names stand before " + std::to_string(numbers.size()) + " numbers");
  std::vector<Share> out;
  double sum = 0;
  for (std::size_t i = 0; i < names.size(); ++i) {
    const auto found = component(names[i], known);
    if (!found) return found.problem();
    const auto share = number_of(numbers[i]);
    if (!share || !(*share > 0))
      return Problem{"composition", base::quoted(numbers[i]), "a percentage above 0",
                     "it is the share of " + *found};
    if (std::any_of(out.begin(), out.end(), [&](const Share& s) { return s.designation == *found; }))
      return wrong(typed, "each component once", *found + " stands there twice");
    out.push_back({*found, *share});
    sum += *share;
  }
  if (auto problem = check_sum(typed, sum)) return *problem;
  for (Share& share : out) share.mass_fraction /= sum;
  return out;
}

}  // namespace coldwright::fluids

#include "service/money.hpp"

#include <algorithm>
#include <cstdlib>

#include "base/text.hpp"

namespace coldwright::service {
namespace {

constexpr const char* kForms = "an amount with its currency, such as 480 EUR or $95.50";
constexpr std::size_t kLongestCurrency = 12;

bool is_figure(char c) { return c >= '0' && c <= '9'; }
bool of_number(char c) { return is_figure(c) || c == '.' || c == ','; }

std::string trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return std::string(text);
}

}  // namespace

Result<Money> parse_money(std::string_view typed, std::string_view field) {
  const auto wrong = [&](const char* why) {
    return Problem{std::string(field), base::quoted(typed), kForms, why};
  };
  if (typed.size() > base::longest_spoken || base::first_invalid_utf8(typed))
    return wrong("it can't be read");
  const std::string text = base::plain_signs(typed);
  const auto first = std::find_if(text.begin(), text.end(), is_figure);
  if (first == text.end()) return wrong("there is no number in it");
  const auto last = std::find_if_not(first, text.end(), of_number);
  std::string number(first, last);
  std::string before = trimmed(std::string(text.begin(), first)),
              after = trimmed(std::string(last, text.end()));
  if (before.find('-') != std::string::npos) return wrong("a cost isn't negative");
  if (std::any_of(after.begin(), after.end(), is_figure)) return wrong("there are two numbers in it");
  if (before.empty() == after.empty())
    return wrong(before.empty() ? "a bare number has no currency"
                                : "the currency stands once beside the number");
  const auto marks = std::count_if(number.begin(), number.end(), [](char c) { return !is_figure(c); });
  if (marks > 1) return wrong("write it without marks between the thousands");
  const auto mark = number.find_first_of(".,");
  if (mark != std::string::npos) {
    if (number.size() - mark == 4 && mark <= 3 && number[0] != '0')
      return wrong("the mark could be a decimal or a thousands mark");
    if (mark + 1 == number.size()) return wrong("there is nothing behind its decimal mark");
    number[mark] = '.';
  }
  Money out;
  out.amount = std::strtod(number.c_str(), nullptr);
  out.currency = before.empty() ? after : before;
  if (out.currency.size() > kLongestCurrency) return wrong("no currency's name is that long");
  return out;
}

std::string money_text(double amount, std::string_view currency, int decimals,
                       const base::Numerals& numerals) {
  return base::number_text(amount, decimals, numerals) + std::string(numerals.gap) + std::string(currency);
}

Result<double> Purse::take(std::string_view text, std::string_view field) {
  const auto money = parse_money(text, field);
  if (!money) return money.problem();
  if (currency_.empty()) {
    currency_ = money->currency;
    first_ = std::string(field);
  }
  if (money->currency != currency_)
    return Problem{std::string(field), base::quoted(text),
                   "the currency of the others: " + base::quoted(currency_),
                   "two currencies can't be added here"};
  return money->amount;
}

}  // namespace coldwright::service

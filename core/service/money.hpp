// Money as people write it: "480 EUR", "EUR 480", "$480", "0,28 €". The currency is whatever word or sign
// stands beside the number and is kept as typed; sums of two currencies are refused, since no rate is known
// here.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/field_units.hpp"
#include "base/result.hpp"

namespace coldwright::service {

struct Money {
  double amount = 0;
  std::string currency;  // "EUR", "$"; never empty
};

/// Problem when there is no number, no currency, a sign of a negative amount, or more than one of them. A
/// comma or a point is the decimal sign; both together are refused, as is a group of three behind one.
Result<Money> parse_money(std::string_view text, std::string_view field);

/// "1250.00 EUR"; `decimals` behind the point.
std::string money_text(double amount, std::string_view currency, int decimals,
                       const base::Numerals& numerals);

/// Keeps the one currency of a request.
class Purse {
 public:
  /// The amount, with a Problem when its currency is another than an earlier one's.
  Result<double> take(std::string_view text, std::string_view field);
  const std::string& currency() const { return currency_; }

 private:
  std::string currency_, first_;
};

}  // namespace coldwright::service

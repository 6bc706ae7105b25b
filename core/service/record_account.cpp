// Two sums of a record: the refrigerant that was moved, by kind and by cylinder, and the time that food was
// warm.
#include <algorithm>
#include <cmath>

#include "procedures/food_safety.hpp"
#include "service/record_parts.hpp"
#include "service/shown_json.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using nlohmann::json;

constexpr const char* kMovements[] = {"recovered", "released", "charged", "lost"};

/// The last digit of a mass as typed, in kg: 0.01 oz of "3.26 oz", 1/4 oz of "3 1/4 oz" counts as 0.01 oz.
double resolution(const std::string& said) {
  const auto read = base::parse_spoken(said, "mass", Dimension::mass);
  if (!read || read->unit == nullptr) return 1e-3;
  const std::size_t mark = said.find_first_of(".,");
  std::size_t digits = 0;
  if (mark != std::string::npos)
    while (mark + 1 + digits < said.size() && said[mark + 1 + digits] >= '0' &&
           said[mark + 1 + digits] <= '9')
      ++digits;
  if (said.find('/') != std::string::npos) digits = 2;
  return read->unit->scale * std::pow(10.0, -static_cast<double>(digits));
}

/// Decimals of grams that show this resolution and no more.
int gram_decimals(double kg) {
  return std::clamp(static_cast<int>(std::ceil(-std::log10(kg * 1000) - 1e-6)), 0, 2);
}

struct Sum {
  double mass = 0, finest = 1;  // kg; the coarsest of what is summed
  bool any = false;
  void add(double kg, double step) {
    finest = any ? std::max(finest, step) : step;
    mass += kg;
    any = true;
  }
};

json amount(const Sum& sum, const RecordSource& source) {
  json out = quantity(Dimension::mass, sum.mass, source.display);
  const int decimals = sum.any ? gram_decimals(sum.finest) : 0;
  out["grams"] = base::number_text(sum.mass * 1000, decimals, source.display.numerals);
  return out;
}

double step_of(const RecordSource& source, const std::string& id) {
  const auto content = source.contents.find(id);
  if (content == source.contents.end()) return 1e-3;
  double step = 0;
  for (const char* key : {"mass", "before", "after"})
    if (const std::string said = text_in(content->second, key); !said.empty())
      step = std::max(step, resolution(said));
  return step > 0 ? step : 1e-3;
}

struct Product {
  std::string name;
  std::vector<procedures::FoodReading> readings;
  json said = json::array();
};

std::string_view food_word(procedures::FoodTime time) {
  switch (time) {
    case procedures::FoodTime::never_above:
      return "never";
    case procedures::FoodTime::within:
      return "within";
    case procedures::FoodTime::open:
      return "open";
    case procedures::FoodTime::over_four:
      return "over_four";
    case procedures::FoodTime::over:
      return "over";
  }
  return "open";
}

json product_json(const Product& product, const RecordSource& source) {
  json out = {{"product", product.name}, {"readings", product.said}, {"problem", ""}, {"history", nullptr}};
  const auto history = procedures::food_history(product.readings);
  if (!history) {
    out["problem"] = told(in_language(history.problem(), source.language), source.language);
    return out;
  }
  out["history"] = {
      {"warmest", quantity(Dimension::temperature, history->warmest, source.display)},
      {"limit", quantity(Dimension::temperature, procedures::cold_holding_limit, source.display)},
      {"six_hour_limit", quantity(Dimension::temperature, procedures::six_hour_limit, source.display)},
      {"seconds_above", history->above},
      {"longest_seconds_above", history->longest_above},
      {"longest_seconds_possible", history->longest_possible},
      {"longest_gap_seconds", history->longest_gap},
      {"above_at_first", history->above_at_first},
      {"above_at_last", history->above_at_last},
      {"verdict", food_word(procedures::food_time(*history))}};
  return out;
}

}  // namespace

json refrigerant_account(const RecordSource& source) {
  json movements = json::array();
  Sum sums[4];
  struct Cylinder {
    std::string name, refrigerant;
    Sum in, out;
  };
  std::vector<Cylinder> cylinders;
  for (const auto& entry : source.repair.moved) {
    const auto kind = static_cast<std::size_t>(entry.body.movement);
    const double step = step_of(source, entry.id);
    Sum one;
    one.add(entry.body.mass, step);
    sums[kind].add(entry.body.mass, step);
    if (!entry.body.cylinder.empty() && (kind == 0 || kind == 2)) {
      auto found = std::find_if(cylinders.begin(), cylinders.end(), [&](const Cylinder& c) {
        return c.name == entry.body.cylinder && c.refrigerant == entry.body.refrigerant;
      });
      if (found == cylinders.end())
        found = cylinders.insert(cylinders.end(), {entry.body.cylinder, entry.body.refrigerant, {}, {}});
      (kind == 0 ? found->in : found->out).add(entry.body.mass, step);
    }
    const auto scale = [&](const std::optional<calls::GivenNumber>& given) {
      return given ? json(given->text) : json(nullptr);
    };
    const std::string at = entry_time(source, entry.id);
    movements.push_back({{"movement", kMovements[kind]},
                         {"label", source.wording.word("record", kMovements[kind])},
                         {"refrigerant", entry.body.refrigerant},
                         {"cylinder", entry.body.cylinder},
                         {"mass", amount(one, source)},
                         {"before", scale(entry.body.before)},
                         {"after", scale(entry.body.after)},
                         {"id", entry.id},
                         {"by", entry.by},
                         {"at", at.empty() ? json(nullptr) : json(at)}});
  }
  json by_cylinder = json::array(), totals = json::object();
  for (const Cylinder& c : cylinders)
    by_cylinder.push_back({{"cylinder", c.name},
                           {"refrigerant", c.refrigerant},
                           {"in", amount(c.in, source)},
                           {"out", amount(c.out, source)}});
  for (std::size_t kind = 0; kind < 4; ++kind) totals[kMovements[kind]] = amount(sums[kind], source);
  return {{"movements", movements}, {"sums", totals}, {"cylinders", by_cylinder}};
}

json food_histories(const RecordSource& source) {
  std::vector<Product> products;
  for (const auto& entry : source.repair.product_temperatures) {
    auto found = std::find_if(products.begin(), products.end(),
                              [&](const Product& p) { return p.name == entry.body.product; });
    if (found == products.end()) found = products.insert(products.end(), Product{entry.body.product, {}, {}});
    const double seconds =
        static_cast<double>(entry.at->seconds) + 1e-9 * static_cast<double>(entry.at->nanoseconds);
    found->readings.push_back({seconds, entry.body.value.value});
    json said = quantity(Dimension::temperature, entry.body.value.value, source.display);
    said["at"] = entry_time(source, entry.id);
    said["id"] = entry.id;
    said["by"] = entry.by;
    found->said.push_back(std::move(said));
  }
  json out = json::array();
  for (const Product& product : products) out.push_back(product_json(product, source));
  return out;
}

}  // namespace coldwright::service

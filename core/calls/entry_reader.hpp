// Reads the keys of one entry. Remembers the first problem and the keys it was asked for, so that a key
// nobody asked for is found. Kept to calls/.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "calls/call.hpp"
#include "calls/strict_json.hpp"

namespace coldwright::calls {

inline constexpr double kZeroC = 273.15;  // K

class EntryReader {
 public:
  /// `field` names the entry in a Problem: "entry 4 (reading)".
  EntryReader(const nlohmann::json& object, std::string field) : object_(object), field_(std::move(field)) {}

  void common(Entry& entry);
  void nameplate(Entry& entry);
  void site(Entry& entry);
  void observation(Entry& entry);
  void reading(Entry& entry);
  void note(Entry& entry);
  // entry_reader_repair.cpp
  void step(Entry& entry);
  void order(Entry& entry);
  void procedure(Entry& entry);
  void test_reading(Entry& entry);
  void refrigerant_moved(Entry& entry);
  void part(Entry& entry);
  void work(Entry& entry);
  void cause_found(Entry& entry);
  void product_temperature(Entry& entry);
  void signature(Entry& entry);
  void watch(Entry& entry);

  const std::optional<Problem>& problem() const { return problem_; }

 private:
  std::string key_field(std::string_view key) const { return field_ + ", " + std::string(key); }
  void fail(Problem problem);
  /// The text behind a key; none when the key is absent (or a problem was found). `allowed` goes in the
  /// message.
  std::optional<std::string> text(std::string_view key, std::string_view allowed, std::size_t longest = 200);
  std::string required_text(std::string_view key, std::string_view allowed, std::size_t longest = 200);
  /// A quantity that has to lie in low..high (SI).
  std::optional<GivenNumber> quantity(Entry& entry, std::string_view key, base::Dimension dimension,
                                      double low, double high, std::string_view why);
  void reading_value(Entry& entry, ReadingEntry& body);
  void pressure_value(Entry& entry, ReadingEntry& body, const std::string& typed);
  void reading_accuracy(ReadingEntry& body);
  /// The place in `words` of what stands behind a key; 0 when the key is absent and may be.
  std::size_t choice(std::string_view key, const std::vector<std::string>& words, bool required = true);
  int run_number();
  /// Every text of an object but the keys named, in the order of their names.
  std::vector<std::pair<std::string, std::string>> texts(const nlohmann::json& object,
                                                         const std::string& field,
                                                         const std::vector<std::string>& but);
  /// Refuses every key that is in none of the lists.
  void refuse_other_keys(std::vector<std::string> own);

  const nlohmann::json& object_;
  std::string field_;
  std::optional<Problem> problem_;
};

}  // namespace coldwright::calls

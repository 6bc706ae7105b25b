// Reads typed values out of JSON and remembers the first thing that was not as expected.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/result.hpp"

namespace coldwright::service {

/// A place in a JSON document. A missing or wrong value reads as zero or empty and is noted once in
/// the shared `first_problem`, so a loader can read everything and ask at the end.
class JsonReader {
 public:
  JsonReader(const nlohmann::json* node, std::string path, std::optional<Problem>* first_problem)
      : node_(node), path_(std::move(path)), first_problem_(first_problem) {}

  bool has(const char* key) const { return node_ && node_->is_object() && node_->contains(key); }
  /// There, and not null.
  bool has_value(const char* key) const { return has(key) && !node_->find(key)->is_null(); }

  JsonReader at(const char* key) const {
    if (has(key)) return {&*node_->find(key), path_ + "." + key, first_problem_};
    note(path_ + "." + key, "missing", "a value", "the file is incomplete");
    return {nullptr, path_ + "." + key, first_problem_};
  }

  double number(const char* key) const { return at(key).number(); }
  int whole(const char* key) const { return static_cast<int>(number(key)); }
  std::string text(const char* key) const { return at(key).text(); }

  double number() const {
    if (node_ && node_->is_number()) return node_->get<double>();
    wrong("a number");
    return 0;
  }
  std::string text() const {
    if (node_ && node_->is_string()) return node_->get<std::string>();
    wrong("a text");
    return {};
  }
  bool yes() const {
    if (node_ && node_->is_boolean()) return node_->get<bool>();
    wrong("true or false");
    return false;
  }
  std::vector<JsonReader> items() const {
    std::vector<JsonReader> out;
    if (!node_ || !node_->is_array()) {
      wrong("a list");
      return out;
    }
    for (std::size_t i = 0; i < node_->size(); ++i)
      out.emplace_back(&(*node_)[i], path_ + "[" + std::to_string(i) + "]", first_problem_);
    return out;
  }
  std::vector<double> numbers() const {
    std::vector<double> out;
    for (const JsonReader& item : items()) out.push_back(item.number());
    return out;
  }

 private:
  void wrong(const char* wanted) const {
    if (node_) note(path_, node_->dump().substr(0, 40), wanted, "the file's format asks for it");
  }
  void note(std::string field, std::string given, std::string allowed, std::string why) const {
    if (!*first_problem_)
      *first_problem_ = Problem{std::move(field), std::move(given), std::move(allowed), std::move(why)};
  }

  const nlohmann::json* node_;
  std::string path_;
  std::optional<Problem>* first_problem_;
};

}  // namespace coldwright::service

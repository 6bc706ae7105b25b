// Checks a JSON value against the part of JSON Schema 2020-12 that our schemas use. A keyword it doesn't know
// is itself an error, so that no rule of a schema is passed over.
#pragma once

#include <nlohmann/json.hpp>
#include <set>
#include <string>

namespace coldwright::tests {

class SchemaCheck {
 public:
  explicit SchemaCheck(nlohmann::json schema) : root_(std::move(schema)) {}

  /// "" when it holds, else where and why not.
  std::string operator()(const nlohmann::json& value) const { return check(root_, value, "$"); }

 private:
  using Json = nlohmann::json;

  static bool has_type(const Json& value, const std::string& type) {
    if (type == "object") return value.is_object();
    if (type == "array") return value.is_array();
    if (type == "string") return value.is_string();
    if (type == "number") return value.is_number();
    if (type == "integer") return value.is_number_integer();
    if (type == "boolean") return value.is_boolean();
    return type == "null" && value.is_null();
  }

  static std::string check_type(const Json& types, const Json& value, const std::string& where) {
    const Json list = types.is_array() ? types : Json::array({types});
    for (const Json& type : list)
      if (has_type(value, type.get<std::string>())) return "";
    return where + ": not of type " + types.dump();
  }

  std::string check_object(const Json& schema, const Json& value, const std::string& where) const {
    if (!value.is_object()) return "";
    if (schema.contains("required"))
      for (const Json& key : schema["required"])
        if (!value.contains(key.get<std::string>())) return where + ": lacks " + key.dump();
    for (const auto& [key, item] : value.items()) {
      const std::string inner = where + "." + key;
      std::string wrong;
      if (schema.contains("properties") && schema["properties"].contains(key))
        wrong = check(schema["properties"][key], item, inner);
      else if (schema.contains("additionalProperties"))
        wrong = check(schema["additionalProperties"], item, inner);
      if (!wrong.empty()) return wrong;
    }
    return "";
  }

  std::string check_array(const Json& schema, const Json& value, const std::string& where) const {
    if (!value.is_array()) return "";
    if (schema.contains("minItems") && value.size() < schema["minItems"].get<std::size_t>())
      return where + ": too few";
    if (schema.contains("maxItems") && value.size() > schema["maxItems"].get<std::size_t>())
      return where + ": too many";
    if (!schema.contains("items")) return "";
    for (std::size_t i = 0; i < value.size(); ++i)
      if (auto wrong = check(schema["items"], value[i], where + "[" + std::to_string(i) + "]");
          !wrong.empty())
        return wrong;
    return "";
  }

  static std::string check_plain(const Json& schema, const Json& value, const std::string& where) {
    if (schema.contains("const") && value != schema["const"])
      return where + ": not " + schema["const"].dump();
    if (schema.contains("enum")) {
      bool found = false;
      for (const Json& allowed : schema["enum"]) found = found || allowed == value;
      if (!found) return where + ": " + value.dump() + " is none of " + schema["enum"].dump();
    }
    if (value.is_number() && schema.contains("minimum") &&
        value.get<double>() < schema["minimum"].get<double>())
      return where + ": too small";
    if (value.is_number() && schema.contains("maximum") &&
        value.get<double>() > schema["maximum"].get<double>())
      return where + ": too large";
    if (value.is_string() && schema.contains("minLength") &&
        value.get<std::string>().size() < schema["minLength"].get<std::size_t>())
      return where + ": too short";
    if (value.is_string() && schema.contains("maxLength") &&
        value.get<std::string>().size() > schema["maxLength"].get<std::size_t>())
      return where + ": too long";
    return "";
  }

  std::string check_combined(const Json& schema, const Json& value, const std::string& where) const {
    if (schema.contains("not") && check(schema["not"], value, where).empty())
      return where + ": is what it must not be";
    if (!schema.contains("anyOf")) return "";
    std::string reasons;
    for (const Json& option : schema["anyOf"]) {
      const std::string wrong = check(option, value, where);
      if (wrong.empty()) return "";
      reasons += " / " + wrong;
    }
    return where + ": fits none of the options" + reasons;
  }

  std::string check(const Json& schema, const Json& value, const std::string& where) const {
    static const std::set<std::string> known = {
        "$schema",     "$comment", "$defs",      "$ref",      "title",
        "description", "type",     "properties", "required",  "additionalProperties",
        "items",       "minItems", "maxItems",   "const",     "enum",
        "minimum",     "maximum",  "minLength",  "maxLength", "anyOf",
        "not"};
    if (schema.is_boolean()) return schema.get<bool>() ? "" : where + ": not allowed here";
    for (const auto& [key, rule] : schema.items())
      if (known.count(key) == 0)
        return where + ": the schema uses the keyword " + key + ", which this check doesn't know";
    if (schema.contains("$ref")) {
      const std::string name = schema["$ref"].get<std::string>().substr(8);  // "#/$defs/"
      if (!root_.contains("$defs") || !root_["$defs"].contains(name))
        return where + ": no definition of " + name;
      return check(root_["$defs"][name], value, where);
    }
    if (schema.contains("type"))
      if (auto wrong = check_type(schema["type"], value, where); !wrong.empty()) return wrong;
    for (const std::string& wrong : {check_plain(schema, value, where), check_object(schema, value, where),
                                     check_array(schema, value, where), check_combined(schema, value, where)})
      if (!wrong.empty()) return wrong;
    return "";
  }

  Json root_;
};

}  // namespace coldwright::tests

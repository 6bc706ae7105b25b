#include "judge/visit_lines.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <limits>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace coldwright::judge {
namespace {

using lab::Readable;
using Json = nlohmann::json;

struct Number {
  const char* name;
  double Readable::*of;
};
constexpr Number kNumbers[] = {{"time", &Readable::time},
                               {"suction_pressure", &Readable::suction_pressure},
                               {"discharge_pressure", &Readable::discharge_pressure},
                               {"evaporator_inlet", &Readable::evaporator_inlet},
                               {"evaporator_outlet", &Readable::evaporator_outlet},
                               {"suction_line", &Readable::suction_line},
                               {"discharge_line", &Readable::discharge_line},
                               {"condenser_middle", &Readable::condenser_middle},
                               {"liquid_line", &Readable::liquid_line},
                               {"shell", &Readable::shell},
                               {"box_air", &Readable::box_air},
                               {"evaporator_air_out", &Readable::evaporator_air_out},
                               {"condenser_air_out", &Readable::condenser_air_out},
                               {"ambient", &Readable::ambient},
                               {"product", &Readable::product},
                               {"current", &Readable::current},
                               {"power", &Readable::power},
                               {"supply_voltage", &Readable::supply_voltage},
                               {"terminal_voltage", &Readable::terminal_voltage},
                               {"run_winding_ohms", &Readable::run_winding_ohms},
                               {"start_winding_ohms", &Readable::start_winding_ohms},
                               {"running_for", &Readable::running_for},
                               {"condenser_air", &Readable::condenser_air},
                               {"evaporator_air", &Readable::evaporator_air},
                               {"condenser_fan", &Readable::condenser_fan},
                               {"evaporator_fan", &Readable::evaporator_fan},
                               {"dirt", &Readable::dirt},
                               {"frost", &Readable::frost}};
struct Flag {
  const char* name;
  bool Readable::*of;
};
constexpr Flag kFlags[] = {{"motor_turns", &Readable::motor_turns},
                           {"motor_hums", &Readable::motor_hums},
                           {"calls_for_cold", &Readable::calls_for_cold}};

Json rounded(double v) {
  if (!std::isfinite(v)) return nullptr;
  return std::strtod(fmt::format("{:.6g}", v).c_str(), nullptr);
}

Json column(std::vector<Json> values, bool always_whole) {
  const bool constant = !values.empty() && std::all_of(values.begin(), values.end(),
                                                       [&](const Json& v) { return v == values[0]; });
  if (constant && !always_whole) return values[0];
  return values;
}

Problem wrong(std::string_view member, std::string_view why) {
  return {std::string(member), "a line of visits", "see bench/judge/visit_lines.hpp", std::string(why)};
}

double number_of(const Json& j) {
  return j.is_null() ? std::numeric_limits<double>::infinity() : j.get<double>();
}

bool is_number(const Json& j) { return j.is_number() || j.is_null(); }

// Value `i` of a column; nullptr when there is none.
const Json* value_at(const Json& course, const char* name, std::size_t i) {
  const auto at = course.find(name);
  if (at == course.end()) return nullptr;
  if (!at->is_array()) return is_number(*at) ? &*at : nullptr;
  return i < at->size() && is_number((*at)[i]) ? &(*at)[i] : nullptr;
}

Result<std::vector<Readable>> read_course(const Json& line) {
  const auto course = line.find("course");
  if (course == line.end() || !course->is_object()) return wrong("course", "it isn't there");
  const auto time = course->find("time");
  if (time == course->end() || !time->is_array() || time->empty())
    return wrong("course.time", "it has the length of the course");
  std::vector<Readable> moments(time->size());
  for (std::size_t i = 0; i < moments.size(); ++i) {
    for (const Number& n : kNumbers) {
      const Json* v = value_at(*course, n.name, i);
      if (!v) return wrong(std::string("course.") + n.name, "a value is missing");
      moments[i].*n.of = number_of(*v);
    }
    for (const Flag& f : kFlags) {
      const Json* v = value_at(*course, f.name, i);
      if (!v) return wrong(std::string("course.") + f.name, "a value is missing");
      moments[i].*f.of = number_of(*v) != 0;
    }
  }
  return moments;
}

}  // namespace

std::string to_line(const lab::Visit& v) {
  Json truth = Json::array();
  for (const lab::TrueCause& c : v.truth)
    truth.push_back({{"cause", c.id}, {"severity", rounded(c.severity)}});
  Json course = Json::object();
  for (const Number& n : kNumbers) {
    std::vector<Json> values;
    for (const Readable& r : v.course) values.push_back(rounded(r.*n.of));
    course[n.name] = column(std::move(values), n.of == &Readable::time);
  }
  for (const Flag& f : kFlags) {
    std::vector<Json> values;
    for (const Readable& r : v.course) values.push_back(r.*f.of ? 1 : 0);
    course[f.name] = column(std::move(values), false);
  }
  const Json line{{"seed", v.seed},
                  {"archetype", v.archetype},
                  {"refrigerant", v.refrigerant},
                  {"plate",
                   {{"charge", rounded(v.plate_charge)},
                    {"current", rounded(v.plate_current)},
                    {"voltage", rounded(v.plate_voltage)},
                    {"set_point", rounded(v.set_point)}}},
                  {"site_pressure", rounded(v.site_pressure)},
                  {"truth", truth},
                  {"box_holds", v.box_holds},
                  {"starts_last_hour", v.starts_last_hour},
                  {"trips_last_hour", v.trips_last_hour},
                  {"standing_pressure", rounded(v.standing_pressure)},
                  {"course", course}};
  return line.dump();
}

Result<lab::Visit> visit_from_line(std::string_view text) {
  const Json line = Json::parse(text, nullptr, false);
  if (!line.is_object()) return wrong("line", "it is no JSON object");
  for (const char* name : {"archetype", "refrigerant"})
    if (!line.contains(name) || !line[name].is_string()) return wrong(name, "a text is missing");
  for (const char* name :
       {"seed", "site_pressure", "starts_last_hour", "trips_last_hour", "standing_pressure"})
    if (!line.contains(name) || !line[name].is_number()) return wrong(name, "a number is missing");
  const auto plate = line.find("plate"), truth = line.find("truth"), holds = line.find("box_holds");
  if (plate == line.end() || !plate->is_object()) return wrong("plate", "it isn't there");
  for (const char* name : {"charge", "current", "voltage", "set_point"})
    if (!plate->contains(name) || !(*plate)[name].is_number()) return wrong(name, "a number is missing");
  if (truth == line.end() || !truth->is_array() || truth->empty() || truth->size() > 2)
    return wrong("truth", "one or two causes are allowed");
  if (holds == line.end() || !holds->is_boolean()) return wrong("box_holds", "it is true or false");
  lab::Visit v;
  v.seed = line["seed"].get<std::uint64_t>();
  v.archetype = line["archetype"].get<std::string>();
  v.refrigerant = line["refrigerant"].get<std::string>();
  v.plate_charge = (*plate)["charge"].get<double>();
  v.plate_current = (*plate)["current"].get<double>();
  v.plate_voltage = (*plate)["voltage"].get<double>();
  v.set_point = (*plate)["set_point"].get<double>();
  v.site_pressure = line["site_pressure"].get<double>();
  for (const Json& c : *truth) {
    if (!c.is_object() || !c.contains("cause") || !c["cause"].is_string() || !c.contains("severity") ||
        !c["severity"].is_number())
      return wrong("truth", "each has a cause and a severity");
    v.truth.push_back({c["cause"].get<std::string>(), c["severity"].get<double>()});
  }
  v.box_holds = holds->get<bool>();
  v.starts_last_hour = line["starts_last_hour"].get<int>();
  v.trips_last_hour = line["trips_last_hour"].get<int>();
  v.standing_pressure = line["standing_pressure"].get<double>();
  auto course = read_course(line);
  if (!course) return course.problem();
  v.course = std::move(*course);
  return v;
}

}  // namespace coldwright::judge

#include "service/practice_records.hpp"

#include <algorithm>
#include <limits>

#include "base/text.hpp"
#include "service/embedded.hpp"
#include "service/json_reader.hpp"

namespace coldwright::service {
namespace {

using practice::RecordedMoment;

constexpr std::string_view kFolder = "practice/", kEnding = ".json";

struct Number {
  std::string_view name;
  double RecordedMoment::*of;
};
constexpr Number kNumbers[] = {
    {"time", &RecordedMoment::time},
    {"suction_pressure", &RecordedMoment::suction_pressure},
    {"discharge_pressure", &RecordedMoment::discharge_pressure},
    {"evaporator_inlet", &RecordedMoment::evaporator_inlet},
    {"evaporator_outlet", &RecordedMoment::evaporator_outlet},
    {"suction_line", &RecordedMoment::suction_line},
    {"discharge_line", &RecordedMoment::discharge_line},
    {"condenser_middle", &RecordedMoment::condenser_middle},
    {"liquid_line", &RecordedMoment::liquid_line},
    {"shell", &RecordedMoment::shell},
    {"box_air", &RecordedMoment::box_air},
    {"evaporator_air_out", &RecordedMoment::evaporator_air_out},
    {"condenser_air_out", &RecordedMoment::condenser_air_out},
    {"ambient", &RecordedMoment::ambient},
    {"current", &RecordedMoment::current},
    {"supply_voltage", &RecordedMoment::supply_voltage},
    {"terminal_voltage", &RecordedMoment::terminal_voltage},
    {"run_winding_ohms", &RecordedMoment::run_winding_ohms},
    {"start_winding_ohms", &RecordedMoment::start_winding_ohms},
    {"running_for", &RecordedMoment::running_for},
    {"condenser_fan", &RecordedMoment::condenser_fan},
    {"evaporator_fan", &RecordedMoment::evaporator_fan},
    {"dirt", &RecordedMoment::dirt},
    {"frost", &RecordedMoment::frost},
};
struct YesNo {
  std::string_view name;
  bool RecordedMoment::*of;
};
constexpr YesNo kStates[] = {{"motor_turns", &RecordedMoment::motor_turns},
                             {"motor_hums", &RecordedMoment::motor_hums},
                             {"calls_for_cold", &RecordedMoment::calls_for_cold}};

/// A null stands for what has no end: the resistance of an open winding.
bool fill(RecordedMoment& moment, std::string_view column, const nlohmann::json& cell) {
  for (const Number& number : kNumbers)
    if (number.name == column) {
      if (!cell.is_number() && !cell.is_null()) return false;
      moment.*number.of = cell.is_null() ? std::numeric_limits<double>::infinity() : cell.get<double>();
      return true;
    }
  for (const YesNo& state : kStates)
    if (state.name == column) {
      if (!cell.is_number_integer()) return false;
      moment.*state.of = cell.get<int>() != 0;
      return true;
    }
  return false;
}

}  // namespace

std::vector<std::string> practice_record_ids() {
  std::vector<std::string> ids;
  for (const EmbeddedFile& file : embedded_files())
    if (file.path.starts_with(kFolder) && file.path.ends_with(kEnding))
      ids.emplace_back(file.path.substr(kFolder.size(), file.path.size() - kFolder.size() - kEnding.size()));
  std::sort(ids.begin(), ids.end());
  return ids;
}

Result<practice::Recorded> practice_record(std::string_view id) {
  const auto text = embedded(std::string(kFolder) + std::string(id) + std::string(kEnding));
  const auto ids = practice_record_ids();
  if (!text || std::find(ids.begin(), ids.end(), id) == ids.end())
    return Problem{"recorded", base::quoted(std::string(id), 40), base::listed(ids),
                   "there is no such recorded call"};
  return parse_practice_record(*text, id);
}

Result<practice::Recorded> parse_practice_record(std::string_view json_text, std::string_view id) {
  const nlohmann::json document = nlohmann::json::parse(json_text, nullptr, false);
  const std::string name = std::string(kFolder) + std::string(id) + std::string(kEnding);
  std::optional<Problem> problem;
  const JsonReader reader(&document, name, &problem);
  practice::Recorded r;
  r.id = id;
  const auto level = practice::level_from(reader.text("level"));
  r.level = level.value_or(practice::Level::working_day);
  r.seed = static_cast<std::uint64_t>(reader.number("seed"));
  r.cabinet = reader.text("cabinet");
  r.refrigerant = reader.text("refrigerant");
  const JsonReader plate = reader.at("plate");
  r.charge = plate.number("charge");
  r.current = plate.number("current");
  r.voltage = plate.number("voltage");
  r.set_point = plate.number("set_point");
  r.site_pressure = reader.number("site_pressure");
  r.standing_pressure = reader.number("standing_pressure");
  r.trips_last_hour = reader.whole("trips_last_hour");
  for (const JsonReader& row : reader.at("truth").items())
    r.truth.push_back({row.text("cause"), row.number("severity")});
  std::vector<std::string> columns;
  for (const JsonReader& column : reader.at("columns").items()) columns.push_back(column.text());
  if (problem) return *problem;
  const Problem bad_row{name, "a row", "a value for each column, times rising",
                        "the file's format asks for it"};
  const auto rows = document.find("rows");
  if (!level || rows == document.end() || !rows->is_array() || rows->empty()) return bad_row;
  for (const nlohmann::json& row : *rows) {
    if (!row.is_array() || row.size() != columns.size()) return bad_row;
    RecordedMoment moment;
    for (std::size_t i = 0; i < columns.size(); ++i)
      if (!fill(moment, columns[i], row[i])) return bad_row;
    if (!r.course.empty() && !(moment.time > r.course.back().time)) return bad_row;
    r.course.push_back(moment);
  }
  return r;
}

}  // namespace coldwright::service

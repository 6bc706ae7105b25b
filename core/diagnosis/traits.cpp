#include "diagnosis/traits.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace coldwright::diagnosis {
namespace {

using circuit::ReadingKind;
using enum circuit::ReadingKind;

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr double kLeastSplit = 1.5;     // K; a share of less says nothing
constexpr double kUnknownTime = 60;     // min of running, where it isn't known
constexpr double kLeastPressure = 2e3;  // Pa; below it no saturation is tabulated

// Everything a trait is reckoned from; NaN for what is missing.
struct Told {
  double ambient, box, set_point, plate, minutes;
  std::array<double, circuit::kReadingKinds> at;
  const circuit::WorkingFluid* fluid;
  double operator()(ReadingKind kind) const { return at[static_cast<std::size_t>(kind)]; }
  double boiling(ReadingKind kind) const {
    const double p = (*this)(kind);
    return p > kLeastPressure ? fluid->saturation_temperature(std::log(p)) : kNone;
  }
};

struct Trait {
  const char* id;
  double (*of)(const Told&);
};

constexpr Trait kTraits[] = {
    {"ambient", [](const Told& s) { return s.ambient; }},
    {"room_less_box", [](const Told& s) { return s.ambient - s.box; }},
    {"box_less_set_point", [](const Told& s) { return s.box - s.set_point; }},
    {"minutes_running", [](const Told& s) { return s.minutes; }},
    {"current_of_plate", [](const Told& s) { return s(compressor_current) / s.plate; }},
    {"middle_less_room", [](const Told& s) { return s(condenser_middle_temp) - s.ambient; }},
    {"liquid_less_room", [](const Told& s) { return s(liquid_line_temp) - s.ambient; }},
    {"middle_less_liquid", [](const Told& s) { return s(condenser_middle_temp) - s(liquid_line_temp); }},
    {"share_lost_by_liquid",
     [](const Told& s) {
       return (s(condenser_middle_temp) - s(liquid_line_temp)) /
              std::max(s(condenser_middle_temp) - s.ambient, kLeastSplit);
     }},
    {"discharge_less_middle",
     [](const Told& s) { return s(discharge_line_temp) - s(condenser_middle_temp); }},
    {"discharge_less_room", [](const Told& s) { return s(discharge_line_temp) - s.ambient; }},
    {"suction_less_room", [](const Told& s) { return s(suction_line_temp) - s.ambient; }},
    {"suction_less_box", [](const Told& s) { return s(suction_line_temp) - s.box; }},
    {"box_less_inlet", [](const Told& s) { return s.box - s(evaporator_inlet_temp); }},
    {"outlet_less_inlet", [](const Told& s) { return s(evaporator_outlet_temp) - s(evaporator_inlet_temp); }},
    {"box_less_outlet", [](const Told& s) { return s.box - s(evaporator_outlet_temp); }},
    {"suction_less_outlet", [](const Told& s) { return s(suction_line_temp) - s(evaporator_outlet_temp); }},
    {"box_less_air_out", [](const Told& s) { return s.box - s(evaporator_air_out_temp); }},
    {"air_out_less_room", [](const Told& s) { return s(condenser_air_out_temp) - s.ambient; }},
    {"box_less_boiling", [](const Told& s) { return s.box - s.boiling(suction_pressure); }},
    {"inlet_less_boiling",
     [](const Told& s) { return s(evaporator_inlet_temp) - s.boiling(suction_pressure); }},
    {"outlet_less_boiling",
     [](const Told& s) { return s(evaporator_outlet_temp) - s.boiling(suction_pressure); }},
    {"condensing_less_room", [](const Told& s) { return s.boiling(discharge_pressure) - s.ambient; }},
    {"condensing_less_middle",
     [](const Told& s) { return s.boiling(discharge_pressure) - s(condenser_middle_temp); }},
    {"condensing_less_liquid",
     [](const Told& s) { return s.boiling(discharge_pressure) - s(liquid_line_temp); }},
};

}  // namespace

const std::vector<std::string>& trait_ids() {
  static const std::vector<std::string> ids = [] {
    std::vector<std::string> all;
    for (const Trait& t : kTraits) all.emplace_back(t.id);
    return all;
  }();
  return ids;
}

std::vector<double> traits(const Scene& scene, const Case& c) {
  Told told{};
  told.ambient = scene.ambient;
  told.box = scene.box;
  told.set_point = scene.plate->set_point.value_or(scene.kind->set_point_K);
  told.plate = c.nameplate.rated_current.value_or(kNone);
  told.minutes = kUnknownTime;
  told.at.fill(kNone);
  told.fluid = scene.fluid;
  for (const Reading& r : c.readings) {
    told.at[static_cast<std::size_t>(r.kind)] = r.value;
    if (r.minutes_running) told.minutes = std::min(told.minutes, *r.minutes_running);
  }
  std::vector<double> all;
  for (const Trait& t : kTraits) all.push_back(t.of(told));
  return all;
}

}  // namespace coldwright::diagnosis

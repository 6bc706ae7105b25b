// An answer and an expectation made by hand, every field filled, so that what is printed of them can be
// tested without computing one. The numbers are invented and mean nothing.
#pragma once

#include "service/call_case.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::tests {

using circuit::ReadingKind;
using diagnosis::Interval;
using diagnosis::Unit;

inline service::CallCase made_case(base::UnitSystem system) {
  calls::Folded folded;
  folded.name = "Skarrvik ice-cream kiosk, counter cabinet";
  folded.refrigerant = "R290";
  folded.units = system;
  folded.the_case.nameplate.archetype = "ice_cream_display";
  folded.the_case.nameplate.refrigerant = "R290";
  folded.the_case.nameplate.charge = 0.12;
  folded.the_case.ambient = 300;
  folded.the_case.readings = {{ReadingKind::suction_pressure, 2.4e5, std::nullopt, std::nullopt, "r1"},
                              {ReadingKind::compressor_current, 1.84, std::nullopt, std::nullopt, "r2"}};
  folded.the_case.observations = {{"condenser_fan", "running", "o1"}};
  folded.remarks = {{"sea_level_assumed", {}, {}}};
  return {std::move(folded),
          *service::load_fluid("R290"),
          {},
          *service::Wording::load("en"),
          {system, base::sea_level},
          {}};
}

inline diagnosis::Answer made_answer() {
  diagnosis::Answer a;
  a.causes = {{"low_charge", 0.72, Interval{0.2, 0.3, 0.45}, "share_of_charge_missing"},
              {"restriction", 0.2, Interval{0.3, 0.5, 0.7}, "share_of_capillary_blocked"},
              {"dirty_condenser+overcharge", 0.05, std::nullopt, ""},
              {"sound", 0.03, std::nullopt, "none"}};
  a.reasons = {{"sea_level_assumed", {}, {}}};
  a.contributions = {{"r1", "suction_pressure", 1.4, 0.6, Interval{2.8e5, 3.2e5, 3.6e5}},
                     {"r2", "compressor_current", 0.2, 0.05, Interval{1.9, 2.1, 2.4}},
                     {"o1", "condenser_fan", -0.1, 0.01, std::nullopt}};
  a.unseen = {{"superheat", Unit::temperature_difference, {8, 12, 18}, Interval{3, 6, 9}},
              {"capacity", Unit::power, {180, 230, 280}, std::nullopt},
              {"compressor_power", Unit::power, {150, 160, 170}, std::nullopt},
              {"charge", Unit::mass, {0.07, 0.085, 0.1}, Interval{0.115, 0.12, 0.125}}};
  a.next = {{"liquid_line_temp", false, 0.31, 2, 0, false, "", 0.15, 6},
            {"discharge_pressure", false, 0.4, 20, 8, true, "opening_flammable_circuit", 0.01, 1.2},
            {"oil_trace", true, 0.1, 5, 0, false, "", 0.02, 0.5}};
  a.turnings = {
      {ReadingKind::suction_pressure, true, 2.4e5, 2.7e5, true, "low_charge", "restriction", 0.1},
      {ReadingKind::liquid_line_temp, false, std::nullopt, 305, false, "low_charge", "restriction", 0.3}};
  a.suspects = {{"r2", ReadingKind::compressor_current, 1.84, {2.0, 2.2, 2.5}, 0.8}};
  a.cautions = {{"caution_pressure", {}, {}}};
  a.quality = {812, 95, 2720, 3, 1, true, {}};
  a.sources = {"lemmon2009", "zivi1964"};
  return a;
}

inline diagnosis::Expectation made_expectation() {
  diagnosis::Expectation e;
  e.now = {300,
           284,
           {{ReadingKind::suction_pressure, {2.8e5, 3.2e5, 3.6e5}},
            {ReadingKind::compressor_current, {1.9, 2.1, 2.4}}},
           {{"superheat", Unit::temperature_difference, {3, 6, 9}, std::nullopt}}};
  e.set_point = {300,
                 255,
                 {{ReadingKind::suction_pressure, {1.6e5, 1.8e5, 2.0e5}}},
                 {{"condenser_split", Unit::temperature_difference, {9, 11, 14}, std::nullopt}}};
  e.rules = {{"condenser_split", {11, 14, 17}, {9, 11, 14}, {7, 9, 12}, {{"sea_level_assumed", {}, {}}}}};
  e.quality = {160, 160, 160, 0, 0, true, {}};
  e.sources = {"lemmon2009"};
  return e;
}

}  // namespace coldwright::tests

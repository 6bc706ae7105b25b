// What the parts of the use case "flammable" share: what was asked, and the answer under way. Kept to
// service/.
#pragma once

#include <optional>
#include <string>

#include "procedures/room_air.hpp"
#include "service/lower_limit.hpp"
#include "service/procedure_inputs.hpp"
#include "service/usual_tools.hpp"

namespace coldwright::service::flammable {

using base::Dimension;

constexpr double kUsualHeight = 2.2;          // m, as room formulas of the standards reckon (from memory)
constexpr double kUsualWind = 1;              // m/s, a light air (our estimate)
constexpr double kUsualChanges = 0.5 / 3600;  // 1/s, a closed room (our estimate)

struct Question {
  double charge = 0, height = kUsualHeight, share = 0.25, bore = kUsualBore, length = kUsualLength;
  double wind = kUsualWind;
  double changes = kUsualChanges, p = 0;
  std::optional<double> volume;
  procedures::RoomAir air{};
  std::string leaves;  // "recovered" or "released"
};

struct Sheet {
  const Question& q;
  const fluids::Fluid& fluid;
  LowerLimit limit;
  double here, chosen;  // kg/m3: the limit here, and the chosen share of it
  const base::Display& display;
  ProcedureAnswer& answer;

  FigureInput charge() const { return input("charge", Dimension::mass, q.charge, display, 1); }
  FigureInput share() const { return input("share_of_limit", Dimension::quality, q.share, display); }
  FigureInput lower() const { return input("lower_limit", Dimension::density, here, display, 2); }
  FigureInput temperature() const {
    return input("air_temperature", Dimension::temperature, q.air.T, display);
  }
};

/// What letting it out outdoors comes to; no flow where its pressure isn't above the air's.
struct Outdoors {
  double calm = 0, wind = 0, flow = 0, seconds = 0, left = 0;  // m, m, kg/s, s, share
  std::optional<diagnosis::Interval> jet;                      // m
  std::optional<double> momentum;                              // m
};
Result<Outdoors> outdoors(Sheet& sheet);
/// In the room, let out over `seconds`; 0: all at once.
void indoors(Sheet& sheet, double seconds);
/// The sentences about how it thins, with what they take for granted.
void dilution(Sheet& sheet, const Outdoors& outdoors);

}  // namespace coldwright::service::flammable

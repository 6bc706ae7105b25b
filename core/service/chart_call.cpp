// A chart's cycles and points from a call: the sound machine, this one as inferred, and what was read.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "calls/strict_json.hpp"
#include "service/call_case.hpp"
#include "service/chart_parts.hpp"
#include "service/given_answer.hpp"

namespace coldwright::service {
namespace {

using circuit::ReadingKind;
using diagnosis::Answer;
using drawing::Against;
using nlohmann::json;

/// A quantity of the machine now and, beside it, of a sound one, as the answer carries it: among what nobody
/// measured, or as the reading itself with what it was expected to be.
struct Pair {
  std::optional<double> now, sound;
};

Pair quantity_of(const CallCase& c, const Answer& answer, std::string_view name) {
  for (const diagnosis::Unseen& row : answer.unseen)
    if (row.quantity == name)
      return {row.interval.mid, row.sound ? std::optional(row.sound->mid) : std::nullopt};
  Pair pair;
  for (const diagnosis::Reading& reading : c.folded.the_case.readings)
    if (circuit::info(reading.kind).id == name) pair.now = reading.value;
  for (const diagnosis::Contribution& row : answer.contributions)
    if (row.subject == name && row.expected_if_sound) pair.sound = row.expected_if_sound->mid;
  return pair;
}

struct Sides {
  Pair low, high, superheat, subcooling, discharge;
};

Sides sides_of(const CallCase& c, const Answer& answer) {
  return {quantity_of(c, answer, "suction_pressure"), quantity_of(c, answer, "discharge_pressure"),
          quantity_of(c, answer, "superheat"), quantity_of(c, answer, "subcooling"),
          quantity_of(c, answer, "discharge_temperature")};
}

/// A machine whose pressures stand this close together moves next to nothing.
constexpr double kLeastRatio = 1.15;  // our-estimate

void add_cycle(ChartParts& parts, const Wording& wording, const Sides& sides, drawing::Role role) {
  const bool sound = role == drawing::Role::sound;
  const auto value = [&](const Pair& pair) { return sound ? pair.sound : pair.now; };
  const auto low = value(sides.low), high = value(sides.high);
  if (!low || !high) return;
  if (*high < kLeastRatio * *low) {
    if (!sound) parts.notes.push_back(wording.word("chart", "no_cycle"));
    return;
  }
  const drawing::CycleGiven given{*low,
                                  *high,
                                  std::max(0.0, value(sides.superheat).value_or(0)),
                                  std::max(0.0, value(sides.subcooling).value_or(0)),
                                  1,
                                  value(sides.discharge)};
  auto cycle = drawing::make_cycle(parts.fluid, given);
  if (!cycle) {
    if (!sound) parts.notes.push_back(wording.word("chart", "no_inference"));
    return;
  }
  const char* key = sound ? "cycle_sound" : "cycle_inferred";
  parts.cycles.push_back({role, wording.word("chart", key), std::move(*cycle)});
}

enum class ChartSide { low, high, standing, none };
ChartSide side_of(ReadingKind kind) {
  switch (kind) {
    case ReadingKind::suction_pressure:
    case ReadingKind::evaporator_inlet_temp:
    case ReadingKind::evaporator_outlet_temp:
    case ReadingKind::suction_line_temp:
      return ChartSide::low;
    case ReadingKind::discharge_pressure:
    case ReadingKind::discharge_line_temp:
    case ReadingKind::condenser_middle_temp:
    case ReadingKind::liquid_line_temp:
      return ChartSide::high;
    case ReadingKind::standing_pressure:
      return ChartSide::standing;
    default:
      return ChartSide::none;
  }
}

Against against(const Answer* answer, const diagnosis::Reading& reading) {
  if (answer == nullptr) return Against::unknown;
  for (const diagnosis::Contribution& row : answer->contributions)
    if (row.id == reading.id && row.subject == circuit::info(reading.kind).id && row.expected_if_sound)
      return reading.value < row.expected_if_sound->low    ? Against::below
             : reading.value > row.expected_if_sound->high ? Against::above
                                                           : Against::within;
  return Against::unknown;
}

/// Where a reading stands. A pressure alone stands on the dew line; a temperature at its side's pressure.
std::optional<drawing::Sample> place_of(const fluids::Fluid& fluid, const diagnosis::Reading& reading,
                                        std::optional<double> pressure, bool& single) {
  single = false;
  if (circuit::info(reading.kind).quantity == circuit::QuantityKind::pressure) {
    const auto T = fluid.dew_temperature(reading.value);
    if (!T) return std::nullopt;
    return drawing::Sample{reading.value, *T, 0};
  }
  if (!pressure) return std::nullopt;
  const auto bubble = fluid.bubble_temperature(*pressure), dew = fluid.dew_temperature(*pressure);
  // What a pipe carries is taken for granted; on the other side of saturation, pressure and clamp don't
  // agree.
  const bool liquid = reading.kind == ReadingKind::liquid_line_temp;
  const bool vapour = reading.kind == ReadingKind::evaporator_outlet_temp ||
                      reading.kind == ReadingKind::suction_line_temp ||
                      reading.kind == ReadingKind::discharge_line_temp;
  drawing::Sample at{*pressure, reading.value, 0};
  // Within a clamp's own error of saturation, temperature doesn't tell the share of vapour.
  constexpr double margin = 0.5;  // K, our-estimate
  if (bubble && dew &&
      ((liquid && reading.value < *bubble - margin) || (vapour && reading.value > *dew + margin)))
    if (const auto state = fluid.at_Tp(reading.value, *pressure)) {
      at.h = state->h;
      single = true;
    }
  return at;
}

void add_readings(ChartParts& parts, const CallCase& c, const Answer* answer, const Sides& sides) {
  bool inferred = false;
  for (const diagnosis::Reading& reading : c.folded.the_case.readings) {
    const ChartSide side = side_of(reading.kind);
    if (side == ChartSide::none || parts.marks.size() == 26) continue;
    const auto pressure = side == ChartSide::low ? sides.low.now : sides.high.now;
    bool single = false;
    const auto at = place_of(parts.fluid, reading, pressure, single);
    if (!at) continue;
    const bool of_pressure = circuit::info(reading.kind).quantity == circuit::QuantityKind::pressure;
    const char* gauge = side == ChartSide::low ? "suction_pressure" : "discharge_pressure";
    const bool read =
        std::any_of(c.folded.the_case.readings.begin(), c.folded.the_case.readings.end(),
                    [&](const diagnosis::Reading& other) { return circuit::info(other.kind).id == gauge; });
    inferred = inferred || (!of_pressure && !read);
    parts.marks.push_back(
        {c.wording.word("readings", circuit::info(reading.kind).id), *at, single, against(answer, reading)});
  }
  if (inferred) parts.notes.push_back(c.wording.word("chart", "pressures_inferred"));
}

}  // namespace

Result<ChartParts> chart_of_call(Request& request, const Wording& wording, const Context& context) {
  json inner = json::object();
  for (const char* key : {"call", "call_text", "seed", "population", "units"})
    if (const json* value = request.find(key)) inner[key] = *value;
  const auto c = read_call_case(calls::dump(inner), context);
  if (!c) return c.problem();
  ChartParts parts{c->fluid, c->display, c->folded.name, {}, {}, {}, {}};
  const bool reckoned = request.has("diagnosis");
  const auto answer = reckoned ? given_answer(request)
                               : diagnosis::diagnose(c->folded.the_case, c->fluid, c->knowledge, c->options);
  if (reckoned && !answer) return answer.problem();
  Sides sides;
  if (answer) {
    sides = sides_of(*c, *answer);
    parts.sources = answer->sources;
    add_cycle(parts, wording, sides, drawing::Role::sound);
    add_cycle(parts, wording, sides, drawing::Role::inferred);
  } else {
    if (context.progress && !context.progress(1)) return answer.problem();
    for (const diagnosis::Reading& reading : c->folded.the_case.readings) {
      if (reading.kind == ReadingKind::suction_pressure) sides.low.now = reading.value;
      if (reading.kind == ReadingKind::discharge_pressure) sides.high.now = reading.value;
    }
    parts.notes.push_back(wording.word("chart", "no_inference"));
  }
  add_readings(parts, *c, answer ? &*answer : nullptr, sides);
  return parts;
}

}  // namespace coldwright::service

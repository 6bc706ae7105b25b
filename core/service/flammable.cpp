// Use case "flammable": a charge that burns, against the limits of the standards, the room, and the air it is
// let out into; and the walk through what must be off, what must be tested and how the charge leaves. It
// warns and defers; it never says that a thing may be done.
#include <algorithm>

#include "service/cautions.hpp"
#include "service/charge_limits.hpp"
#include "service/flammable_parts.hpp"
#include "service/from_call.hpp"
#include "service/property_answer.hpp"
#include "service/tool_parts.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace flammable {
namespace {

constexpr double kLeastZone = 3;  // m, kept round the work all the same (common practice)

Result<Question> ask(Request& request, const fluids::Fluid& fluid, base::SitePressure site,
                     std::optional<base::UnitSystem>& spoken_in) {
  Question q;
  const auto charge = positive(request, "charge", Dimension::mass, spoken_in);
  const auto area = positive(request, "area", Dimension::area, spoken_in);
  q.height = positive(request, "height", Dimension::length, spoken_in).value_or(q.height);
  q.volume = positive(request, "volume", Dimension::volume, spoken_in);
  q.share = share(request, "share", 1).value_or(q.share);
  q.air = {temperature(request, "t", spoken_in).value_or(293.15), site.si};
  q.bore = positive(request, "bore", Dimension::length, spoken_in).value_or(q.bore);
  q.length = positive(request, "length", Dimension::length, spoken_in).value_or(q.length);
  q.wind = speed(request, "wind", 40).value_or(q.wind);
  q.changes = in_units(request, "changes", {{"", 1 / 3600.0}}, 1e-6, 100 / 3600.0,
                       "a number of air changes an hour, such as 0.5")
                  .value_or(q.changes);
  const auto p = pressure(request, "pressure", site, spoken_in);
  q.leaves = choice(request, "leaves", {"recovered", "released"}).value_or("recovered");
  if (request.problem()) return *request.problem();
  if (!charge)
    return Problem{"charge", "nothing", "the plate's charge, such as 150 g", "there is no answer without it"};
  if (area && q.volume)
    return Problem{"volume", "a volume beside a floor area", "one of the two",
                   "each of them alone says how large the room is"};
  if (q.bore > 0.05)
    return Problem{"bore", *request.text("bore"), "up to 50 mm (2 in)", "no service hose is wider"};
  if (q.length > 60)
    return Problem{"length", *request.text("length"), "up to 60 m (200 ft)", "no service hose is longer"};
  q.charge = *charge;
  if (area) q.volume = *area * q.height;
  const auto dew = fluid.dew_pressure(q.air.T);
  if (!dew) return dew.problem();
  q.p = p.value_or(*dew);
  if (p && !(*p > site.si))
    return Problem{"pressure", *request.text("pressure"), "above the air's pressure",
                   "nothing flows out by itself below it"};
  return q;
}
void limits(Sheet& s, const std::vector<ChargeLimit>& rows, const Wording& wording) {
  const std::string known = safety_class(s.fluid.designation()).value_or("");
  std::vector<std::vector<std::string>> table;
  int above = 0;
  for (const ChargeLimit& row : rows) {
    const auto limit = allowed_charge(row, s.limit.density, s.q.volume);
    if (!limit || !concerns(row, s.fluid.designation(), known)) continue;
    const bool within = s.q.charge <= *limit * (1 + 1e-9);
    above += !within;
    table.push_back(
        {wording.sentence("charge_limits",
                          {row.key, {}, {word("limit", Dimension::mass, *limit, s.display, 1)}}, s.display),
         wording.word("yes_no", within ? "within" : "above"), wording.word("limit_basis", row.basis)});
    cite_each(s.answer, row.source);
  }
  s.answer.table("charge_limits", {"limit_row", "limit_stands", "limit_basis"}, std::move(table));
  const auto charge = word("charge", Dimension::mass, s.q.charge, s.display, 1);
  if (above == 0)
    s.answer.verdict({"within_all", {}, {charge}});
  else
    s.answer.verdict(
        {"above_some", {{"count", diagnosis::Unit::count, static_cast<double>(above)}}, {charge}});
}

void room(Sheet& s) {
  const Question& q = s.q;
  s.answer.figure("lower_limit_here", Dimension::density, s.here,
                  {input("lower_limit_tabulated", Dimension::density, s.limit.density, s.display, 2),
                   {"site_pressure", base::show_absolute(base::Pressure{q.air.p}, s.display).text()},
                   s.temperature()},
                  2);
  const double volume = procedures::smallest_volume(q.charge, s.here, q.share);
  s.answer.figure("smallest_room_volume", Dimension::volume, volume, {s.charge(), s.lower(), s.share()});
  s.answer.figure(
      "smallest_floor_area", Dimension::area, volume / q.height,
      {s.charge(), s.lower(), s.share(), input("room_height", Dimension::length, q.height, s.display, 1)});
  s.answer.say({"room_needed",
                {},
                {word("share", Dimension::quality, q.share, s.display),
                 word("volume", Dimension::volume, volume, s.display),
                 word("area", Dimension::area, volume / q.height, s.display)}});
  s.answer.say({"at_this_air", {}, {}});
  if (!q.volume) return;
  const double of_limit = q.charge / *q.volume / s.here;
  const FigureInput in_room = input("room_volume", Dimension::volume, *q.volume, s.display);
  s.answer.figure("share_in_room", Dimension::quality, of_limit, {s.charge(), in_room, s.lower()});
  s.answer.say({"room_share",
                {},
                {word("volume", Dimension::volume, *q.volume, s.display),
                 word("of_limit", Dimension::quality, of_limit, s.display),
                 word("share", Dimension::quality, q.share, s.display)}});
}
void walk(Sheet& s, const Outdoors& o) {
  const Question& q = s.q;
  const bool released = q.leaves == "released" && o.flow > 0;
  // all at once in calm air, and what a jet reaches where it is let out
  const double reach = std::max({o.calm, kLeastZone, released && o.jet ? o.jet->high : 0.0});
  const auto radius = word("radius", Dimension::length, reach, s.display, 1);
  const auto step = [&](const char* key, std::vector<std::pair<std::string, std::string>> words = {}) {
    s.answer.say({key, {}, std::move(words)});
  };
  step("step_read");
  step("step_off", {radius});
  step("step_test");
  step("step_zone", {radius});
  if (released)
    step("step_release", {word("time", Dimension::duration, o.seconds, s.display)});
  else
    step("step_recover");
  if (o.flow > 0) step("gauge_not_empty", {word("left", Dimension::quality, o.left, s.display)});
  step("step_purge");
  step("step_cut");
  step("step_close");
  if (released) step("law_us");
}
}  // namespace
}  // namespace flammable

Result<std::string> run_flammable(std::string_view text, const Context& context) {
  const std::vector<std::string> keys{"refrigerant", "charge",   "area",      "height", "volume",  "share",
                                      "t",           "bore",     "length",    "wind",   "changes", "pressure",
                                      "leaves",      "altitude", "barometer", "units"};
  auto request = opened_request(text, "flammable", keys);
  if (!request) return request.problem();
  const auto fluid = requested_fluid(*request);
  const base::SitePressure site = request->site();
  const auto units = request->units();
  std::optional<base::UnitSystem> spoken_in;
  if (request->problem()) return *request->problem();
  const auto limit = lower_limit_of(fluid->designation());
  if (!limit) return limit.problem();
  const auto question = flammable::ask(*request, *fluid, site, spoken_in);
  if (!question) return question.problem();
  const auto rows = load_charge_limits();
  if (!rows) return rows.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();

  const base::Display display{choose_units(units, spoken_in, context), site, wording->numerals()};
  ProcedureAnswer answer("flammable", *wording, display);
  answer.refrigerant(*fluid);
  cite_each(answer, limit->source);
  for (const char* key : {"caution_no_torch", "caution_pressure", "caution_electrical", "caution_capacitor",
                          "caution_low_places", "caution_no_air_or_oxygen", "caution_cold_liquid"})
    answer.caution({key, {}, {}});
  if (question->leaves == "released") answer.caution({"caution_release_outdoors", {}, {}});
  answer.caution({"caution_defer", {}, {}});
  const double here = procedures::limit_here(limit->density, question->air);
  flammable::Sheet sheet{*question, *fluid, *limit, here, here * question->share, display, answer};
  flammable::limits(sheet, *rows, *wording);
  flammable::room(sheet);
  const auto out = flammable::outdoors(sheet);
  if (!out) return out.problem();
  flammable::walk(sheet, *out);
  flammable::dilution(sheet, *out);
  flammable::indoors(sheet, out->seconds);  // 0: all at once
  answer.say({"never_said", {}, {}});
  return answer.text();
}

}  // namespace coldwright::service

// Use case "room": what a charge does to the air of a room when all of it escapes, and which room or charge
// keeps it at a chosen share of its lower flammability limit.
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "calls/strict_json.hpp"
#include "procedures/room_air.hpp"
#include "service/catalogue.hpp"
#include "service/cautions.hpp"
#include "service/charge_limits.hpp"
#include "service/lower_limit.hpp"
#include "service/property_answer.hpp"
#include "service/shown_json.hpp"
#include "service/tool_parts.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using diagnosis::Statement;
using nlohmann::json;

constexpr double kUsualHeight = 2.2;  // m, as room formulas of the standards reckon (from memory)

struct RoomQuestion {
  double charge = 0, height = kUsualHeight, share = 0.25;
  std::optional<double> volume;
  procedures::RoomAir air{};
};

Result<RoomQuestion> ask_room(Request& request, base::SitePressure site,
                              std::optional<base::UnitSystem>& spoken_in) {
  RoomQuestion q;
  const auto charge = positive(request, "charge", Dimension::mass, spoken_in);
  const auto area = positive(request, "area", Dimension::area, spoken_in);
  const auto height = positive(request, "height", Dimension::length, spoken_in);
  q.volume = positive(request, "volume", Dimension::volume, spoken_in);
  q.share = share(request, "share", 1).value_or(q.share);
  q.air = {temperature(request, "t", spoken_in).value_or(293.15), site.si};
  if (request.problem()) return *request.problem();
  if (!charge)
    return Problem{"charge", "nothing", "the plate's charge, such as 150 g", "there is no answer without it"};
  if (area && q.volume)
    return Problem{"volume", "a volume beside a floor area", "one of the two",
                   "each of them alone says how large the room is"};
  q.charge = *charge;
  q.height = height.value_or(kUsualHeight);
  if (area) q.volume = *area * q.height;
  return q;
}

/// Limits that appliance standards set for a plug-in cabinet, as their published summaries give them.
json customary(const std::vector<ChargeLimit>& limits, const std::string& designation, double charge,
               double tabulated, const base::Display& display, const Wording& wording) {
  json rows = json::array();
  const std::string known = safety_class(designation).value_or("");
  for (const ChargeLimit& row : limits) {
    const auto limit = allowed_charge(row, tabulated, std::nullopt);
    if (!row.brief || !limit || !concerns(row, designation, known)) continue;
    rows.push_back(
        {{"key", row.key},
         {"limit", quantity(Dimension::mass, *limit, display, 1)},
         {"within", charge <= *limit * (1 + 1e-9)},
         {"text",
          wording.sentence("charge_limits",
                           {row.key, {}, {word("limit", Dimension::mass, *limit, display, 1)}}, display)}});
  }
  return rows;
}

}  // namespace

Result<std::string> run_room(std::string_view text, const Context& context) {
  auto request = Request::read(text, {"refrigerant", "charge", "area", "height", "volume", "share", "t",
                                      "altitude", "barometer", "units"});
  if (!request) return request.problem();
  const auto fluid = requested_fluid(*request);
  const base::SitePressure site = request->site();
  const auto units = request->units();
  std::optional<base::UnitSystem> spoken_in;
  if (request->problem()) return *request->problem();
  const auto question = ask_room(*request, site, spoken_in);
  if (!question) return question.problem();
  const auto limit = lower_limit_of(fluid->designation());
  if (!limit) return limit.problem();
  const auto limits = load_charge_limits();
  if (!limits) return limits.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();

  const RoomQuestion& q = *question;
  const base::Display display{choose_units(units, spoken_in, context), site, wording->numerals()};
  const double here = procedures::limit_here(limit->density, q.air);
  const double volume = procedures::smallest_volume(q.charge, here, q.share);
  json answer = property_heading(
      *fluid, display, {limit->source, "iec60335-2-89-2010", "iec60335-2-89-2019", "ul60335-2-89"}, *wording);
  answer["charge"] = quantity(Dimension::mass, q.charge, display, 1);
  answer["share"] = quantity(Dimension::quality, q.share, display, 0);
  answer["height"] = quantity(Dimension::length, q.height, display, 1);
  answer["limit"] = {{"density", quantity(Dimension::density, here, display, 2)},
                     {"tabulated", quantity(Dimension::density, limit->density, display, 2)},
                     {"cited", limit->source},
                     {"edition", limit->edition},
                     {"recalled", is_recalled(limit->source)}};
  answer["smallest_volume"] = quantity(Dimension::volume, volume, display);
  answer["smallest_area"] = quantity(Dimension::area, volume / q.height, display);
  answer["customary"] = customary(*limits, fluid->designation(), q.charge, limit->density, display, *wording);

  const auto say = [&](Statement s) {
    answer["statements"].push_back(statement("room", s, *wording, display));
  };
  answer["statements"] = json::array();
  const auto share_word = word("share", Dimension::quality, q.share, display);
  const auto charge_word = word("charge", Dimension::mass, q.charge, display, 1);
  if (q.volume) {
    const double of_limit = q.charge / *q.volume / here;
    const double largest = procedures::largest_charge(*q.volume, here, q.share);
    answer["room"] = {
        {"volume", quantity(Dimension::volume, *q.volume, display)},
        {"density", quantity(Dimension::density, q.charge / *q.volume, display, 2)},
        {"volume_share",
         quantity(Dimension::quality, procedures::volume_share(q.charge, fluid->limits().M, *q.volume, q.air),
                  display, 1)},
        {"of_limit", quantity(Dimension::quality, of_limit, display, 0)},
        {"within", of_limit <= q.share},
        {"largest_charge", quantity(Dimension::mass, largest, display, 1)}};
    say({of_limit <= q.share ? "room_within"
         : of_limit < 1      ? "room_above_share"
                             : "room_burns",
         {},
         {charge_word, share_word, word("volume", Dimension::volume, *q.volume, display),
          word("of_limit", Dimension::quality, of_limit, display),
          word("largest", Dimension::mass, largest, display, 1)}});
  } else {
    answer["room"] = nullptr;
  }
  say({"smallest_room",
       {},
       {charge_word, share_word, word("volume", Dimension::volume, volume, display),
        word("area", Dimension::area, volume / q.height, display),
        word("height", Dimension::length, q.height, display, 1)}});
  say({fluid->limits().M > 0.02897 ? "heavier_than_air" : "lighter_than_air", {}, {}});
  say({"not_proof", {}, {}});
  return calls::dump(answer);
}

}  // namespace coldwright::service

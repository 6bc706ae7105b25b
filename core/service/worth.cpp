// Use case "worth": repair against replacement in money and energy over the years that are left, with the
// shop's own rates. Money stays in the currency it was typed in.
#include "procedures/worth.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "procedures/parts.hpp"
#include "service/from_call.hpp"
#include "service/money.hpp"
#include "service/procedure_inputs.hpp"
#include "service/property_answer.hpp"
#include "service/tool_parts.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using diagnosis::Interval;

constexpr int kWorthMachines = 150;
constexpr double kNewShare = 0.75,
                 kNewSpread = 0.15;      // of this machine sound, where it isn't given (our estimate)
constexpr double kSpread = 0.1;          // of prices typed (our estimate)
constexpr double kYearAmbient = 295.15;  // K, a shop over the year (our estimate)
constexpr double kClear = 0.65;          // below that the two are too close to call (our estimate)

struct WorthQuestion {
  procedures::WorthQuestion worth;
  double rate = 0, hours = 0, parts = 0;
  std::optional<double> energy_repaired, energy_new;
  double ambient = kYearAmbient;
  bool life_given = false;
  double spread = kSpread;
  std::string currency;
};

Result<WorthQuestion> ask_worth(Request& request, std::optional<base::UnitSystem>& spoken_in) {
  WorthQuestion q;
  Purse purse;
  const auto money = [&](const char* key, bool needed) {
    const auto text = request.text(key);
    if (!text) {
      if (needed)
        request.fail({key, "nothing", "an amount with its currency, such as 480 EUR or $95.50",
                      "there is no answer without it"});
      return 0.0;
    }
    const auto amount = purse.take(*text, key);
    if (amount) return *amount;
    request.fail(amount.problem());
    return 0.0;
  };
  q.rate = money("labour_rate", true);
  q.parts = money("parts_cost", true);
  q.spread = share(request, "spread", 1).value_or(kSpread);
  q.worth.new_price = {money("new_price", true), q.spread};
  q.worth.energy_price = {money("energy_price", true), q.spread};
  const auto hours = positive(request, "hours", Dimension::duration, spoken_in);
  if (!hours && !request.problem())
    request.fail({"hours", "nothing", "the hours of work, such as 3.5 h", "there is no answer without it"});
  q.hours = hours.value_or(0) / 3600;
  const std::vector<NamedScale> years{{"", 1}, {"years", 1}, {"year", 1}, {"a", 1}, {"yr", 1}};
  q.worth.years =
      in_units(request, "remaining_years", years, 0.25, 30, "years from 0.25 to 30, such as 6 years")
          .value_or(6);
  q.worth.age = in_units(request, "age", years, 0, 60, "years from 0 to 60, such as 6 years").value_or(6);
  const auto life = in_units(request, "life", years, 1, 60, "years from 1 to 60, such as 12 years");
  // half of them stand as long: scale = median/(ln 2)^(1/shape)
  if (life) q.worth.life_after.scale = *life / std::pow(std::log(2.0), 1 / q.worth.life_after.shape);
  q.life_given = life.has_value();
  q.worth.discount = share(request, "discount", 0.5).value_or(0.04);
  const std::vector<NamedScale> energy{{"kWh", 1}, {"kwh", 1}, {"MWh", 1000}};
  q.energy_repaired = in_units(request, "energy_repaired", energy, 1, 1e6, "energy a year such as 1600 kWh");
  q.energy_new = in_units(request, "energy_new", energy, 1, 1e6, "energy a year such as 1100 kWh");
  q.ambient = temperature(request, "t", spoken_in).value_or(q.ambient);
  q.currency = purse.currency();
  if (request.problem()) return *request.problem();
  q.worth.repair = {q.rate * q.hours + q.parts, q.spread};
  return q;
}

double relative_spread(const Interval& x) {
  return x.mid > 0 ? (x.high - x.low) / (2 * 1.6448536269514722) / x.mid : 0;
}

struct WorthSheet {
  WorthQuestion& q;
  const base::Display& display;
  ProcedureAnswer& answer;
  std::string money(double amount) const {
    return money_text(amount, q.currency, std::abs(amount) < 10 ? 2 : 0, display.numerals);
  }
  std::string energy(double kwh) const {
    return base::number_text(kwh, 0, display.numerals) + std::string(display.numerals.gap) + "kWh";
  }
  std::string energy(const Interval& x) const {
    return answer.wording().phrase(
        "phrases", "range",
        {{"low", base::number_text(x.low, 0, display.numerals)}, {"high", energy(x.high)}});
  }
  std::string number(double x, int decimals) const {
    return base::number_text(x, decimals, display.numerals);
  }
};

/// What the call's machines take in a year; fills what wasn't typed.
std::optional<Problem> energies(WorthSheet& s, const CallCase& c) {
  const auto belief = procedures::believe(c.folded.the_case, c.fluid, c.knowledge, c.options, kWorthMachines);
  if (!belief) return belief.problem();
  const auto year = procedures::yearly_energy_of(*belief, s.q.ambient, c.folded.the_case.site_pressure);
  if (!year) return year.problem();
  const std::vector<FigureInput> from{{"machines_drawn", std::to_string(year->machines)},
                                      input("ambient", Dimension::temperature, s.q.ambient, s.display)};
  s.answer.seed(c.options.seed);
  s.answer.figure_text("energy_sound", year->sound.mid, s.energy(year->sound), from);
  s.answer.figure("running_share", Dimension::quality, year->share_sound, from);
  if (year->runs > 0.05) {
    s.answer.figure_text("energy_now", year->now.mid, s.energy(year->now), from);
    s.answer.figure("running_share_now", Dimension::quality, year->share_now, from);
    s.answer.say({year->holds < 0.5 * year->runs ? "as_now_fails" : "as_now",
                  {},
                  {{"now", s.number(year->now.mid, 0)},
                   {"sound", s.number(year->sound.mid, 0)},
                   {"holds", percent_text(year->holds, s.display)}}});
  }
  s.answer.say({"energy_by_model", {}, {word("t", Dimension::temperature, s.q.ambient, s.display)}});
  if (!s.q.energy_repaired) s.q.worth.energy_repaired = {year->sound.mid, relative_spread(year->sound)};
  if (!s.q.energy_new) s.q.worth.energy_new = {kNewShare * year->sound.mid, kNewSpread};
  return std::nullopt;
}

void outcome(WorthSheet& s, const procedures::Worth& w) {
  WorthQuestion& q = s.q;
  const std::string cost = s.money(q.worth.repair.value);
  s.answer.figure_text(
      "repair_cost", q.worth.repair.value, cost,
      {{"labour_rate", s.money(q.rate)}, {"hours", s.number(q.hours, 1)}, {"parts_cost", s.money(q.parts)}});
  const std::vector<FigureInput> from{
      {"repair_cost", cost},
      {"new_price", s.money(q.worth.new_price.value)},
      {"energy_price", money_text(q.worth.energy_price.value, q.currency, 3, s.display.numerals)},
      {"energy_repaired", s.energy(q.worth.energy_repaired.value)},
      {"energy_new", s.energy(q.worth.energy_new.value)},
      {"remaining_years", s.number(q.worth.years, 1)},
      {"discount", percent_text(q.worth.discount, s.display)}};
  s.answer.figure_text("energy_new", q.worth.energy_new.value, s.energy(q.worth.energy_new.value), {});
  s.answer.figure_text("repair_value", w.repair, s.money(w.repair), from);
  s.answer.figure_text("replace_value", w.replace, s.money(w.replace), from);
  s.answer.figure_text(
      "advantage", w.advantage.mid,
      s.answer.wording().phrase("phrases", "range",
                                {{"low", s.money(w.advantage.low)}, {"high", s.money(w.advantage.high)}}),
      {{"repair_value", s.money(w.repair)},
       {"replace_value", s.money(w.replace)},
       {"spread_of_inputs", percent_text(q.spread, s.display)}});
  s.answer.figure_text("break_even_price", w.break_even, s.money(w.break_even), from);
  s.answer.figure("lives_on", Dimension::quality, w.survives,
                  {{"age", s.number(q.worth.age, 1)},
                   {"remaining_years", s.number(q.worth.years, 1)},
                   {"life_scale", s.number(q.worth.life_after.scale, 1)},
                   {"life_shape", s.number(q.worth.life_after.shape, 1)}});
  s.answer.figure("repair_cheaper", Dimension::quality, w.probability_repair, from);
  const bool repair = w.probability_repair >= kClear, replace = w.probability_repair <= 1 - kClear;
  const double p = repair ? w.probability_repair : 1 - w.probability_repair;
  std::vector<std::pair<std::string, std::string>> words{
      {"years", s.number(q.worth.years, 1)}, {"repair", s.money(w.repair)}, {"replace", s.money(w.replace)}};
  if (repair || replace) words.emplace_back("probability", probability_text(p, 0, s.display.numerals));
  s.answer.verdict({repair ? "repair_pays" : replace ? "replace_pays" : "even", {}, words});
  s.answer.say({"break_even", {}, {{"price", s.money(w.break_even)}, {"cost", cost}}});
}

}  // namespace

Result<std::string> run_worth(std::string_view text, const Context& context) {
  const std::vector<std::string> keys{"call",
                                      "labour_rate",
                                      "hours",
                                      "parts_cost",
                                      "new_price",
                                      "energy_price",
                                      "energy_repaired",
                                      "energy_new",
                                      "remaining_years",
                                      "discount",
                                      "age",
                                      "life",
                                      "spread",
                                      "t",
                                      "seed",
                                      "population",
                                      "units"};
  auto request = opened_request(text, "worth", keys);
  if (!request) return request.problem();
  const auto case_of = call_case_of(*request, context);
  if (case_of && !*case_of) return case_of->problem();
  std::optional<base::UnitSystem> spoken_in;
  const auto units = request->units();
  const std::uint64_t seed = seed_of(*request);
  auto question = ask_worth(*request, spoken_in);
  if (!question) return question.problem();
  if (!case_of && (!question->energy_repaired || !question->energy_new))
    return Problem{question->energy_repaired ? "energy_new" : "energy_repaired", "nothing",
                   "energy a year such as 1600 kWh, or a call of the machine",
                   "energy is half of the question"};
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const base::Display display{case_of ? (*case_of)->display.system : choose_units(units, spoken_in, context),
                              base::sea_level, wording->numerals()};
  ProcedureAnswer answer("worth", *wording, display);
  answer.seed(seed);
  WorthSheet sheet{*question, display, answer};
  if (question->energy_repaired)
    question->worth.energy_repaired = {*question->energy_repaired, question->spread};
  if (question->energy_new) question->worth.energy_new = {*question->energy_new, question->spread};
  if (case_of)
    if (const auto problem = energies(sheet, **case_of)) return *problem;
  const auto worth = procedures::worth_of(question->worth, 4000, seed);
  if (!worth) return worth.problem();
  outcome(sheet, *worth);
  if (!question->energy_new) answer.say({"new_by_us", {}, {}});
  if (!question->life_given) {
    const procedures::Life& life = question->worth.life_after;
    const double half = life.scale * std::pow(std::log(2.0), 1 / life.shape);
    answer.say({"life_by_us", {}, {{"half", base::number_text(half, 0, display.numerals)}}});
  }
  answer.say({"not_counted", {}, {}});
  answer.caution({"caution_defer", {}, {}});
  return answer.text();
}

}  // namespace coldwright::service

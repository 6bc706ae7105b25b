// Use case "proof": a repaired machine's pull-down and last readings against a sound machine's, and against
// those of every cause that would slow it.
#include "procedures/proof.hpp"

#include <algorithm>
#include <cmath>

#include "service/cautions.hpp"
#include "service/procedure_answer.hpp"
#include "service/proof_request.hpp"
#include "service/shown_json.hpp"
#include "service/tool_parts.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using diagnosis::Interval;
using diagnosis::Statement;
using procedures::Proof;
using procedures::PullDown;

class ProofAnswer {
 public:
  ProofAnswer(const ProofRequest& r, const Proof& proof)
      : r_(r),
        proof_(proof),
        display_(r.call.display),
        words_(r.call.wording),
        answer_("proof", words_, display_) {
    const diagnosis::Case& c = r.question.final_state;
    const auto kind = std::find_if(r.call.knowledge.archetypes.begin(), r.call.knowledge.archetypes.end(),
                                   [&](const auto& k) { return k.id == c.nameplate.archetype; });
    set_point_ = c.nameplate.set_point.value_or(kind->set_point_K);
  }

  Result<std::string> text() {
    answer_.seed(r_.call.options.seed);
    answer_.refrigerant(r_.call.fluid);
    for (const char* key : {"caution_running_test", "caution_defer"}) answer_.caution({key, {}, {}});
    verdict();
    if (r_.recalled)
      for (const Statement& said : recalled_remarks(*r_.recalled)) answer_.say(said);
    if (r_.before_repair > 0)
      say("before_repair", {{"count", diagnosis::Unit::count, double(r_.before_repair)}}, {});
    if (r_.too_old > 0) say("too_old", {{"count", diagnosis::Unit::count, double(r_.too_old)}}, {});
    if (!r_.question.final_state.ambient) say("ambient_assumed", {}, {});
    figures();
    tables();
    curve();
    return answer_.text();
  }

 private:
  using Words = std::vector<std::pair<std::string, std::string>>;
  void say(std::string key, std::vector<diagnosis::Value> values, Words words) {
    answer_.say({std::move(key), std::move(values), std::move(words)});
  }
  std::pair<std::string, std::string> span(const char* name, Dimension dimension, const Interval& i) const {
    return {name, range_text(dimension, i.low, i.high, display_, words_)};
  }
  std::string percent(double share) const { return probability_text(share, 0.01, display_.numerals); }

  void verdict();
  void figures();
  void own_values();
  void tables();
  void curve();
  std::vector<FigureInput> inputs() const;

  const ProofRequest& r_;
  const Proof& proof_;
  const base::Display& display_;
  const Wording& words_;
  ProcedureAnswer answer_;
  double set_point_ = 0;
};

void ProofAnswer::verdict() {
  const Words at{word("set_point", Dimension::temperature, set_point_, display_),
                 {"chance", percent(proof_.sound)}};
  const PullDown& course = proof_.updated ? *proof_.updated : proof_.predicted;
  if (proof_.causes.empty()) {
    answer_.verdict({"prediction", {}, at});
  } else if (proof_.sound >= procedures::kProved) {
    answer_.verdict({"sound", {}, at});
  } else if (proof_.sound >= 0.5) {
    answer_.verdict({"undecided", {}, at});
  } else {
    Words words = at;
    words.emplace_back("cause", proof_.causes.front().cause == "sound" ? proof_.causes[1].cause
                                                                       : proof_.causes.front().cause);
    answer_.verdict({"not_sound", {}, words});
  }
  if (course.reaches > 0.5 && course.seconds_to_set_point)
    say("time_to_set_point", {}, {at[0], span("time", Dimension::duration, *course.seconds_to_set_point)});
  if (course.reaches < 0.9)
    say(course.reaches < 0.1 ? "wont_reach" : "may_not_reach", {},
        {at[0], {"chance", percent(course.reaches)}, span("rest", Dimension::temperature, course.rest)});
  if (proof_.predicted.overload > 0.05) say("overload", {}, {{"chance", percent(proof_.predicted.overload)}});
  if (!proof_.causes.empty() && proof_.slower.size() > 0 && proof_.sound < procedures::kProved)
    say("more_readings", {}, {});
  if (!proof_.causes.empty() && !proof_.quality.trustworthy) say("few_draws", {}, {});
  say("not_shown", {}, {});
}

std::vector<FigureInput> ProofAnswer::inputs() const {
  const auto shown = [&](Dimension d, double si) { return base::show(d, si, display_).text(); };
  std::vector<FigureInput> in{
      {"box_start", shown(Dimension::temperature, r_.question.readings.front().box)},
      {"set_point", shown(Dimension::temperature, set_point_)},
      {"t", shown(Dimension::temperature, r_.question.final_state.ambient.value_or(273.15 + 24))}};
  if (r_.question.product) in.push_back({"product", shown(Dimension::mass, *r_.question.product)});
  if (r_.question.readings.size() > 1)
    in.push_back({"readings",
                  base::number_text(static_cast<double>(r_.question.readings.size()), 0, display_.numerals)});
  return in;
}

void ProofAnswer::figures() {
  if (proof_.predicted.seconds_to_set_point)
    answer_.figure("pull_down_time", Dimension::duration, *proof_.predicted.seconds_to_set_point, inputs());
  answer_.figure_text("pull_down_reaches", proof_.predicted.reaches, percent(proof_.predicted.reaches),
                      inputs());
  if (!proof_.updated) return;
  if (proof_.updated->seconds_to_set_point)
    answer_.figure("pull_down_time_read", Dimension::duration, *proof_.updated->seconds_to_set_point,
                   inputs());
  answer_.figure_text("proof_sound", proof_.sound, percent(proof_.sound), inputs());
  answer_.figure_text("proof_sound_readings", proof_.sound_by_readings, percent(proof_.sound_by_readings),
                      inputs());
  if (proof_.mass) {
    const auto kilo = [&](double si) { return base::number_text(si / 1000, 0, display_.numerals); };
    answer_.figure_text("box_mass", proof_.mass->mid,
                        words_.phrase("phrases", "range",
                                      {{"low", kilo(proof_.mass->low)}, {"high", kilo(proof_.mass->high)}}) +
                            std::string(display_.numerals.gap) + "kJ/K",
                        inputs());
  }
  own_values();
}

void ProofAnswer::own_values() {
  for (const procedures::OwnValue& own : proof_.own) {
    const Words said{{"quantity", own.quantity},
                     span("here", Dimension::temperature_difference, own.here),
                     span("usual", Dimension::temperature_difference, own.usual)};
    say("own_value", {}, said);
    answer_.figure(
        "own_" + own.quantity, Dimension::temperature_difference, own.here,
        {{"usual_range", said[2].second},
         {"t", base::show(Dimension::temperature, r_.question.final_state.ambient.value_or(297.15), display_)
                   .text()}});
  }
}

void ProofAnswer::tables() {
  std::vector<std::vector<std::string>> rows;
  for (const procedures::FinalReading& f : proof_.final_state) {
    const diagnosis::Unit unit = unit_of(f.kind);
    const bool inside = f.read >= f.sound.low && f.read <= f.sound.high;
    rows.push_back({words_.word("readings", circuit::info(f.kind).id), shown(unit, f.read, display_).text(),
                    words_.interval(unit, f.sound, display_),
                    words_.word("proof", inside ? "inside" : "outside")});
  }
  if (!rows.empty()) answer_.table("final_state", {"reading", "was_read", "sound_range", "judged"}, rows);
  rows.clear();
  const auto time_of = [&](const PullDown& p) {
    return p.reaches > 0.5 && p.seconds_to_set_point
               ? range_text(Dimension::duration, p.seconds_to_set_point->low, p.seconds_to_set_point->high,
                            display_, words_)
               : words_.word("proof", "never");
  };
  if (proof_.updated)
    rows.push_back({words_.cause("sound"), percent(proof_.sound), time_of(*proof_.updated)});
  for (const procedures::CauseCourse& c : proof_.slower)
    rows.push_back({words_.cause(c.cause), percent(c.probability), time_of(c.course)});
  if (!rows.empty()) answer_.table("courses", {"cause", "probability", "time_to_set_point"}, rows);
}

void ProofAnswer::curve() {
  Curve curve{"pull_down", "time", "box", Dimension::duration, Dimension::temperature, false, {}};
  Curve::Line measured{"box_read", "measured", {}};
  for (const auto& r : r_.question.readings) measured.points.emplace_back(r.seconds, r.box);
  curve.lines.push_back(std::move(measured));
  const PullDown& band = proof_.updated && !proof_.updated->band.empty() ? *proof_.updated : proof_.predicted;
  Curve::Line low{"box_low", "low", {}}, mid{"box_predicted", "predicted", {}}, high{"box_high", "high", {}},
      limit{"set_point_line", "limit", {}};
  for (const procedures::BandPoint& p : band.band) {
    low.points.emplace_back(p.seconds, p.box.low);
    mid.points.emplace_back(p.seconds, p.box.mid);
    high.points.emplace_back(p.seconds, p.box.high);
    limit.points.emplace_back(p.seconds, set_point_);
  }
  for (Curve::Line* line : {&low, &mid, &high, &limit}) curve.lines.push_back(std::move(*line));
  answer_.curve(curve);
}

}  // namespace

Result<std::string> run_proof(std::string_view request, const Context& context) {
  const auto r = read_proof_request(request, context);
  if (!r) return r.problem();
  const auto proof = procedures::prove(r->question, r->fluid, r->call.knowledge, r->call.options);
  if (!proof) return proof.problem();
  return ProofAnswer(*r, *proof).text();
}

}  // namespace coldwright::service

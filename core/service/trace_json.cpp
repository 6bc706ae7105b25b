// What was found in traces, as the answer of the use case "trace".
#include <algorithm>
#include <cmath>

#include "drawing/trace_strip.hpp"
#include "service/shown_json.hpp"
#include "service/trace_parts.hpp"
#include "traces/thin.hpp"
#include "traces/times.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using nlohmann::json;
using traces::State;
using traces::Study;
using traces::What;

constexpr std::size_t kMostPhases = 2000, kMostEvents = 1000;

std::string word_of(What what) { return std::string(traces::info(what).word); }

/// A value of a column; electric power is spoken of in watts everywhere.
base::Shown shown_value(What what, double si, const base::Display& display, int extra = 0) {
  const auto dimension = traces::info(what).dimension;
  if (!dimension) return {si, "", 0, display.numerals};
  if (*dimension != Dimension::power) return base::show(*dimension, si, display, extra);
  return {si, "W", si < 20 ? 1 : 0, display.numerals};
}

base::Shown shown_measure(traces::Measure measure, double v, const base::Display& display) {
  switch (measure) {
    case traces::Measure::seconds:
      return base::show(Dimension::duration, v, display, v > 7200 ? 0 : v >= 120 && v < 1200 ? 1 : 0);
    case traces::Measure::share:
      return base::show(Dimension::quality, v, display);
    case traces::Measure::power:
      return shown_value(What::power, v, display);
    case traces::Measure::current:
      return base::show(Dimension::current, v, display);
    case traces::Measure::kelvin_per_hour: {
      const base::Shown one = base::show(Dimension::temperature_difference, v, display);
      return {one.value, one.unit + "/h", 1, display.numerals};
    }
    case traces::Measure::energy_per_day:
      return {v / 3.6e6, "kWh", 2, display.numerals};
    default:
      return {v, "", 1, display.numerals};
  }
}

json interval_json(traces::Measure measure, const diagnosis::Interval& i, const Wording& wording,
                   const base::Display& display) {
  const auto one = [&](double v) { return quantity(shown_measure(measure, v, display), v); };
  const base::Shown low = shown_measure(measure, i.low, display),
                    high = shown_measure(measure, i.high, display);
  std::string text;
  if (!std::isfinite(i.high))
    text = wording.phrase("trace", "at_least", {{"low", low.text()}});
  else if (low.text() == high.text())
    text = low.text();
  else
    text =
        wording.phrase("phrases", "range",
                       {{"low", low.unit == high.unit ? low.number() : low.text()}, {"high", high.text()}});
  return {{"low", one(i.low)}, {"mid", one(i.mid)}, {"high", one(i.high)}, {"text", text}};
}

std::string seconds_text(double s, const base::Display& display) {
  return base::show(Dimension::duration, s, display, std::abs(s) >= 120 && std::abs(s) < 1200 ? 1 : 0).text();
}

/// An offset as a clock would show it.
std::string clock_text(double s) { return (s < 0 ? "-" : "+") + traces::elapsed_text(std::abs(s)); }

std::string column_name(const TracedFile& file, int column) {
  if (column < 0 || column >= static_cast<int>(file.layout.columns.size())) return "";
  const std::string& header = file.layout.columns[static_cast<std::size_t>(column)].header;
  return header.empty() ? std::to_string(column + 1) : header;
}

class TraceAnswer {
 public:
  TraceAnswer(const std::vector<TracedFile>& files, const Study& study, std::size_t points,
              const Wording& wording, const base::Display& display)
      : files_(files),
        study_(study),
        points_(points),
        wording_(wording),
        display_(display),
        main_(files[study.main]) {}

  json run() {
    json out;
    out["files"] = json::array();
    out["questions"] = json::array();
    out["set_aside"] = json::array();
    for (std::size_t i = 0; i < files_.size(); ++i) file(out, i);
    out["method"] = method();
    out["phases"] = phases();
    out["phase_count"] = study_.phases ? study_.phases->phases.size() : 0;
    out["events"] = events();
    out["event_count"] = study_.events.size();
    out["figures"] = figures();
    said();
    out["statements"] = std::move(statements_);
    out["evidence"] = evidence_json(main_, study_, wording_, display_);
    out["series"] = series();
    out["picture"] = picture();
    out["about"] = about(std::nullopt, {"our-estimate", "common-practice", "yu2010", "otsu1979", "fisher1929",
                                        "schilling1990"});
    return out;
  }

 private:
  void say(std::string key, std::vector<std::pair<std::string, std::string>> words) {
    statements_.push_back(statement("trace", {std::move(key), {}, std::move(words)}, wording_, display_));
  }

  void file(json& out, std::size_t i) {
    const TracedFile& f = files_[i];
    json clock;
    if (study_.clocks[i]) {
      const traces::Clock& c = *study_.clocks[i];
      clock = {{"offset", quantity(Dimension::duration, c.offset, display_)},
               {"low", quantity(Dimension::duration, c.low, display_)},
               {"high", quantity(Dimension::duration, c.high, display_)},
               {"drift_per_day", quantity(Dimension::duration, c.drift, display_)},
               {"drift_low", quantity(Dimension::duration, c.drift_low, display_)},
               {"drift_high", quantity(Dimension::duration, c.drift_high, display_)},
               {"drift_told", c.drift_tried},
               {"probability", c.probability},
               {"log_likelihood_gain", c.gain},
               {"used", c.trusted}};
    }
    out["files"].push_back({{"name", f.name},
                            {"layout", layout_json(f.layout, wording_)},
                            {"guessed", f.guessed},
                            {"main", i == study_.main},
                            {"dated", f.dated},
                            {"zoned", f.zoned},
                            {"start", f.dated ? json(f.start) : json()},
                            {"from_text", moment_text(f, 0)},
                            {"to_text", moment_text(f, f.seconds)},
                            {"seconds", f.seconds},
                            {"interval", f.interval},
                            {"rows", f.rows},
                            {"used", f.used},
                            {"clock", std::move(clock)}});
    for (const auto& question : f.questions) {
      json one = question_json(question, f.layout, wording_);
      one["file"] = i;
      out["questions"].push_back(std::move(one));
    }
    for (const auto& aside : f.aside) out["set_aside"].push_back(aside_json(aside, i));
  }

  json aside_json(const traces::SetAside& a, std::size_t i) const {
    const TracedFile& f = files_[i];
    std::string lines;
    json numbers = json::array();
    for (const auto line : a.lines)
      if (line > 0) {
        numbers.push_back(line);
        lines += (lines.empty() ? "" : ", ") + std::to_string(line);
      }
    const std::string reason(traces::to_word(a.reason));
    std::string text = wording_.phrase("trace_reasons", reason,
                                       {{"count", std::to_string(a.count)},
                                        {"column", column_name(f, a.column)},
                                        {"text", a.text},
                                        {"from", moment_text(f, a.from)},
                                        {"to", moment_text(f, a.to)},
                                        {"time", seconds_text(a.seconds, display_)}});
    if (!lines.empty()) text += " " + wording_.phrase("trace", "lines", {{"lines", lines}});
    return {{"file", i},
            {"reason", reason},
            {"count", a.count},
            {"column", a.column < 0 ? json() : json(a.column)},
            {"lines", std::move(numbers)},
            {"from", a.from},
            {"to", a.to},
            {"text", text}};
  }

  json method() {
    if (!study_.phases) return nullptr;
    const traces::Phases& p = *study_.phases;
    const traces::Series& s = study_.trace.series[static_cast<std::size_t>(p.series)];
    json levels = json::array();
    constexpr const char* kRoles[] = {"rest", "run", "heater", "other"};
    if (p.method == traces::Method::levels)
      for (const traces::Level& level : p.levels.all)
        levels.push_back({{"role", kRoles[static_cast<std::size_t>(level.role)]},
                          {"value", quantity(shown_value(s.what, level.value, display_), level.value)},
                          {"seconds", level.seconds},
                          {"visits", level.visits}});
    return {{"kind", p.method == traces::Method::levels ? "levels" : "swing"},
            {"column", s.name},
            {"what", word_of(s.what)},
            {"levels", std::move(levels)},
            {"noise", p.noise.floor},
            {"runs", p.runs},
            {"stretches", p.stretches},
            {"log_likelihood", p.log_likelihood},
            {"log_likelihood_one_state", p.log_likelihood_flat},
            {"told_pumping", p.told_pumping},
            {"told_overload", p.told_overload}};
  }

  json phases() const {
    json out = json::array();
    if (!study_.phases) return out;
    const What what = study_.trace.series[static_cast<std::size_t>(study_.phases->series)].what;
    for (const traces::Phase& p : study_.phases->phases) {
      if (out.size() >= kMostPhases) break;
      const std::string state(traces::to_word(p.state));
      out.push_back({{"state", state},
                     {"label", wording_.word("trace_states", state)},
                     {"from", p.from},
                     {"to", p.to},
                     {"from_low", p.from_low},
                     {"from_high", p.from_high},
                     {"from_text", moment_text(main_, p.from)},
                     {"lasts", seconds_text(p.to - p.from, display_)},
                     {"probability", p.probability},
                     {"level", quantity(shown_value(what, p.level, display_), p.level)},
                     {"whole", p.whole}});
    }
    return out;
  }

  std::string event_text(const traces::Event& e) const {
    const What what =
        e.series < 0 ? What::unknown : study_.trace.series[static_cast<std::size_t>(e.series)].what;
    std::string amount, second;
    const auto kelvin = [&](double k) {
      return base::show(Dimension::temperature_difference, k, display_).text();
    };
    switch (e.what) {
      case traces::Happening::door:
      case traces::Happening::pull_down:
        amount = kelvin(e.amount);
        break;
      case traces::Happening::hunting: {
        amount = seconds_text(e.amount, display_);
        const auto dimension = traces::info(what).dimension;
        if (dimension == Dimension::temperature)
          second = kelvin(e.second);
        else if (dimension == Dimension::pressure)
          second = base::show(Dimension::pressure_difference, e.second, display_, 1).text();
        else
          second = shown_value(what, e.second, display_).text();
        break;
      }
      default:
        amount =
            base::number_text(e.amount, e.what == traces::Happening::long_run ? 1 : 0, display_.numerals);
    }
    const bool switched = e.what == traces::Happening::door && e.amount == 0;
    return wording_.phrase(
        "trace_events", switched ? "door_switch" : std::string(traces::to_word(e.what)),
        {{"lasts", seconds_text(e.to - e.from, display_)}, {"amount", amount}, {"second", second}});
  }

  json events() const {
    json out = json::array();
    for (const traces::Event& e : study_.events) {
      if (out.size() >= kMostEvents) break;
      const std::string word(traces::to_word(e.what));
      out.push_back({{"event", word},
                     {"label", wording_.word("trace_happenings", word)},
                     {"from", e.from},
                     {"to", e.to},
                     {"from_text", moment_text(main_, e.from)},
                     {"probability", e.probability},
                     {"text", event_text(e)}});
    }
    return out;
  }

  json figures() const {
    json out = json::array();
    for (const traces::Figure& f : study_.figures) {
      json interval = interval_json(f.measure, f.interval, wording_, display_);
      const std::string text = wording_.phrase("trace", f.spread ? "figure_spread" : "figure_estimate",
                                               {{"mid", interval["mid"]["text"].get<std::string>()},
                                                {"range", interval["text"].get<std::string>()},
                                                {"count", std::to_string(f.count)}});
      out.push_back(
          {{"key", f.key},
           {"label", wording_.word("trace_figures", f.key)},
           {"interval", std::move(interval)},
           {"spread", f.spread},
           {"count", f.count},
           {"column", f.series < 0 ? "" : study_.trace.series[static_cast<std::size_t>(f.series)].name},
           {"text", text}});
    }
    return out;
  }

  void said() {
    for (const TracedFile& f : files_)
      if (f.guessed) say("guessed", {{"file", f.name}});
    if (!study_.phases) {
      const bool few = main_.samples < 10 && traces::tells_running(study_.trace);
      return say(few ? "too_few" : "no_signal", {{"count", std::to_string(main_.samples)}});
    }
    clocks();
    const traces::Phases& p = *study_.phases;
    const traces::Series& s = study_.trace.series[static_cast<std::size_t>(p.series)];
    const std::string level_text = shown_value(s.what, p.levels.run_value, display_).text();
    const auto number = [&](double v) { return base::number_text(v, 0, display_.numerals); };
    const bool electric = is_electric(s.what);
    const std::string name = s.name.empty() ? wording_.word("trace_what", word_of(s.what)) : s.name;
    if (p.method == traces::Method::swing) return say("swing", {{"column", name}});
    if (electric && p.levels.unparted)
      return say("unparted",
                 {{"column", name},
                  {"interval", seconds_text(std::max(s.resolves, study_.trace.interval), display_)}});
    if (p.levels.one_level) return say("one_level", {{"column", name}, {"level", level_text}});
    if (electric && p.levels.speeds)
      return say("speeds", {{"column", name},
                            {"low", shown_value(s.what, p.levels.all.front().value, display_).text()},
                            {"high", shown_value(s.what, p.levels.all.back().value, display_).text()},
                            {"count", std::to_string(p.levels.all.size())}});
    say("found_in", {{"column", name},
                     {"runs", std::to_string(p.runs)},
                     {"stretches", std::to_string(p.stretches)},
                     {"model", number(p.log_likelihood)},
                     {"flat", number(p.log_likelihood_flat)}});
    if (electric && !p.told_pumping) say("power_alone", {});
    if (study_.trace.interval > 30)
      say("coarse", {{"interval", seconds_text(study_.trace.interval, display_)}});
    if (s.derived) say("derived", {{"column", name}});
    std::vector<double> lasted;
    for (const traces::Phase& phase : p.phases)
      if (phase.whole) lasted.push_back(phase.to - phase.from);
    if (!lasted.empty() && traces::quantile(lasted, 0.5) < 3 * study_.trace.interval &&
        study_.trace.interval > 120)
      say("coarse_cycles", {{"interval", seconds_text(study_.trace.interval, display_)}});
    adds_up();
    std::string others;
    for (const traces::Series& one : study_.trace.series)
      if (electric && one.what == s.what && &one != &s && !one.derived)
        others +=
            (others.empty() ? "" : ", ") + (one.name.empty() ? std::to_string(one.column + 1) : one.name);
    if (!others.empty()) say("one_of_several", {{"column", name}, {"others", others}});
    if (electric && p.levels.rest_value > 0.25 * p.levels.run_value)
      say("rest_draws", {{"level", shown_value(s.what, p.levels.rest_value, display_).text()}});
    for (const traces::Level& level : p.levels.all) {
      const double share =
          (level.value - p.levels.rest_value) / std::max(p.levels.run_value - p.levels.rest_value, 1e-9);
      if (electric && level.role == traces::Level::Role::other)
        say("foreign", {{"times", std::to_string(level.visits)},
                        {"level", shown_value(s.what, level.value, display_).text()}});
      else if (electric && !p.told_pumping && share > 0.25 && share < 0.75 && level.visits > 0 &&
               level.role != traces::Level::Role::heater && level.seconds > 60)
        say("between_levels", {{"times", std::to_string(level.visits)},
                               {"level", shown_value(s.what, level.value, display_).text()}});
    }
    if (p.phases.size() > kMostPhases) say("phases_cut", {{"count", std::to_string(p.phases.size())}});
  }

  /// Two loads on one meter show as four levels: none, one, the other, both.
  void adds_up() {
    const traces::Phases& p = *study_.phases;
    const What what = study_.trace.series[static_cast<std::size_t>(p.series)].what;
    std::vector<const traces::Level*> run;
    for (const traces::Level& level : p.levels.all)
      if (level.role == traces::Level::Role::run && level.visits >= 5) run.push_back(&level);
    const double rest = p.levels.rest_value;
    for (std::size_t a = 0; a < run.size(); ++a)
      for (std::size_t b = a + 1; b < run.size(); ++b)
        for (std::size_t c = b + 1; c < run.size(); ++c) {
          const double sum = run[a]->value + run[b]->value - rest;
          if (std::abs(sum - run[c]->value) > 0.05 * (run[c]->value - rest)) continue;
          return say("adds_up", {{"one", shown_value(what, run[a]->value, display_).text()},
                                 {"other", shown_value(what, run[b]->value, display_).text()},
                                 {"both", shown_value(what, run[c]->value, display_).text()}});
        }
  }

  void clocks() {
    for (std::size_t i = 0; i < files_.size(); ++i) {
      if (i == study_.main) continue;
      if (!study_.clocks[i] || !study_.clocks[i]->trusted) {
        say(main_.dated && files_[i].dated ? "clock_as_it_stands" : "clock_unknown",
            {{"file", files_[i].name}});
        continue;
      }
      const traces::Clock& c = *study_.clocks[i];
      say(c.whole_hours ? "clock_zone" : "clock", {{"file", files_[i].name},
                                                   {"offset", clock_text(c.offset)},
                                                   {"low", clock_text(c.low)},
                                                   {"high", clock_text(c.high)}});
      const auto day = [&](double s) { return base::number_text(s, 1, display_.numerals); };
      if (c.drift_tried)
        say(c.drift != 0 ? "clock_drift" : "clock_steady",
            {{"file", files_[i].name},
             {"drift", day(c.drift)},
             {"low", day(c.drift_low)},
             {"high", day(c.drift_high)},
             {"ppm", base::number_text(c.drift / 0.0864, 0, display_.numerals)}});
    }
  }

  json series() const {
    json out = json::array();
    for (const traces::Series& s : study_.trace.series) out.push_back(thinned(s, points_));
    return out;
  }

  json thinned(const traces::Series& s, std::size_t buckets) const {
    json points = json::array();
    std::string unit;
    // No more digits than a picture shows: there are many of them.
    const auto rounded = [](double v) { return std::round(v * 1e4) / 1e4; };
    for (const traces::Thin& thin : traces::thinned(study_.trace, s, buckets)) {
      const base::Shown low = shown_value(s.what, thin.least, display_),
                        high = shown_value(s.what, thin.most, display_);
      // A gauge shows inHg below the air: a picture keeps to one unit.
      const bool odd = !unit.empty() && (low.unit != unit || high.unit != unit);
      if (unit.empty()) unit = high.unit;
      const auto value = [&](const base::Shown& shown) {
        if (!odd || shown.unit == unit) return shown.value;
        return unit == "psig" ? -shown.value * -0.4911541 : shown.value;
      };
      points.push_back({rounded(thin.at), rounded(value(low)), rounded(value(high))});
    }
    return {{"what", word_of(s.what)},
            {"label", wording_.word("trace_what", word_of(s.what))},
            {"column", s.name},
            {"unit", unit},
            {"points", std::move(points)}};
  }

  /// The signal that running was told from, with the phases below.
  std::string picture() const {
    if (!study_.phases) return "";
    const json one =
        thinned(study_.trace.series[static_cast<std::size_t>(study_.phases->series)], usual_points);
    drawing::TraceStrip strip;
    strip.label = one["label"].get<std::string>() + ", " + one["unit"].get<std::string>();
    strip.from = moment_text(main_, 0);
    strip.to = moment_text(main_, main_.seconds);
    strip.numerals = display_.numerals;
    for (const json& p : one["points"])
      strip.points.push_back({p[0].get<double>(), p[1].get<double>(), p[2].get<double>()});
    for (int s = 0; s < traces::kStates; ++s)
      strip.states.push_back(wording_.word("trace_states", traces::to_word(static_cast<State>(s))));
    for (const traces::Phase& p : study_.phases->phases)
      if (strip.bands.size() < kMostPhases) strip.bands.push_back({p.from, p.to, static_cast<int>(p.state)});
    return drawing::draw(strip);
  }

  const std::vector<TracedFile>& files_;
  const Study& study_;
  std::size_t points_;
  const Wording& wording_;
  const base::Display& display_;
  const TracedFile& main_;
  json statements_ = json::array();
};

}  // namespace

std::string moment_text(const TracedFile& file, double seconds) {
  return file.dated ? traces::date_text(file.start + seconds) : traces::elapsed_text(seconds);
}

TracedFile traced(const traces::Trace& trace, const traces::Layout& layout,
                  std::vector<traces::Question> questions, bool guessed) {
  TracedFile out;
  out.name = trace.name;
  out.layout = layout;
  out.questions = std::move(questions);
  out.guessed = guessed;
  out.dated = trace.dated;
  out.zoned = trace.zoned;
  out.start = trace.start;
  out.seconds = trace.t.back();
  out.interval = trace.interval;
  out.rows = trace.rows;
  out.used = trace.used;
  out.samples = trace.t.size();
  out.aside = trace.aside;
  return out;
}

json trace_json(const std::vector<TracedFile>& files, const Study& study, std::size_t points,
                const Wording& wording, const base::Display& display) {
  return TraceAnswer(files, study, points, wording, display).run();
}

}  // namespace coldwright::service

#include "judge/eyes.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace coldwright::judge {
namespace {

using lab::Readable;

bool has(const lab::Visit& v, const std::vector<const char*>& causes) {
  return std::any_of(v.truth.begin(), v.truth.end(), [&](const lab::TrueCause& c) {
    return std::any_of(causes.begin(), causes.end(), [&](const char* id) { return c.id == id; });
  });
}

// The next state over, in either direction, where the technician misses it.
std::string slipped(std::vector<std::string> scale, std::size_t at, const Technician& t,
                    RandomStream& random) {
  if (random.uniform() < t.misses) {
    if (at == 0) {
      at = 1;
    } else if (at + 1 == scale.size() || random.uniform() < 0.7) {
      --at;  // more often too little is seen than too much
    } else {
      ++at;
    }
  }
  return scale[at];
}

// A motor heard now and, where somebody tells, before.
std::string motor(const lab::Visit& v, const Technician& t, double from, double to, RandomStream& random) {
  bool turned = false, stood = false, hummed = false;
  for (const Readable& r : v.course) {
    if (r.time > to) break;
    if (r.time < from - 60) continue;
    turned = turned || r.motor_turns;
    hummed = hummed || r.motor_hums;
    stood = stood || !r.motor_turns;
  }
  // A hum lasts seconds and the course is sampled by the minute: attempts come by their rate of the last
  // hour.
  const bool ever_turns =
      std::any_of(v.course.begin(), v.course.end(), [](const Readable& r) { return r.motor_turns; });
  const bool tried = random.uniform() > std::exp(-v.trips_last_hour * to / 3600);
  std::string said = "off";
  if (hummed || (tried && !ever_turns)) {
    said = random.uniform() < 0.6 ? "humming" : "cycling_on_overload";
  } else if (v.trips_last_hour > 0 && (t.asks || tried)) {
    said = "cycling_on_overload";
  } else if (turned && stood) {
    said = random.uniform() < 0.5 ? "running_at_times" : "cycling_on_overload";
  } else if (turned) {
    said = "running";
  }
  if (random.uniform() > 0.5 * t.misses) return said;
  if (said == "running") return "running_at_times";
  return said == "off" ? "humming" : said == "humming" ? "cycling_on_overload" : "running";
}

std::string fan(double speed, const Technician& t, RandomStream& random) {
  // A fan that turns at half its speed is seldom told from one at full.
  const bool told = random.uniform() < (speed < 0.5 ? 0.85 : 0.55);
  const std::size_t at = speed < 0.1 ? 2 : speed < 0.8 && told ? 1 : 0;
  return slipped({"running", "slow", "stopped"}, at, t, random);
}

std::string face(double dirt, const Technician& t, RandomStream& random) {
  // What sits inside between the fins, or behind, isn't seen.
  // Lint that takes no air is seen all the same.
  const double lint = random.uniform();
  const double visible =
      std::max(dirt * (random.uniform() < 0.12 ? 0.3 : 1), 0.25 * lint * lint) + 0.06 * random.normal();
  const std::size_t at = visible > t.blocked_from ? 2 : visible > t.dusty_from ? 1 : 0;
  return slipped({"clean", "dusty", "blocked"}, at, t, random);
}

std::string coil(const Readable& r, const Technician& t, RandomStream& random) {
  if (r.frost > t.iced_from) return slipped({"clear", "light_frost", "iced_over"}, 2, t, random);
  const bool cold = r.evaporator_inlet < 273.15 - 1;
  // Starved: white where it enters, bare where it leaves.
  if (cold && r.evaporator_outlet - r.evaporator_inlet > 8 && random.uniform() < 0.6)
    return "frost_at_inlet_only";
  const bool light = r.frost > t.light_from || (cold && random.uniform() < 0.35);
  return slipped({"clear", "light_frost", "iced_over"}, light ? 1 : 0, t, random);
}

struct History {
  const char* subject;
  std::vector<const char*> values;
  struct Given {
    std::vector<const char*> causes;
    std::vector<double> share;
  };
  std::vector<Given> given;    // the first that fits the truth
  std::vector<double> others;  // any other cause
};

// Shares that the judge believes in; they differ from data/observations.json on purpose. our-estimate.
const std::vector<History>& history() {
  static const std::vector<History> all{
      {"door_gasket",
       {"good", "torn"},
       {{{"high_load"}, {0.6, 0.4}}, {{"iced_evaporator"}, {0.6, 0.4}}},
       {0.85, 0.15}},
      {"box_load",
       {"usual", "warm_product", "door_often_open"},
       {{{"high_load"}, {0.3, 0.4, 0.3}}},
       {0.8, 0.08, 0.12}},
      {"oil_trace", {"none", "found"}, {{{"low_charge"}, {0.65, 0.35}}}, {0.92, 0.08}},
      {"drier",
       {"same_both_ends", "colder_at_outlet", "frosted"},
       {{{"restriction"}, {0.68, 0.25, 0.07}}, {{"moisture_freeze"}, {0.85, 0.13, 0.02}}},
       {0.92, 0.07, 0.01}},
      {"circuit_opened",
       {"never", "some_time_ago", "recently"},
       {{{"noncondensable", "overcharge"}, {0.06, 0.34, 0.6}},
        {{"moisture_freeze"}, {0.1, 0.35, 0.55}},
        {{"low_charge", "restriction"}, {0.55, 0.25, 0.2}}},
       {0.68, 0.22, 0.1}},
      {"cooling",
       {"poor_all_the_time", "comes_and_goes"},
       {{{"pumping_lost_at_times", "moisture_freeze"}, {0.15, 0.85}},
        {{"iced_evaporator", "low_voltage", "control"}, {0.7, 0.3}}},
       {0.9, 0.1}}};
  return all;
}

std::string told(const History& h, const lab::Visit& v, RandomStream& random) {
  const std::vector<double>* share = &h.others;
  for (const auto& given : h.given)
    if (share == &h.others && has(v, given.causes)) share = &given.share;
  const double u = random.uniform();
  double sum = 0;
  for (std::size_t i = 0; i < share->size(); ++i)
    if ((sum += (*share)[i]) >= u) return h.values[i];
  return h.values.back();
}

}  // namespace

std::string seen(const lab::Visit& v, const Technician& t, const std::string& subject, double from, double to,
                 RandomStream random) {
  const auto later = std::upper_bound(v.course.begin(), v.course.end(), to,
                                      [](double at, const Readable& r) { return at < r.time; });
  const Readable& r = later == v.course.begin() ? v.course.front() : *(later - 1);
  if (subject == "compressor") return motor(v, t, from, to, random);
  if (subject == "condenser_fan") return fan(r.condenser_fan, t, random);
  if (subject == "evaporator_fan") return fan(r.evaporator_fan, t, random);
  if (subject == "condenser_face") return face(r.dirt, t, random);
  if (subject == "evaporator_coil") return coil(r, t, random);
  if (subject == "control_call")
    return (r.calls_for_cold && !has(v, {"control"})) != (random.uniform() < 0.5 * t.misses) ? "calling"
                                                                                             : "not_calling";
  for (const History& h : history())
    if (subject == h.subject) return told(h, v, random);
  return "";
}

}  // namespace coldwright::judge

#include "judge/path.hpp"

#include <algorithm>
#include <fstream>
#include <sstream>

#include <fmt/format.h>

#include "judge/row.hpp"

namespace coldwright::judge {
namespace {

constexpr double kVerdict = 0.9;

struct Step {
  std::string subject;
  bool is_observation;
  double minutes;
};

std::vector<Step> everything(const diagnosis::Knowledge& k) {
  std::vector<Step> steps;
  for (const auto& row : circuit::reading_table()) steps.push_back({std::string(row.id), false, row.minutes});
  for (const auto& m : k.observations)
    if (m.subject != "complaint") steps.push_back({m.subject, true, m.minutes});
  return steps;
}

std::pair<std::string, double> leading(const Said& said) {
  Row row;
  row.answer = said.causes;
  return answer_of(row, Merge::load).front();
}

// The next thing to do; the number of steps left when there is none worth it.
std::size_t choose(Policy policy, const std::vector<Step>& left, const Said& said, RandomStream& order) {
  const auto place = [&](const std::string& subject) {
    return static_cast<std::size_t>(
        std::find_if(left.begin(), left.end(), [&](const Step& s) { return s.subject == subject; }) -
        left.begin());
  };
  switch (policy) {
    case Policy::advice:
      for (const auto& next : said.next)
        if (place(next.subject) < left.size()) return place(next.subject);
      return left.size();
    case Policy::checklist:
      for (const std::string& subject : checklist())
        if (place(subject) < left.size()) return place(subject);
      return left.size();
    case Policy::random:
      return std::min(static_cast<std::size_t>(order.uniform() * static_cast<double>(left.size())),
                      left.size() - 1);
  }
  return left.size();
}

}  // namespace

const char* to_word(Policy policy) {
  return policy == Policy::advice ? "advice" : policy == Policy::checklist ? "checklist" : "random";
}

// Common practice: ask first, then look and listen, then what is at hand without tools; supply before load;
// temperatures from the outside of the machine inwards; windings, for which it is unplugged; the sealed
// circuit last, since each opening of it loses gas that burns and is missed afterwards.
const std::vector<std::string>& checklist() {
  static const std::vector<std::string> order{"cooling",
                                              "circuit_opened",
                                              "box_load",
                                              "door_gasket",
                                              "compressor",
                                              "condenser_fan",
                                              "condenser_face",
                                              "evaporator_fan",
                                              "evaporator_coil",
                                              "control_call",
                                              "supply_voltage",
                                              "compressor_current",
                                              "condenser_air_out_temp",
                                              "evaporator_air_out_temp",
                                              "discharge_line_temp",
                                              "condenser_middle_temp",
                                              "liquid_line_temp",
                                              "drier",
                                              "suction_line_temp",
                                              "shell_temp",
                                              "evaporator_inlet_temp",
                                              "evaporator_outlet_temp",
                                              "oil_trace",
                                              "terminal_voltage",
                                              "run_winding_ohms",
                                              "start_winding_ohms",
                                              "suction_pressure",
                                              "discharge_pressure",
                                              "standing_pressure"};
  return order;
}

double whole_round(const diagnosis::Knowledge& knowledge) {
  double minutes = 0;
  for (const Step& s : everything(knowledge)) minutes += s.minutes;
  return minutes;
}

Result<Path> follow(Policy policy, const lab::Visit& visit, const diagnosis::Knowledge& knowledge,
                    Opinion& opinion, RandomStream technician, RandomStream order) {
  Site site(visit, technician);
  diagnosis::Case c = site.arrival();
  std::vector<Step> left = everything(knowledge);
  std::erase_if(left, [&](const Step& s) { return !diagnosis::can_be_seen(s.subject, c, knowledge); });
  Path path;
  path.policy = policy;
  for (;;) {
    const auto said = opinion.ask(c, policy == Policy::advice);
    if (!said) return said.problem();
    const auto [cause, p] = leading(*said);
    path.verdict = cause;
    path.sure = p > kVerdict;
    if (path.sure || left.empty()) break;
    const std::size_t i = choose(policy, left, *said, order);
    if (i == left.size()) break;
    const Step step = left[i];
    left.erase(left.begin() + static_cast<std::ptrdiff_t>(i));
    if (step.is_observation) {
      c.observations.push_back(site.look(step.subject, step.minutes));
    } else {
      c.readings.push_back(site.read(*circuit::reading_from_id(step.subject)));
    }
    ++path.steps;
  }
  Row row;
  for (const lab::TrueCause& t : visit.truth) row.truth.emplace_back(t.id, -1);
  path.truth = truth_of(row, Merge::load);
  path.cost = site.cost();
  path.to_right = path.cost.minutes + (path.verdict == path.truth ? 0 : whole_round(knowledge));
  return path;
}

std::string to_line(const Path& p) {
  return fmt::format("{} {} {} {} {} {} {:.1f} {} {:.1f} {:.1f}", p.visit, to_word(p.policy), p.truth,
                     p.verdict, p.sure ? 1 : 0, p.steps, p.cost.minutes, p.cost.openings, p.cost.grams,
                     p.to_right);
}

Result<std::vector<Path>> read_paths(const std::vector<std::string>& files) {
  std::vector<Path> paths;
  for (const std::string& file : files) {
    std::ifstream in(file);
    if (!in) return Problem{"paths", file, "a file that can be read", "there is none"};
    for (std::string line; std::getline(in, line);) {
      std::istringstream words(line);
      Path p;
      std::string policy;
      if (!(words >> p.visit >> policy >> p.truth >> p.verdict >> p.sure >> p.steps >> p.cost.minutes >>
            p.cost.openings >> p.cost.grams >> p.to_right))
        return Problem{"path", line.substr(0, 60), "see bench/judge/path.hpp", "it is no line of paths"};
      const auto known = std::find_if(std::begin(kPolicies), std::end(kPolicies),
                                      [&](Policy one) { return policy == to_word(one); });
      if (known == std::end(kPolicies))
        return Problem{"policy", policy, "advice, checklist, random", "nobody goes that way"};
      p.policy = *known;
      paths.push_back(std::move(p));
    }
  }
  return paths;
}

std::string tally(const std::vector<Path>& paths) {
  struct Sum {
    double n = 0, right = 0, sure = 0, sure_right = 0, steps = 0, minutes = 0, openings = 0, opened = 0,
           grams = 0, to_right = 0;
    std::vector<double> each;
  };
  Sum sums[3];
  for (const Path& p : paths) {
    Sum& s = sums[static_cast<int>(p.policy)];
    const bool right = p.truth == p.verdict;
    s.n += 1;
    s.right += right;
    s.sure += p.sure;
    s.sure_right += p.sure && right;
    s.steps += p.steps;
    s.minutes += p.cost.minutes;
    s.openings += p.cost.openings;
    s.opened += p.cost.openings > 0;
    s.grams += p.cost.grams;
    s.to_right += p.to_right;
    s.each.push_back(p.to_right);
  }
  std::string out = fmt::format(
      "{:10} {:>5} {:>6} {:>6} {:>6} {:>6} {:>8} {:>8} {:>6} {:>8} {:>7} {:>9} {:>7}\n", "order", "calls",
      "right", "sure", "right", "steps", "minutes", "to right", "median", "openings", "opened", "grams", "");
  for (Policy policy : kPolicies) {
    Sum& s = sums[static_cast<int>(policy)];
    if (s.n == 0) continue;
    std::sort(s.each.begin(), s.each.end());
    out += fmt::format(
        "{:10} {:5.0f} {:6.3f} {:6.3f} {:6.3f} {:6.1f} {:8.1f} {:8.1f} {:6.1f} {:8.2f} {:7.3f} {:9.2f}\n",
        to_word(policy), s.n, s.right / s.n, s.sure / s.n, s.sure > 0 ? s.sure_right / s.sure : 0,
        s.steps / s.n, s.minutes / s.n, s.to_right / s.n, s.each[s.each.size() / 2], s.openings / s.n,
        s.opened / s.n, s.grams / s.n);
  }
  const Sum &advice = sums[0], &list = sums[1];
  if (advice.n > 0 && list.n > 0)
    out += fmt::format(
        "advice against checklist: minutes to a right verdict {:.2f}, minutes {:.2f}, calls opened {:.2f}, "
        "grams {:.2f}\n",
        advice.to_right / advice.n / (list.to_right / list.n),
        advice.minutes / advice.n / (list.minutes / list.n),
        advice.opened / advice.n / std::max(list.opened / list.n, 1e-9),
        advice.grams / advice.n / std::max(list.grams / list.n, 1e-9));
  return out;
}

}  // namespace coldwright::judge

#include "judge/run.hpp"

#include <algorithm>

namespace coldwright::judge {
diagnosis::Case gather(Site& site, const ReadingSet& set, const diagnosis::Knowledge& knowledge) {
  diagnosis::Case c = site.arrival();
  const auto taken = [&](const std::string& subject) {
    return diagnosis::can_be_seen(subject, c, knowledge) &&
           std::find(set.left_out.begin(), set.left_out.end(), subject) == set.left_out.end();
  };
  if (set.eyes)
    for (const char* subject : kLookedAt)
      for (const auto& m : knowledge.observations)
        if (m.subject == subject && taken(subject)) c.observations.push_back(site.look(subject, m.minutes));
  if (set.asks)
    for (const auto& m : knowledge.observations)
      if (m.subject != "complaint" && taken(m.subject) &&
          std::none_of(c.observations.begin(), c.observations.end(),
                       [&](const auto& o) { return o.subject == m.subject; }))
        c.observations.push_back(site.look(m.subject, m.minutes));
  auto order = set.readings;
  std::stable_partition(order.begin(), order.end(),
                        [](circuit::ReadingKind kind) { return !circuit::info(kind).opens_circuit; });
  for (circuit::ReadingKind kind : order) c.readings.push_back(site.read(kind));
  return c;
}

diagnosis::Case taken(const lab::Visit& visit, long number, const ReadingSet& set,
                      const diagnosis::Knowledge& knowledge, const RandomStream& technicians) {
  const RandomStream one = technicians.fork(static_cast<std::uint64_t>(number));
  Site site(visit, one);
  return gather(site, part_of(set, knowledge, one.fork(5)), knowledge);
}

lab::Visit with_cold_box(lab::Visit visit, const circuit::WorkingFluid& fluid) {
  const lab::Readable& first = visit.course.front();
  const double gas = std::max(visit.standing_pressure - fluid.saturation_pressure(first.ambient), 0.0);
  const double cold =
      fluid.saturation_pressure(std::min(first.box_air + 3, first.ambient));  // it warms meanwhile
  visit.standing_pressure = std::min(visit.standing_pressure - gas, cold) + gas;
  return visit;
}

Result<std::vector<Row>> judge_visit(const lab::Visit& visit, long number, const std::string& wanted,
                                     const diagnosis::Knowledge& knowledge, Opinion& opinion,
                                     const RandomStream& technicians) {
  std::vector<Row> rows;
  opinion.begin(static_cast<std::uint64_t>(number));
  for (const ReadingSet& set : reading_sets()) {
    if (wanted.find(set.name) == std::string::npos) continue;
    const RandomStream one = technicians.fork(static_cast<std::uint64_t>(number));
    Site site(visit, one);
    const diagnosis::Case c = gather(site, part_of(set, knowledge, one.fork(5)), knowledge);
    const auto said = opinion.ask(c, false);
    if (!said) return said.problem();
    Row row = row_of(visit, knowledge, *said);
    row.visit = number;
    row.set = set.name;
    row.minutes = site.cost().minutes;
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace coldwright::judge

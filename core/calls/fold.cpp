#include "calls/fold.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "base/text.hpp"
#include "calls/standing.hpp"

namespace coldwright::calls {
namespace {

using diagnosis::Statement;
using diagnosis::Unit;

/// Walks the steps of folding; each returns false once a problem is found.
class Folder {
 public:
  Folder(const Call& call, const Vocabulary& vocabulary, Instant now)
      : call_(call), vocabulary_(vocabulary), now_(now) {}

  Result<Folded> run() {
    const bool done = corrections() && times() && nameplate() && site() && observations() && readings();
    if (!done) return *problem_;
    folded_.name = call_.name;
    folded_.units = call_.units.value_or(spoken_units());
    return std::move(folded_);
  }

 private:
  bool fail(Problem problem) {
    problem_ = std::move(problem);
    return false;
  }
  void remark(std::string key, std::vector<diagnosis::Value> values = {},
              std::vector<std::pair<std::string, std::string>> words = {}) {
    folded_.remarks.push_back({std::move(key), std::move(values), std::move(words)});
  }

  bool corrections();
  bool acyclic(const std::map<std::string, const Entry*>& by_id);
  bool times();
  bool nameplate();
  bool plate_words(const NameplateEntry& plate, const Entry& entry);
  bool plate_numbers(const NameplateEntry& plate, const Entry& entry);
  bool known_plate();
  bool site();
  bool air_pressure(const std::vector<Claim<double>>& altitudes,
                    const std::vector<Claim<double>>& barometers);
  bool observations();
  bool readings();
  Result<double> value_of(const ReadingEntry& body, const std::string& field) const;
  base::UnitSystem spoken_units() const;

  template <class T, class Target>
  bool plate_field(const char* name, const std::optional<Given<T>>& given, Target& target,
                   const Entry& entry);

  const Call& call_;
  const Vocabulary& vocabulary_;
  Instant now_;
  std::vector<const Entry*> standing_;                                     // by id, without those replaced
  std::map<std::string, std::pair<std::string, std::string>> plate_said_;  // field -> typed text, entry id
  std::optional<std::string> plate_cabinet_, plate_refrigerant_;
  Folded folded_;
  std::optional<Problem> problem_;
};

bool Folder::acyclic(const std::map<std::string, const Entry*>& by_id) {
  for (const auto& [id, entry] : by_id) {
    const Entry* at = entry;
    for (std::size_t steps = 0; at->replaces; ++steps) {
      if (steps > by_id.size() || *at->replaces == id)
        return fail({"entry " + base::quoted(id) + ", replaces", base::quoted(*at->replaces),
                     "an entry that came before", "these corrections replace each other in a ring"});
      const auto next = by_id.find(*at->replaces);
      if (next == by_id.end()) break;
      at = next->second;
    }
  }
  return true;
}

bool Folder::corrections() {
  std::map<std::string, const Entry*> by_id;
  for (const Entry& entry : call_.entries) by_id.emplace(entry.id, &entry);
  std::set<std::string> replaced;
  std::vector<std::string> ids;
  for (const auto& [id, entry] : by_id) ids.push_back(id);
  for (const auto& [id, entry] : by_id) {
    if (!entry->replaces) continue;
    const auto old = by_id.find(*entry->replaces);
    const std::string field = "entry " + base::quoted(id) + ", replaces";
    if (old == by_id.end()) {
      const auto near = base::nearest(*entry->replaces, ids);
      return fail({field, base::quoted(*entry->replaces), "the id of an entry in this call",
                   near ? "did you mean \"" + *near + "\"?" : "no entry here has that id"});
    }
    if (old->second->kind != entry->kind && entry->kind != "note")
      return fail({field, base::quoted(*entry->replaces) + ", which is a " + old->second->kind,
                   "an entry of the same kind; a note may withdraw any entry",
                   "a " + entry->kind + " can't stand for it"});
    replaced.insert(*entry->replaces);
  }
  if (!acyclic(by_id)) return false;
  std::set<std::string> unknown;
  for (const auto& [id, entry] : by_id) {
    if (replaced.count(id) != 0) continue;
    standing_.push_back(entry);
    if (std::holds_alternative<UnknownEntry>(entry->body)) unknown.insert(entry->kind);
  }
  for (const std::string& kind : unknown) remark("unknown_kind_kept", {}, {{"kind", kind}});
  return true;
}

bool Folder::times() {
  for (const Entry& entry : call_.entries) {
    if (!entry.at || entry.at->seconds <= now_.seconds + clock_slack_seconds) continue;
    const auto* reading = std::get_if<ReadingEntry>(&entry.body);
    const std::string what = reading ? " (" + std::string(circuit::info(reading->kind).label) + ")" : "";
    return fail(
        {"entry " + base::quoted(entry.id) + what + ", at", to_text(*entry.at),
         "no later than now, " + to_text(now_) + ", and five minutes",
         "nothing can have been read in the future; check the date, the hour and its offset from UTC"});
  }
  return true;
}

template <class T, class Target>
bool Folder::plate_field(const char* name, const std::optional<Given<T>>& given, Target& target,
                         const Entry& entry) {
  if (!given) return true;
  const auto said = plate_said_.find(name);
  if (said != plate_said_.end() && !same(*target, given->value))
    return fail({"nameplate, " + std::string(name),
                 base::quoted(said->second.first) + " (" + said->second.second + ") and " +
                     base::quoted(given->text) + " (" + entry.id + ")",
                 "one value, or \"replaces\" in the entry that corrects the other",
                 "a plate says one thing; which of the two is the slip isn't guessed"});
  target = given->value;
  plate_said_[name] = {given->text, entry.id};
  return true;
}

bool Folder::plate_words(const NameplateEntry& plate, const Entry& entry) {
  std::optional<GivenText> refrigerant = plate.refrigerant;
  if (refrigerant && vocabulary_.refrigerant_named) {
    const auto known = vocabulary_.refrigerant_named(refrigerant->text);
    if (!known)
      return fail({"nameplate, refrigerant", base::quoted(refrigerant->text), known.problem().allowed,
                   known.problem().why});
    refrigerant->value = *known;
  }
  return plate_field("cabinet", plate.cabinet, plate_cabinet_, entry) &&
         plate_field("refrigerant", refrigerant, plate_refrigerant_, entry) &&
         plate_field("condenser", plate.condenser, folded_.the_case.nameplate.condenser, entry);
}

bool Folder::plate_numbers(const NameplateEntry& plate, const Entry& entry) {
  circuit::Nameplate& into = folded_.the_case.nameplate;
  return plate_field("charge", plate.charge, into.charge, entry) &&
         plate_field("rated_current", plate.rated_current, into.rated_current, entry) &&
         plate_field("rated_voltage", plate.rated_voltage, into.rated_voltage, entry) &&
         plate_field("frequency", plate.frequency, into.frequency, entry) &&
         plate_field("displacement", plate.displacement, into.displacement, entry) &&
         plate_field("set_point", plate.set_point, into.set_point, entry);
}

bool Folder::nameplate() {
  for (const Entry* entry : standing_)
    if (const auto* plate = std::get_if<NameplateEntry>(&entry->body))
      if (!plate_words(*plate, *entry) || !plate_numbers(*plate, *entry)) return false;
  return known_plate();
}

/// The kind of cabinet must be known; the rest of the plate may be worn off.
bool Folder::known_plate() {
  std::vector<std::string> ids;
  for (const auto& cabinet : vocabulary_.cabinets) ids.push_back(cabinet.id);
  if (!plate_cabinet_)
    return fail({"nameplate, cabinet", "nothing", base::listed(ids),
                 "without the kind of cabinet there is no machine to compare with; the rest of the plate may "
                 "be unreadable"});
  const auto found = std::find_if(vocabulary_.cabinets.begin(), vocabulary_.cabinets.end(),
                                  [&](const auto& cabinet) { return cabinet.id == *plate_cabinet_; });
  if (found == vocabulary_.cabinets.end()) {
    const auto near = base::nearest(*plate_cabinet_, ids);
    return fail({"nameplate, cabinet", base::quoted(*plate_cabinet_), base::listed(ids),
                 near ? "did you mean \"" + *near + "\"?" : "no such kind of cabinet is known"});
  }
  circuit::Nameplate& plate = folded_.the_case.nameplate;
  plate.archetype = *plate_cabinet_;
  plate.refrigerant = plate_refrigerant_;
  folded_.refrigerant = plate_refrigerant_.value_or(found->refrigerant);
  if (!plate_refrigerant_)
    remark("refrigerant_assumed", {}, {{"refrigerant", found->refrigerant}, {"cabinet", found->id}});
  return true;
}

bool Folder::site() {
  std::vector<Claim<double>> ambient, box, altitude, barometer;
  for (const Entry* entry : standing_) {
    const auto* body = std::get_if<SiteEntry>(&entry->body);
    if (body == nullptr) continue;
    const auto add = [&](std::vector<Claim<double>>& list, const std::optional<GivenNumber>& given) {
      if (given) list.push_back({given->value, given->text, entry});
    };
    add(ambient, body->ambient);
    add(box, body->box);
    add(altitude, body->altitude);
    add(barometer, body->barometer);
  }
  using Slot = std::pair<std::vector<Claim<double>>*, std::optional<double>*>;
  for (const auto& [claims, target] :
       {Slot{&ambient, &folded_.the_case.ambient}, Slot{&box, &folded_.the_case.box}}) {
    if (claims->empty()) continue;
    const char* name = claims == &ambient ? "ambient" : "box";
    const auto settled = settle(*claims, std::string("site, ") + name);
    if (!settled) return fail(settled.problem());
    *target = settled->claim.value;
    if (settled->older > 0) remark("site_later_stands", {}, {{"what", name}, {"given", settled->claim.text}});
  }
  return air_pressure(altitude, barometer);
}

bool Folder::air_pressure(const std::vector<Claim<double>>& altitudes,
                          const std::vector<Claim<double>>& barometers) {
  double& site = folded_.the_case.site_pressure;
  site = base::sea_level.si;
  std::optional<double> from_altitude;
  if (!altitudes.empty()) {
    const auto altitude = settle(altitudes, "site, altitude");
    if (!altitude) return fail(altitude.problem());
    const auto pressure = base::site_pressure_at(base::Length{altitude->claim.value});
    if (!pressure) return fail(pressure.problem());
    from_altitude = site = pressure->si;
  }
  if (!barometers.empty()) {
    const auto barometer = settle(barometers, "site, barometer");
    if (!barometer) return fail(barometer.problem());
    site = barometer->claim.value;
    if (from_altitude && std::abs(site / *from_altitude - 1) > 0.05)
      return fail(
          {"site, barometer",
           base::quoted(barometer->claim.text) + " beside an altitude of " +
               base::quoted(altitudes.front().text),
           "the air's own pressure there, near " + base::number_text(*from_altitude / 3386.388640341, 1) +
               " inHg (" + base::number_text(*from_altitude / 100, 0) + " hPa)",
           "weather services reduce their barometer to sea level; a gauge feels the air where it hangs"});
  }
  if (altitudes.empty() && barometers.empty()) remark("sea_level_assumed");
  return true;
}

bool Folder::observations() {
  std::map<std::string, std::vector<Claim<std::string>>> by_subject;
  for (const Entry* entry : standing_)
    if (const auto* body = std::get_if<ObservationEntry>(&entry->body))
      by_subject[body->subject].push_back({body->value, body->value, entry});
  std::vector<std::string> subjects;
  for (const auto& subject : vocabulary_.subjects) subjects.push_back(subject.id);
  for (const auto& [subject, claims] : by_subject) {
    const auto known = std::find_if(vocabulary_.subjects.begin(), vocabulary_.subjects.end(),
                                    [&, &name = subject](const auto& row) { return row.id == name; });
    if (known == vocabulary_.subjects.end()) {
      const auto near = base::nearest(subject, subjects);
      return fail({"observation, subject", base::quoted(subject), base::listed(subjects),
                   near ? "did you mean \"" + *near + "\"?" : "nothing of that name is known"});
    }
    for (const auto& claim : claims) {
      if (std::find(known->values.begin(), known->values.end(), claim.value) != known->values.end()) continue;
      const auto near = base::nearest(claim.value, known->values);
      return fail({"observation, " + subject, base::quoted(claim.value), base::listed(known->values),
                   near ? "did you mean \"" + *near + "\"?" : "no such answer is known for it"});
    }
    const auto settled = settle(claims, "observation, " + subject);
    if (!settled) return fail(settled.problem());
    if (settled->older > 0)
      remark("observation_later_stands", {}, {{"subject", subject}, {"value", settled->claim.value}});
    folded_.the_case.observations.push_back(
        {subject, settled->claim.value, settled->claim.entry->id,
         std::get<ObservationEntry>(settled->claim.entry->body).confidence});
  }
  return true;
}

Result<double> Folder::value_of(const ReadingEntry& body, const std::string& field) const {
  if (circuit::info(body.kind).quantity != circuit::QuantityKind::pressure) return body.value.value;
  const base::SitePressure site{folded_.the_case.site_pressure};
  const auto absolute = base::resolve(body.pressure.value, site, field, base::quoted(body.pressure.text));
  if (!absolute) return absolute.problem();
  return absolute->si;
}

bool Folder::readings() {
  std::map<circuit::ReadingKind, std::vector<Claim<double>>> by_kind;
  for (const Entry* entry : standing_) {
    const auto* body = std::get_if<ReadingEntry>(&entry->body);
    if (body == nullptr) continue;
    const std::string field = "reading, " + std::string(circuit::info(body->kind).label);
    const auto value = value_of(*body, field);
    if (!value) return fail(value.problem());
    const bool pressure = circuit::info(body->kind).quantity == circuit::QuantityKind::pressure;
    by_kind[body->kind].push_back({*value, pressure ? body->pressure.text : body->value.text, entry});
  }
  for (const auto& [kind, claims] : by_kind) {
    const circuit::ReadingInfo& info = circuit::info(kind);
    const auto settled = settle(claims, "reading, " + std::string(info.label));
    if (!settled) return fail(settled.problem());
    if (settled->older > 0)
      remark("reading_later_stands", {}, {{"reading", std::string(info.id)}, {"given", settled->claim.text}});
    const Entry& entry = *settled->claim.entry;
    const auto& body = *std::get_if<ReadingEntry>(&entry.body);
    diagnosis::Reading reading{kind, settled->claim.value, std::nullopt, std::nullopt, entry.id};
    if (body.accuracy) reading.accuracy = body.accuracy->value;
    if (body.running_for) reading.minutes_running = body.running_for->value / 60.0;
    folded_.the_case.readings.push_back(std::move(reading));
  }
  return true;
}

/// What most of the entries speak; US when they don't say.
base::UnitSystem Folder::spoken_units() const {
  int metric = 0, us = 0;
  for (const Entry* entry : standing_)
    if (entry->has_quantities) ++(entry->spoken == base::UnitSystem::metric ? metric : us);
  return metric > us ? base::UnitSystem::metric : base::UnitSystem::us;
}

}  // namespace

Result<Folded> fold(const Call& call, const Vocabulary& vocabulary, Instant now) {
  return Folder(call, vocabulary, now).run();
}

}  // namespace coldwright::calls

#include "calls/entry_reader.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/text.hpp"

namespace coldwright::calls {
namespace {

using base::Dimension;

// Common practice: what a plate, a place or an instrument on a small sealed cabinet can say. Wide on purpose;
// they catch a slipped digit or unit, they don't judge the machine.
struct Range {
  double low, high;
};
constexpr Range kAmbient{kZeroC - 40, kZeroC + 65}, kBox{kZeroC - 70, kZeroC + 65},
    kSetPoint{kZeroC - 60, kZeroC + 30};
constexpr Range kCharge{0.005, 5.0}, kRatedCurrent{0.05, 60}, kRatedVoltage{9, 500}, kFrequency{15, 450};
constexpr Range kDisplacement{0.5e-6, 200e-6};
constexpr Range kPipe{kZeroC - 90, kZeroC + 200};
constexpr Range kPressure{
    100, 45e5};  // the critical pressures of the sealed-cabinet refrigerants lie below 45 bar
constexpr Range kCurrent{0, 150}, kVoltage{0, 600}, kResistance{0, 1e6};
constexpr double kOpenCircuit = 1e6;  // ohm, for a meter that shows "OL": more than any winding has

std::string range_text(Dimension dimension, Range range) {
  const auto one = [&](base::UnitSystem system) {
    const base::Display display{system, base::sea_level};
    return base::show(dimension, range.low, display).text() + " to " +
           base::show(dimension, range.high, display).text();
  };
  const std::string us = one(base::UnitSystem::us), metric = one(base::UnitSystem::metric);
  return us == metric ? us : us + " (" + metric + ")";
}

Range range_of(circuit::QuantityKind kind) {
  switch (kind) {
    case circuit::QuantityKind::pressure:
      return kPressure;
    case circuit::QuantityKind::temperature:
      return kPipe;
    case circuit::QuantityKind::current:
      return kCurrent;
    case circuit::QuantityKind::voltage:
      return kVoltage;
    case circuit::QuantityKind::resistance:
      return kResistance;
  }
  return kResistance;
}

std::vector<std::string> reading_ids() {
  std::vector<std::string> ids;
  for (const circuit::ReadingInfo& row : circuit::reading_table()) ids.emplace_back(row.id);
  return ids;
}

/// "Suction pressure" and "suction-pressure" are the word "suction_pressure".
std::string as_word(std::string_view text) {
  std::string word = base::lower(text);
  std::replace_if(
      word.begin(), word.end(), [](char c) { return c == ' ' || c == '-'; }, '_');
  return word;
}

bool printable(std::string_view text) {
  return std::none_of(text.begin(), text.end(),
                      [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; });
}

}  // namespace

void EntryReader::fail(Problem problem) {
  if (!problem_) problem_ = std::move(problem);
}

std::optional<std::string> EntryReader::text(std::string_view key, std::string_view allowed,
                                             std::size_t longest) {
  if (problem_) return std::nullopt;
  const auto found = object_.find(std::string(key));
  if (found == object_.end()) return std::nullopt;
  const std::string* value = found->get_ptr<const std::string*>();
  if (value == nullptr) {
    const bool number = found->is_number();
    fail({key_field(key), base::quoted(dump(*found), 40), std::string(allowed),
          number ? "a bare number has no unit; write it in quotes with its unit"
                 : "it has to be a text in quotes"});
    return std::nullopt;
  }
  if (value->empty() || value->size() > longest) {
    fail({key_field(key),
          value->empty() ? "an empty text" : "a text of " + std::to_string(value->size()) + " bytes",
          std::string(allowed) + ", at most " + std::to_string(longest) + " bytes",
          value->empty() ? "leave the key out when there is nothing to say"
                         : "it is longer than anything said here"});
    return std::nullopt;
  }
  return *value;
}

std::string EntryReader::required_text(std::string_view key, std::string_view allowed, std::size_t longest) {
  const auto value = text(key, allowed, longest);
  if (!value && !problem_)
    fail({key_field(key), "nothing", std::string(allowed), "an entry of this kind means nothing without it"});
  return value.value_or("");
}

std::optional<GivenNumber> EntryReader::quantity(Entry& entry, std::string_view key, Dimension dimension,
                                                 double low, double high, std::string_view why) {
  const auto typed = text(key, base::allowed_forms(dimension));
  if (!typed) return std::nullopt;
  const auto spoken = base::parse_spoken(*typed, key_field(key), dimension);
  if (!spoken) {
    fail(spoken.problem());
    return std::nullopt;
  }
  if (spoken->si < low || spoken->si > high) {
    fail({key_field(key), base::quoted(*typed), range_text(dimension, {low, high}), std::string(why)});
    return std::nullopt;
  }
  if (dimension == Dimension::temperature || dimension == Dimension::mass || dimension == Dimension::length) {
    entry.spoken = spoken->system;
    entry.has_quantities = true;
  }
  return GivenNumber{spoken->si, *typed};
}

void EntryReader::refuse_other_keys(std::vector<std::string> own) {
  if (problem_) return;
  for (const char* key : {"kind", "id", "at", "by", "replaces"}) own.emplace_back(key);
  for (const auto& [key, value] : object_.items()) {
    if (std::find(own.begin(), own.end(), key) != own.end()) continue;
    const auto near = base::nearest(key, own);
    fail({field_, "the key " + base::quoted(key), base::listed(own),
          near ? "did you mean \"" + *near + "\"?"
               : "no such key is known here, and none is skipped in silence"});
    return;
  }
}

void EntryReader::common(Entry& entry) {
  for (const char* key : {"id", "replaces"}) {
    const auto value = text(key, "a short word of your choice", 80);
    if (!value) continue;
    if (!printable(*value))
      fail(
          {key_field(key), base::quoted(*value), "a short word of your choice", "it has control characters"});
    if (std::string_view(key) == "id")
      entry.id = *value;
    else
      entry.replaces = *value;
  }
  entry.by = text("by", "a name", 120).value_or("");
  if (const auto at = text("at", "a time such as 2025-11-20T09:30:00+01:00", 64)) {
    const auto instant = parse_instant(*at, key_field("at"));
    if (instant)
      entry.at = *instant;
    else
      fail(instant.problem());
  }
}

void EntryReader::nameplate(Entry& entry) {
  NameplateEntry plate;
  refuse_other_keys({"cabinet", "refrigerant", "charge", "rated_current", "rated_voltage", "frequency",
                     "displacement", "set_point", "condenser", "maker", "model", "serial"});
  if (const auto cabinet = text("cabinet", "a kind of cabinet, such as reach_in_cooler"))
    plate.cabinet = GivenText{as_word(*cabinet), *cabinet};
  if (const auto refrigerant = text("refrigerant", "a refrigerant, such as R290"))
    plate.refrigerant = GivenText{*refrigerant, *refrigerant};
  constexpr std::string_view why =
      "no sealed cabinet's plate says that; look for a slipped digit or another unit";
  plate.charge = quantity(entry, "charge", Dimension::mass, kCharge.low, kCharge.high, why);
  plate.rated_current =
      quantity(entry, "rated_current", Dimension::current, kRatedCurrent.low, kRatedCurrent.high, why);
  plate.rated_voltage =
      quantity(entry, "rated_voltage", Dimension::voltage, kRatedVoltage.low, kRatedVoltage.high, why);
  plate.frequency = quantity(entry, "frequency", Dimension::frequency, kFrequency.low, kFrequency.high, why);
  plate.displacement =
      quantity(entry, "displacement", Dimension::volume, kDisplacement.low, kDisplacement.high, why);
  plate.set_point = quantity(entry, "set_point", Dimension::temperature, kSetPoint.low, kSetPoint.high,
                             "no cabinet of this kind is set to that");
  for (const char* key : {"maker", "model", "serial"}) text(key, "a text as printed");
  constexpr std::string_view kinds = "finned_fan, wire_tube_natural or wire_tube_fan";
  if (const auto condenser = text("condenser", kinds)) {
    using circuit::CondenserKind;
    const std::string word = as_word(*condenser);
    if (word == "finned_fan")
      plate.condenser = {CondenserKind::finned_fan, *condenser};
    else if (word == "wire_tube_natural")
      plate.condenser = {CondenserKind::wire_tube_natural, *condenser};
    else if (word == "wire_tube_fan")
      plate.condenser = {CondenserKind::wire_tube_fan, *condenser};
    else
      fail({key_field("condenser"), base::quoted(*condenser), std::string(kinds),
            "no other kind is modelled"});
  }
  entry.body = std::move(plate);
}

void EntryReader::site(Entry& entry) {
  SiteEntry site;
  refuse_other_keys({"ambient", "box", "altitude", "barometer"});
  site.ambient = quantity(entry, "ambient", Dimension::temperature, kAmbient.low, kAmbient.high,
                          "no place where a cabinet runs has such air");
  site.box =
      quantity(entry, "box", Dimension::temperature, kBox.low, kBox.high, "no cabinet's air is at that");
  site.altitude =
      quantity(entry, "altitude", Dimension::length, -500, 6000, "no cabinet stands outside that");
  if (const auto typed = text("barometer", "the air's pressure such as 29.5 inHg or 1000 hPa")) {
    const auto pressure = base::parse_barometer(*typed, key_field("barometer"));
    if (pressure)
      site.barometer = GivenNumber{pressure->si, *typed};
    else
      fail(pressure.problem());
  }
  entry.body = std::move(site);
}

void EntryReader::observation(Entry& entry) {
  refuse_other_keys({"subject", "value", "confidence"});
  ObservationEntry body;
  body.subject = as_word(required_text("subject", "what was looked at, such as condenser_fan"));
  body.value = as_word(required_text("value", "what was seen, such as running"));
  if (const auto sure = text("confidence", "how sure it is, such as 85 %")) {
    const auto spoken = base::parse_spoken(*sure, key_field("confidence"), Dimension::quality);
    if (spoken && spoken->si > 0 && spoken->si <= 1)
      body.confidence = spoken->si;
    else
      fail({key_field("confidence"), base::quoted(*sure), "more than 0 % and at most 100 %",
            "it says how sure the finding is"});
  }
  entry.body = std::move(body);
}

void EntryReader::note(Entry& entry) {
  refuse_other_keys({"text"});
  entry.body = NoteEntry{required_text("text", "a text", 4000)};
}

void EntryReader::reading(Entry& entry) {
  refuse_other_keys({"what", "value", "accuracy", "running_for", "instrument"});
  ReadingEntry body;
  const std::string what = required_text("what", "the place read, such as suction_pressure");
  if (problem_) return;
  const auto kind = circuit::reading_from_id(as_word(what));
  if (!kind) {
    const auto ids = reading_ids();
    const auto near = base::nearest(as_word(what), ids);
    fail({key_field("what"), base::quoted(what), base::listed(ids),
          near ? "did you mean \"" + *near + "\"?" : "no such place is known"});
    return;
  }
  body.kind = *kind;
  field_ += ", " + std::string(circuit::info(*kind).label);
  reading_value(entry, body);
  reading_accuracy(body);
  text("instrument", "what it was read with");
  body.running_for =
      quantity(entry, "running_for", Dimension::duration, 0, 60 * 86400.0, "no reading waits for that long");
  entry.body = std::move(body);
}

void EntryReader::reading_value(Entry& entry, ReadingEntry& body) {
  const circuit::QuantityKind quantity_kind = circuit::info(body.kind).quantity;
  const Dimension dimension = circuit::dimension_of(quantity_kind);
  const std::string typed = required_text("value", base::allowed_forms(dimension));
  if (problem_) return;
  if (dimension == Dimension::pressure) return pressure_value(entry, body, typed);
  const std::string word = base::lower(typed);
  if (dimension == Dimension::resistance && (word == "ol" || word == "open")) {
    body.value = {kOpenCircuit, typed};
    return;
  }
  const Range range = range_of(quantity_kind);
  body.value =
      quantity(entry, "value", dimension, range.low, range.high, "nothing on a sealed cabinet reads that")
          .value_or(GivenNumber{});
}

void EntryReader::pressure_value(Entry& entry, ReadingEntry& body, const std::string& typed) {
  const auto spoken = base::parse_spoken(typed, key_field("value"), Dimension::pressure);
  if (!spoken) return fail(spoken.problem());
  // The air's own pressure isn't known yet, so the gauge limits here are those of the thickest air.
  const bool gauge = spoken->against == base::Against::gauge;
  if (spoken->si > kPressure.high || spoken->si < (gauge ? -110e3 : kPressure.low))
    return fail({key_field("value"), base::quoted(typed),
                 "from a near perfect vacuum up to 638 psig (44 bar(g))",
                 "no sealed cabinet of these refrigerants holds a pressure outside that"});
  entry.spoken = spoken->system;
  entry.has_quantities = true;
  body.pressure.text = typed;
  if (gauge)
    body.pressure.value = base::GaugePressure{spoken->si};
  else
    body.pressure.value = base::Pressure{spoken->si};
}

void EntryReader::reading_accuracy(ReadingEntry& body) {
  const circuit::QuantityKind kind = circuit::info(body.kind).quantity;
  Dimension dimension = circuit::dimension_of(kind);
  if (dimension == Dimension::temperature) dimension = Dimension::temperature_difference;
  if (dimension == Dimension::pressure) dimension = Dimension::pressure_difference;
  const auto typed = text("accuracy", base::allowed_forms(dimension));
  if (!typed) return;
  std::string amount = *typed;
  for (std::string_view sign : {"+-", "+/-", "\u00B1"})
    if (amount.substr(0, sign.size()) == sign) amount = amount.substr(sign.size());
  const bool electrical =
      dimension != Dimension::temperature_difference && dimension != Dimension::pressure_difference;
  const bool percent = electrical && amount.find('%') != std::string::npos;
  const auto spoken =
      base::parse_spoken(amount, key_field("accuracy"), percent ? Dimension::quality : dimension);
  if (!spoken) return fail(spoken.problem());
  const double limit = percent ? spoken->si * std::abs(body.value.value) : spoken->si;
  if (!(spoken->si > 0) || (percent && spoken->si > 0.5))
    return fail({key_field("accuracy"), base::quoted(*typed), "more than nothing, at most half the reading",
                 "it says how far the instrument may be off"});
  // Limits of +-a without more said: a rectangular distribution, standard deviation a / sqrt(3)
  // (JCGM 100:2008, 4.3.7) [jcgm100].
  body.accuracy = GivenNumber{limit / std::sqrt(3.0), *typed};
}

}  // namespace coldwright::calls

#include "service/test_readings.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "calls/instant.hpp"
#include "calls/strict_json.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using nlohmann::json;

constexpr std::size_t kMostReadings = 5000;

/// One reading's values, its problems named "reading 3, pressure".
class ReadingOf {
 public:
  ReadingOf(Request& request, const json& object, std::size_t index, base::SitePressure site)
      : request_(request), object_(object), field_("reading " + std::to_string(index + 1)), site_(site) {}

  std::optional<std::string> text(const char* key) const {
    const auto found = object_.find(key);
    if (found == object_.end()) return std::nullopt;
    const auto* said = found->get_ptr<const std::string*>();
    if (said != nullptr) return *said;
    request_.fail(
        {at(key), base::quoted(calls::dump(*found), 40), "a text in quotes", "a quantity carries its unit"});
    return std::nullopt;
  }
  std::optional<double> value(const char* key, Dimension dimension,
                              std::optional<base::UnitSystem>& spoken_in) const {
    const auto said = text(key);
    if (!said) return std::nullopt;
    const auto spoken = base::parse_spoken(*said, at(key), dimension);
    if (!spoken) {
      request_.fail(spoken.problem());
      return std::nullopt;
    }
    if (!spoken_in && dimension != Dimension::duration) spoken_in = spoken->system;
    if (dimension != Dimension::pressure) return spoken->si;
    const auto pressure = base::parse_pressure(*said, at(key));
    if (!pressure) {
      request_.fail(pressure.problem());
      return std::nullopt;
    }
    const auto absolute = base::resolve(*pressure, site_, at(key), *said);
    if (absolute) return absolute->si;
    request_.fail(absolute.problem());
    return std::nullopt;
  }
  std::string at(const std::string& key) const { return field_ + ", " + key; }
  const std::string& field() const { return field_; }

 private:
  Request& request_;
  const json& object_;
  std::string field_;
  base::SitePressure site_;
};

bool known_keys(Request& request, const json& object, const ReadingOf& in) {
  const std::vector<std::string> keys = {"after", "at",      "pressure", "temperature",
                                         "box",   "current", "mass",     "flow"};
  for (const auto& [key, value] : object.items())
    if (std::find(keys.begin(), keys.end(), key) == keys.end()) {
      request.fail({in.field(), "the key " + base::quoted(key), base::listed(keys),
                    "no such key is known, and none is skipped in silence"});
      return false;
    }
  return true;
}

/// Seconds since the start or, of "at", since 1970.
std::optional<double> time_of(Request& request, const ReadingOf& in, bool& by_clock, std::string& said,
                              std::optional<base::UnitSystem>& spoken_in) {
  const auto clock = in.text("at");
  by_clock = clock.has_value();
  if (clock) {
    said = *clock;
    const auto instant = calls::parse_instant(*clock, in.at("at"));
    if (instant) return static_cast<double>(instant->seconds) + 1e-9 * instant->nanoseconds;
    request.fail(instant.problem());
    return std::nullopt;
  }
  const auto after = in.value("after", Dimension::duration, spoken_in);
  if (after) said = *in.text("after");
  if (!after && !request.problem())
    request.fail({in.at("after"), "nothing",
                  "the time since the start such as 12 min, or \"at\" with the clock's",
                  "a test is read against the clock"});
  return after;
}

}  // namespace

std::vector<TestReading> test_readings(Request& request, base::SitePressure site,
                                       const std::vector<std::string>& needed,
                                       std::optional<base::UnitSystem>& spoken_in) {
  std::vector<TestReading> out;
  const json* list = request.find("readings");
  if (list == nullptr) return out;
  if (!list->is_array() || list->size() > kMostReadings) {
    request.fail({"readings", base::quoted(calls::dump(*list), 40),
                  "a list such as [{\"after\": \"12 min\", \"pressure\": \"148.2 psig\"}], at most 5000",
                  "a test is a list of readings"});
    return out;
  }
  std::optional<bool> clock;
  double start = 0;
  for (std::size_t i = 0; i < list->size() && !request.problem(); ++i) {
    const json& object = (*list)[i];
    const ReadingOf in(request, object, i, site);
    if (!object.is_object()) {
      request.fail({in.field(), base::quoted(calls::dump(object), 40),
                    "an object such as {\"after\": \"12 min\", \"pressure\": \"148.2 psig\"}",
                    "a test is a list of readings"});
      break;
    }
    if (!known_keys(request, object, in)) break;
    bool by_clock = false;
    TestReading reading;
    const auto seconds = time_of(request, in, by_clock, reading.said, spoken_in);
    if (!seconds) break;
    if (clock && *clock != by_clock)
      request.fail({in.field(),
                    by_clock ? "a clock's time after times since the start"
                             : "a time since the start after the clock's",
                    "one of the two throughout", "nothing says how they go together"});
    if (!clock && by_clock) start = *seconds;
    clock = by_clock;
    reading.seconds = *seconds - start;
    if (!out.empty() && !(reading.seconds > out.back().seconds))
      request.fail({in.field(), base::quoted(reading.said) + " after " + base::quoted(out.back().said),
                    "a later time than the one before, or the slip put right",
                    "readings that don't follow each other are asked about, not put in order"});
    reading.pressure = in.value("pressure", Dimension::pressure, spoken_in);
    reading.temperature = in.value("temperature", Dimension::temperature, spoken_in);
    reading.box = in.value("box", Dimension::temperature, spoken_in);
    reading.current = in.value("current", Dimension::current, spoken_in);
    reading.mass = in.value("mass", Dimension::mass, spoken_in);
    reading.flow = in.value("flow", Dimension::mass_flow, spoken_in);
    for (const std::string& key : needed)
      if (!object.contains(key) && !request.problem())
        request.fail({in.at(key), "nothing", "a value with its unit", "this test is read by it"});
    out.push_back(std::move(reading));
  }
  if (request.problem()) out.clear();
  return out;
}

}  // namespace coldwright::service

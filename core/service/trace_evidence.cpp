// What a trace gives the diagnosis, as entries that a call can take: steady readings and what was seen, with
// how sure that is.
#include <cmath>

#include "calls/instant.hpp"
#include "service/trace_parts.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using nlohmann::json;

std::string percent(double share) { return std::to_string(std::lround(100 * share)) + " %"; }

}  // namespace

json evidence_json(const TracedFile& main, const traces::Study& study, const Wording& wording,
                   const base::Display& display) {
  const traces::Findings& found = study.findings;
  // Entries are read back by a machine: the point is their decimal sign in every language.
  const base::Display plain{display.system, display.site, {}};
  json entries = json::array();
  const auto stamp = [&](json entry) {
    if (main.dated && main.zoned)
      entry["at"] = calls::to_text({static_cast<std::int64_t>(std::floor(main.start + found.to)), 0});
    entries.push_back(std::move(entry));
  };
  json site = {{"kind", "site"}};
  if (found.box) site["box"] = base::show(Dimension::temperature, *found.box, plain, 1).text();
  if (found.ambient) site["ambient"] = base::show(Dimension::temperature, *found.ambient, plain, 1).text();
  if (site.size() > 1) stamp(site);
  json readings = json::array();
  for (const traces::SpotReading& r : found.readings) {
    const auto& row = circuit::info(r.kind);
    const Dimension dimension = circuit::dimension_of(row.quantity);
    const int extra = dimension == Dimension::voltage ? 0 : 1;
    const base::Shown shown = dimension == Dimension::pressure
                                  ? base::show_absolute(base::Pressure{r.value}, plain, extra)
                                  : base::show(dimension, r.value, plain, extra);
    json entry = {{"kind", "reading"},
                  {"what", row.id},
                  {"value", shown.text()},
                  {"instrument", "trace " + main.name.substr(0, 60)}};
    // Less than the record began with the compressor running: it may have run longer.
    if (r.since_start) entry["running_for"] = base::number_text(r.minutes_running, 0) + " min";
    stamp(std::move(entry));
    readings.push_back({{"reading", row.id},
                        {"label", wording.word("readings", row.id)},
                        {"text", base::show(dimension, r.value, display, 0).text()},
                        {"minutes_running", r.minutes_running}});
  }
  json observed = json::array();
  for (const traces::Observed& o : found.observed) {
    stamp({{"kind", "observation"},
           {"subject", o.subject},
           {"value", o.value},
           {"confidence", percent(o.confidence)}});
    observed.push_back(
        {{"subject", o.subject},
         {"value", o.value},
         {"label", wording.word("subjects", o.subject) + ": " + wording.word("values", o.value)},
         {"confidence", o.confidence}});
  }
  return {{"entries", std::move(entries)},
          {"readings", std::move(readings)},
          {"observed", std::move(observed)},
          {"from", found.from},
          {"to", found.to},
          {"from_text", moment_text(main, found.from)},
          {"to_text", moment_text(main, found.to)}};
}

}  // namespace coldwright::service

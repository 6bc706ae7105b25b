// What an MQTT message says, as rows of a file that `coldwright trace` reads.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace coldwright::cli {

struct LiveRow {
  std::string time;    // the message's own, as it stands there; empty: when it came counts
  std::string sensor;  // the topic, the key within it and the unit: "cooler/line/suction (psig)"
  std::string value;   // a number with a decimal point
};

/// A number, a number with its unit ("41.2 psig"; a decimal comma is understood), on/off, open/closed,
/// true/false as 1 and 0, or a flat JSON object of those, whose "time" in ISO 8601 counts and whose "unit"
/// belongs to "value". Nothing when it is none of these.
std::vector<LiveRow> live_rows(std::string_view topic, std::string_view payload);

/// A cell of a comma-separated file; quoted where it has to be (RFC 4180).
std::string live_cell(std::string_view text);

/// On one line and in UTF-8, whatever the bytes: for a comment that keeps what couldn't be read.
std::string live_kept(std::string_view payload);

}  // namespace coldwright::cli

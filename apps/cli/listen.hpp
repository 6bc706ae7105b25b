// `coldwright listen`: readings from an MQTT broker into a file that `coldwright trace` reads, until Ctrl-C.
#pragma once

namespace coldwright::cli {

inline constexpr const char* kListenSummary =
    "live readings from an MQTT broker into a file that trace reads, until Ctrl-C";

/// `words` begins with "listen". The exit status: 0 once ended, 2 for what it can't take, 1 where readings
/// could not be written.
int listen_main(int count, char** words);

}  // namespace coldwright::cli

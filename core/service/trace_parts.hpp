// Layouts, and what was found in traces, as JSON. Kept to service/.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/field_units.hpp"
#include "service/wording.hpp"
#include "traces/guess.hpp"
#include "traces/study.hpp"

namespace coldwright::service {

nlohmann::json layout_json(const traces::Layout& layout, const Wording& wording);
/// A layout out of JSON; labels and reasons beside it are passed over, as the answer has them.
Result<traces::Layout> layout_from(const nlohmann::json& given, std::string_view field);
nlohmann::json question_json(const traces::Question& question, const traces::Layout& layout,
                             const Wording& wording);

/// One file as it was read: what the answer says of it.
struct TracedFile {
  std::string name;
  traces::Layout layout;
  std::vector<traces::Question> questions;  // none when the layout was given
  bool guessed = false;
  bool dated = false, zoned = false;
  double start = 0, seconds = 0, interval = 0;
  std::uint64_t rows = 0, used = 0;
  std::size_t samples = 0;
  std::vector<traces::SetAside> aside;
};
TracedFile traced(const traces::Trace& trace, const traces::Layout& layout,
                  std::vector<traces::Question> questions, bool guessed);

/// Stretches a column is thinned to, unless asked otherwise.
inline constexpr std::size_t usual_points = 600;

/// `points`: stretches that each column is thinned to for a picture.
nlohmann::json trace_json(const std::vector<TracedFile>& files, const traces::Study& study,
                          std::size_t points, const Wording& wording, const base::Display& display);
/// Entries of a call that carry what was found to the diagnosis.
nlohmann::json evidence_json(const TracedFile& main, const traces::Study& study, const Wording& wording,
                             const base::Display& display);
/// A moment of a file: its date, or the time since its start.
std::string moment_text(const TracedFile& file, double seconds);

}  // namespace coldwright::service

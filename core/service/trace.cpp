// Use case "trace": logged files in, the machine's phases, events and figures out, with an account of what
// was used and set aside, and evidence for a call. Also its work in pieces, for files larger than a request.
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "calls/strict_json.hpp"
#include "service/property_answer.hpp"
#include "service/request.hpp"
#include "service/trace_parts.hpp"
#include "service/trace_work.hpp"
#include "service/use_case_runs.hpp"
#include "traces/reader.hpp"

namespace coldwright::service {

using nlohmann::json;

struct TraceWork::Held {
  Context context;
  std::optional<base::UnitSystem> units;
  base::SitePressure site = base::sea_level;
  std::size_t points = usual_points;
  // The file that is open.
  std::string name, head;
  double bytes = 0;  // of the whole file, where that is known
  std::optional<traces::Layout> layout;
  std::vector<traces::Question> questions;
  bool guessed = false, is_open = false;
  std::optional<traces::Reader> reader;
  // Those that are done.
  std::vector<TracedFile> files;
  std::vector<traces::Trace> traces;

  Result<bool> begin() {
    if (!layout) {
      auto found = traces::guess(head);
      if (!found) return named(found.problem());
      if (auto problem = traces::check(found->layout)) return named(*problem);
      layout = std::move(found->layout);
      questions = std::move(found->questions);
      guessed = true;
    }
    reader.emplace(name, *layout, site);
    reader->feed(head);
    if (!head.empty()) reader->expect(bytes / static_cast<double>(head.size()));
    head.clear();
    return true;
  }

  Problem named(Problem problem) const {
    if (!name.empty()) problem.given += " (" + base::quoted(name) + ")";
    return problem;
  }

  Result<bool> close() {
    if (!is_open) return true;
    is_open = false;
    if (!reader)
      if (auto begun = begin(); !begun) return begun;
    auto trace = reader->finish();
    if (!trace) return named(trace.problem());
    if (layout->time.open && !reader->layout().time.open)  // later rows told what the first ones couldn't
      std::erase_if(questions, [](const traces::Question& q) { return q.key == "day_or_month"; });
    files.push_back(traced(*trace, reader->layout(), std::move(questions), guessed));
    traces.push_back(std::move(*trace));
    reader.reset();
    return true;
  }

  base::UnitSystem chosen() const {
    if (units) return *units;
    if (context.units == "us") return base::UnitSystem::us;
    if (context.units == "metric") return base::UnitSystem::metric;
    // As the files speak: a column in °F or psi.
    std::vector<std::string> spoken;
    for (const TracedFile& file : files) {
      for (const auto& column : file.layout.columns) spoken.push_back(column.unit);
      for (const auto& sensor : file.layout.sensors) spoken.push_back(sensor.unit);
    }
    for (const std::string& unit : spoken)
      if (unit.find('F') != std::string::npos || unit.starts_with("psi")) return base::UnitSystem::us;
    for (const std::string& unit : spoken)
      if (unit.find('C') != std::string::npos || unit.starts_with("bar")) return base::UnitSystem::metric;
    return base::UnitSystem::us;
  }
};

TraceWork::TraceWork(std::unique_ptr<Held> held) : held_(std::move(held)) {}
TraceWork::~TraceWork() = default;

Result<std::unique_ptr<TraceWork>> TraceWork::start(std::string_view request_json, const Context& context) {
  if (auto problem = check_language(context.language)) return *problem;
  auto request = Request::read(request_json, {"units", "altitude", "barometer", "points"});
  if (!request) return request.problem();
  auto held = std::make_unique<Held>();
  held->context = context;
  held->units = request->units();
  held->site = request->site();
  held->points = static_cast<std::size_t>(request->whole("points", 100, 20000).value_or(usual_points));
  if (request->problem()) return *request->problem();
  return std::unique_ptr<TraceWork>(new TraceWork(std::move(held)));
}

Result<bool> TraceWork::open(std::string_view name, std::string_view layout_text, double bytes) {
  if (auto closed = held_->close(); !closed) return closed;
  if (held_->files.size() >= 20)
    return Problem{"files", "more than 20", "up to 20 files of one machine", "more is more than one visit's"};
  held_->name = std::string(name.substr(0, 200));
  held_->bytes = bytes;
  held_->layout.reset();
  held_->questions.clear();
  held_->guessed = false;
  held_->is_open = true;
  if (layout_text.empty()) return true;
  const auto parsed = calls::parse_strict(layout_text, "layout");
  if (!parsed) return parsed.problem();
  auto layout = layout_from(*parsed, "layout");
  if (!layout) return layout.problem();
  held_->layout = std::move(*layout);
  return held_->begin();
}

Result<bool> TraceWork::feed(std::string_view bytes) {
  if (!held_->is_open)
    return Problem{"files", "bytes of no file", "a file that was opened", "there is nothing to add them to"};
  if (held_->reader) {
    held_->reader->feed(bytes);
    return true;
  }
  const std::size_t room = traces::head_bytes - held_->head.size();
  held_->head.append(bytes.substr(0, room));
  if (held_->head.size() < traces::head_bytes) return true;
  if (auto begun = held_->begin(); !begun) return begun;
  if (bytes.size() > room) held_->reader->feed(bytes.substr(room));
  return true;
}

Result<std::string> TraceWork::answer() {
  if (auto closed = held_->close(); !closed) return closed.problem();
  if (held_->files.empty())
    return Problem{"files", "nothing", "at least one file", "there is nothing to answer from"};
  if (held_->context.progress && !held_->context.progress(0.9))
    return Problem{"trace", "stopped", "to let it finish", "it was cancelled"};
  const auto wording = Wording::load(held_->context.language);
  if (!wording) return wording.problem();
  const base::Display display{held_->chosen(), held_->site, wording->numerals()};
  const traces::Study study = traces::study(std::move(held_->traces));
  held_->traces.clear();
  return calls::dump(trace_json(held_->files, study, held_->points, *wording, display));
}

Result<std::string> run_trace(std::string_view text, const Context& context) {
  auto request = Request::read(text, {"files", "units", "altitude", "barometer", "points"});
  if (!request) return request.problem();
  json rest = json::object();
  for (const char* key : {"units", "altitude", "barometer", "points"})
    if (const json* value = request->find(key)) rest[key] = *value;
  auto work = TraceWork::start(calls::dump(rest), context);
  if (!work) return work.problem();
  const json* files = request->find("files");
  if (files == nullptr || !files->is_array() || files->empty())
    return Problem{"files", files == nullptr ? "nothing" : base::quoted(calls::dump(*files), 40),
                   "a list of files, each with its text", "there is nothing to answer from"};
  for (const json& file : *files) {
    const auto* bytes =
        file.is_object() && file.contains("text") ? file["text"].get_ptr<const std::string*>() : nullptr;
    if (bytes == nullptr)
      return Problem{"files", base::quoted(calls::dump(file), 40), "a name, a text and perhaps a layout",
                     "there is nothing to read without the text"};
    const auto* name = file.contains("name") ? file["name"].get_ptr<const std::string*>() : nullptr;
    for (const auto& [key, value] : file.items())
      if (key != "name" && key != "text" && key != "layout")
        return Problem{"files", "the key " + base::quoted(key), "name, text and layout",
                       "no such key is known, and none is skipped in silence"};
    const std::string layout = file.contains("layout") ? calls::dump(file["layout"]) : "";
    if (auto opened = (*work)->open(name == nullptr ? "" : *name, layout); !opened) return opened.problem();
    if (auto fed = (*work)->feed(*bytes); !fed) return fed.problem();
  }
  return (*work)->answer();
}

}  // namespace coldwright::service

// The core's door for the browser: plain C exports over linear memory. The host puts text in with `room`,
// calls, and reads the answer at answer_at() for as many bytes as the call returned; each answer stays until
// the next call. Answers are JSON: {"ok": ...} or {"problem": {field, given, allowed, why, text}}.
// web/src/engine/module.ts is the other side.
#include <cstdint>
#include <memory>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "service/growing_diagnosis.hpp"
#include "service/trace_work.hpp"
#include "service/use_cases.hpp"

#define COLDWRIGHT_EXPORT(name) extern "C" __attribute__((export_name(#name)))

extern "C" __attribute__((import_module("host"), import_name("progress"))) int host_progress(double share);

namespace {

using coldwright::Problem;
using coldwright::Result;

std::string inbox, outbox;
std::unique_ptr<coldwright::service::GrowingDiagnosis> growing;
std::string growing_language = "en";
std::unique_ptr<coldwright::service::TraceWork> tracing;
std::string tracing_language = "en";

std::string_view given(std::uint32_t from, std::uint32_t size) {
  return std::string_view(inbox).substr(from, size);
}

std::uint32_t put(std::string bytes) {
  outbox = std::move(bytes);
  return static_cast<std::uint32_t>(outbox.size());
}

std::uint32_t refuse(const Problem& problem, const std::string& language) {
  const nlohmann::json told = {{"problem",
                                {{"field", problem.field},
                                 {"given", problem.given},
                                 {"allowed", problem.allowed},
                                 {"why", problem.why},
                                 {"text", coldwright::service::told(problem, language)}}}};
  return put(told.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace));
}

std::uint32_t deliver(const Result<std::string>& answer, const std::string& language) {
  return answer ? put("{\"ok\":" + *answer + "}") : refuse(answer.problem(), language);
}

coldwright::service::Context context_of(double now_seconds, std::string_view language,
                                        std::string_view units) {
  coldwright::service::Context context;
  context.now_seconds = static_cast<std::int64_t>(now_seconds);
  context.progress = [](double share) { return host_progress(share) != 0; };
  context.units = units;
  if (!language.empty()) context.language = language;
  return context;
}

}  // namespace

/// Where the host writes `size` bytes of input for the next call.
COLDWRIGHT_EXPORT(room) char* room(std::uint32_t size) {
  inbox.resize(size);
  return inbox.data();
}

COLDWRIGHT_EXPORT(answer_at) const char* answer_at() { return outbox.data(); }

/// In the room: the use case's name, the language, the units, then the request, without gaps.
COLDWRIGHT_EXPORT(ask)
std::uint32_t ask(std::uint32_t name_size, std::uint32_t language_size, std::uint32_t units_size,
                  double now_seconds) {
  const auto name = given(0, name_size), language = given(name_size, language_size),
             units = given(name_size + language_size, units_size),
             request = std::string_view(inbox).substr(name_size + language_size + units_size);
  const auto* use_case = coldwright::service::find_use_case(name);
  const auto context = context_of(now_seconds, language, units);
  if (use_case == nullptr)
    return refuse(
        coldwright::service::in_language(coldwright::service::no_such_use_case(name), context.language),
        context.language);
  return deliver(use_case->run(request, context), context.language);
}

/// A diagnosis that grows, following the one before, which it takes over what it can from: the language, the
/// units, then the request. Answers
/// {"ok": the population that is wanted in all}.
COLDWRIGHT_EXPORT(grow_start)
std::uint32_t grow_start(std::uint32_t language_size, std::uint32_t units_size, double now_seconds) {
  const auto context = context_of(now_seconds, given(0, language_size), given(language_size, units_size));
  auto started = coldwright::service::GrowingDiagnosis::start(
      std::string_view(inbox).substr(language_size + units_size), context, growing.get());
  if (!started)
    return refuse(coldwright::service::in_language(started.problem(), context.language), context.language);
  growing = std::move(started).value();
  growing_language = context.language;
  return put("{\"ok\":" + std::to_string(growing->wanted()) + "}");
}

/// One share of the posterior, as bytes to hand on; none when it was stopped.
COLDWRIGHT_EXPORT(grow_round)
std::uint32_t grow_round(std::uint32_t which, std::uint32_t population, std::uint32_t with_pairs) {
  if (!growing) return put("");
  auto bytes = growing->round(which, static_cast<int>(population), with_pairs != 0);
  return put(bytes ? std::move(*bytes) : "");
}

/// Takes the share in the room into the pool; 0 when it isn't one of this diagnosis.
COLDWRIGHT_EXPORT(grow_take) std::uint32_t grow_take() { return growing && growing->take(inbox) ? 1 : 0; }

/// The answer of all shares taken, as "diagnose" gives it.
COLDWRIGHT_EXPORT(grow_answer) std::uint32_t grow_answer() {
  if (!growing)
    return refuse({"diagnosis", "nothing", "a diagnosis that was started", "there is none"},
                  growing_language);
  return deliver(growing->answer(), growing_language);
}

/// A trace in pieces: the language, the units, then the request of "trace" without its files. Answers {"ok":
/// true}.
COLDWRIGHT_EXPORT(trace_start)
std::uint32_t trace_start(std::uint32_t language_size, std::uint32_t units_size, double now_seconds) {
  const auto context = context_of(now_seconds, given(0, language_size), given(language_size, units_size));
  tracing_language = context.language;
  auto started = coldwright::service::TraceWork::start(
      std::string_view(inbox).substr(language_size + units_size), context);
  if (!started)
    return refuse(coldwright::service::in_language(started.problem(), tracing_language), tracing_language);
  tracing = std::move(started).value();
  return put("{\"ok\":true}");
}

namespace {

std::uint32_t traced(const Result<bool>& done) {
  if (done) return put("{\"ok\":true}");
  return refuse(coldwright::service::in_language(done.problem(), tracing_language), tracing_language);
}

const Problem no_trace{"trace", "nothing", "a trace that was started", "there is none"};

}  // namespace

/// The next file: its name, then its layout as JSON, or nothing to have it guessed.
COLDWRIGHT_EXPORT(trace_open) std::uint32_t trace_open(std::uint32_t name_size) {
  if (!tracing) return traced(no_trace);
  return traced(tracing->open(given(0, name_size), std::string_view(inbox).substr(name_size)));
}

/// More bytes of the open file, as they stand in it.
COLDWRIGHT_EXPORT(trace_feed) std::uint32_t trace_feed() {
  return traced(tracing ? tracing->feed(inbox) : no_trace);
}

/// The answer of "trace"; the trace is over then.
COLDWRIGHT_EXPORT(trace_answer) std::uint32_t trace_answer() {
  if (!tracing) return traced(no_trace);
  const auto answer = tracing->answer();
  tracing.reset();
  if (answer) return deliver(answer, tracing_language);
  return refuse(coldwright::service::in_language(answer.problem(), tracing_language), tracing_language);
}

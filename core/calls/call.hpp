// A call: what one visit to one machine brought to paper, as a set of entries that only grows. A correction
// is another entry. Read from and written to the call file (docs/formats/call-file.md), merged as a set,
// folded into the plain case that the diagnosis works on (fold.hpp).
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "base/field_units.hpp"
#include "base/quantities.hpp"
#include "base/result.hpp"
#include "calls/instant.hpp"
#include "circuit/nameplate.hpp"
#include "circuit/readings.hpp"

namespace coldwright::calls {

/// A value with the words it came in, kept for messages.
template <class T>
struct Given {
  T value;
  std::string text;
};
using GivenText = Given<std::string>;
using GivenNumber = Given<double>;  // SI

struct NameplateEntry {
  std::optional<GivenText> cabinet, refrigerant;
  std::optional<GivenNumber> charge, rated_current, rated_voltage, frequency, displacement, set_point;
  std::optional<Given<circuit::CondenserKind>> condenser;
};

struct SiteEntry {
  std::optional<GivenNumber> ambient, box;  // K
  std::optional<GivenNumber> altitude;      // m
  std::optional<GivenNumber> barometer;     // Pa absolute
};

struct ObservationEntry {
  std::string subject, value;
  double confidence = 1;  // 0..1, of a finding that isn't certain
};

struct ReadingEntry {
  circuit::ReadingKind kind{};
  Given<base::SpokenPressure> pressure{};  // for pressures
  GivenNumber value{};                     // for everything else, SI
  std::optional<GivenNumber> accuracy;     // one standard deviation, SI, from the +- that was given
  std::optional<GivenNumber> running_for;  // s
};

struct NoteEntry {
  std::string text;
};

/// A step of the work: "tightness", "caution.flammable".
struct StepEntry {
  std::string step;
  enum class State { open, done, skipped } state = State::open;
  std::string reason;  // why it was passed over
};

/// The steps in the order that somebody put them in.
struct OrderEntry {
  std::vector<std::string> steps;
};

/// Settings of a procedure: keys of its request and the texts typed for them.
struct ProcedureEntry {
  std::string procedure;
  int run = 1;
  std::vector<std::pair<std::string, std::string>> with;
};

/// A reading in a running test. Texts as typed: what they mean is the procedure's to say.
struct TestReadingEntry {
  std::string procedure;
  int run = 1;
  std::vector<std::pair<std::string, std::string>> values;  // pressure, temperature, box, current, mass
};

struct RefrigerantMovedEntry {
  enum class Movement { recovered, released, charged, lost } movement = Movement::charged;
  double mass = 0;                           // kg
  std::optional<GivenNumber> before, after;  // kg on the scale
  std::string cylinder, refrigerant;
};

struct PartEntry {
  std::string part;
  enum class Action { replaced, fitted, removed, cleaned, repaired } action = Action::replaced;
  std::string detail, cost;
};

struct WorkEntry {
  std::string text;
};

/// What the technician found to be wrong in the end.
struct CauseFoundEntry {
  std::string cause, how;
};

struct ProductTemperatureEntry {
  GivenNumber value;  // K
  std::string product;
};

/// A name with what was drawn beside it: SVG path data in a box of width by height.
struct SignatureEntry {
  enum class Role { technician, customer } role = Role::technician;
  std::string name, path;
  double width = 0, height = 0;
};

/// What is left to keep an eye on.
struct WatchEntry {
  std::string text;
};

/// A kind this version doesn't know: kept, merged and written back, but not understood.
struct UnknownEntry {};

using Body =
    std::variant<NameplateEntry, SiteEntry, ObservationEntry, ReadingEntry, NoteEntry, StepEntry, OrderEntry,
                 ProcedureEntry, TestReadingEntry, RefrigerantMovedEntry, PartEntry, WorkEntry,
                 CauseFoundEntry, ProductTemperatureEntry, SignatureEntry, WatchEntry, UnknownEntry>;

struct Entry {
  std::string id;    // as given, or derived from the content
  std::string kind;  // as given
  std::optional<Instant> at;
  std::string by;
  std::optional<std::string> replaces;
  Body body;
  base::UnitSystem spoken = base::UnitSystem::us;  // of the quantities in it, for choosing the answer's units
  bool has_quantities = false;
  std::string content;  // canonical JSON text of everything but the id: equal content, equal entry
};

struct Call {
  std::string name;
  std::optional<base::UnitSystem> units;
  std::vector<Entry> entries;
};

/// The largest call file looked at, and the most entries in it.
inline constexpr std::size_t largest_call_file = std::size_t{1} << 20;
inline constexpr std::size_t most_entries = 5000;

/// Problem when a text is larger than `limit`; asked before anything is read or parsed.
std::optional<Problem> check_size(std::size_t bytes, std::string_view what,
                                  std::size_t limit = largest_call_file);

/// Reads a call file. Every refusal is one Problem: the first found, from the top.
Result<Call> read_call(std::string_view json_text);

/// The call as a file; read_call gives the same call back. Entries carry their ids.
std::string write_call(const Call& call);

/// The union of two logs of one call, by id. Commutative, associative, idempotent up to the order of entries,
/// which is by time and id. Refuses two calls of different names and one id with two contents.
Result<Call> merge(const Call& a, const Call& b);

}  // namespace coldwright::calls

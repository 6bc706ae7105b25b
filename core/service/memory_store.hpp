// The memory of units and models: what each finished call taught, kept call by call, so that the memory is
// the same whatever the order of the calls, and a call that comes twice counts once. What is believed of a
// unit or a model is reckoned from it anew each time (recall.hpp). Schema "memory". Kept to service/.
#pragma once

#include <cstdint>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "circuit/nameplate.hpp"
#include "diagnosis/lesson.hpp"

namespace coldwright::service {

/// What one finished call taught.
struct RememberedCall {
  std::string id;     // the call's name and the day it began
  std::string print;  // of its content: another content under the same id is a later state of the call
  int entries = 0;    // in it; the state with more of them stands
  std::string unit;   // maker, model and serial, or the call's name
  std::string model;  // maker and model; empty when the plate doesn't say
  std::optional<std::int64_t> at;  // UTC seconds of its last entry
  circuit::Nameplate plate;
  std::string refrigerant;
  std::string cause;               // found; empty when none was named
  std::vector<std::string> parts;  // replaced or fitted, in alphabetical order
  bool renewed = false;            // compressor, capillary or a coil among them: another machine than before
  double sound = 0;                // probability that it left sound
  int readings = 0;                // that taught
  diagnosis::Lesson lesson;        // no rows when nothing was learned of the machine
};

struct Correction {
  std::string unit, quantity;
  double value = 0;  // SI
};

/// One of: a call; a unit, a unit's quantity; a model.
struct Forgotten {
  std::string call, unit, model, quantity;
  friend auto operator<=>(const Forgotten&, const Forgotten&) = default;
};

struct Memory {
  std::vector<RememberedCall> calls;  // by id
  std::vector<Correction> corrections;
  std::vector<Forgotten> forgotten;
};

/// "nordhylla / nk 40": capitals and blanks don't tell units apart.
std::string key_of(std::string_view name);

/// Takes a call in: the later state of one already there replaces it; what was forgotten stays so. True when
/// the memory holds it afterwards.
bool take_in(Memory& memory, RememberedCall call);
/// Drops what it names, and keeps the name so that it stays forgotten. False when nothing of the kind is
/// there.
bool forget(Memory& memory, const Forgotten& what);
/// Takes a name back; the call must come again to be remembered. False when it isn't forgotten.
bool ask_back(Memory& memory, const Forgotten& what);
bool is_forgotten(const Memory& memory, const RememberedCall& call);

/// Problem for anything but a memory of this format.
Result<Memory> read_memory(const nlohmann::json& json);
nlohmann::json write_memory(const Memory& memory);

}  // namespace coldwright::service

// The causes this version can compute, each a change to the circuit or a statement about the case.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "circuit/machine.hpp"
#include "circuit/population.hpp"
#include "diagnosis/diagnose.hpp"

namespace coldwright::diagnosis {

// One machine under one hypothesis is a vector of independent standard normals: the machine's own, then what
// is wrong, then what the surroundings and instruments add.
enum class Extra {
  severity,
  variant,
  severity_2,
  variant_2,
  ambient_error,
  box_error,
  clamp_pull,
  supply,
  rotor,
  doubt_td,
  doubt_split,
  doubt_hold_up,
  doubt_exchange
};
inline constexpr int kExtraLatents = 13;
inline constexpr int kLatents = circuit::kMachineLatents + kExtraLatents;
using Latents = std::array<double, kLatents>;
inline std::size_t index(Extra e) {
  return static_cast<std::size_t>(circuit::kMachineLatents + static_cast<int>(e));
}

/// What the motor is doing.
enum class Mode { running, tripped, off, locked };
std::string_view to_word(Mode mode);  // "running", "tripped", "off", "locked"

/// What a cause does to a machine.
struct Effects {
  circuit::Departure departure;
  Mode mode = Mode::running;
  double voltage_factor = 1;
  double load_factor = 1;
  bool control_open = false;  // no voltage reaches the compressor
  bool winding_open = false;
  bool always_a_complaint = false;  // not a matter of degree: the box can't hold with it
  double called_for = 0;            // chance of a complaint whatever the machine cools when it runs
  bool cools_as_sound = false;      // the circuit is untouched: no set-point solve is needed
};

/// One cause or a pair of them, as indices into Knowledge::causes.
struct Hypothesis {
  std::vector<int> causes;  // one or two
  std::string id;           // "low_charge" or "dirty_condenser+overcharge"
  double log_prior;
  double trust = 1;    // in its evidence, 0..1; see correction.hpp
  double learned = 0;  // nats that the learned correction adds
  /// ln of its probability up to a constant common to all hypotheses, and by physics alone.
  double standing(double log_evidence) const { return trust * log_evidence + log_prior + learned; }
  double by_physics(double log_evidence) const { return log_evidence + log_prior; }
};

bool contains(const Hypothesis& h, int cause);

/// Severity in the cause's own measure from a standard normal: uniform between its ends.
double severity_of(const CauseInfo& cause, double z);

/// Adds a cause of this severity; `variant` (0..1) picks between forms of the same cause (which reed, now or
/// just recovered, locked or open winding).
void apply_cause(const std::string& id, double severity, double variant, Effects& effects);

/// All hypotheses for this kind of machine, singles first, priors normalised over all of them.
std::vector<Hypothesis> hypotheses(const Knowledge& knowledge, circuit::CondenserKind condenser);

/// False for the fan of a condenser that stands in still air, as a cause and as something to look at.
bool is_there(std::string_view part, circuit::CondenserKind condenser);

/// True when cause `id` touches the refrigeration circuit, so that it can stand in a pair.
bool is_circuit_cause(const std::string& id);

}  // namespace coldwright::diagnosis

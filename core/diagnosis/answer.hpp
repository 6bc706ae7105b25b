// What the diagnosis says. Numbers in SI; sentences are keys plus computed quantities, worded at the
// doors from data/wording, so that no text is fixed to a cause and languages can be added.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "circuit/readings.hpp"

namespace coldwright::diagnosis {

/// What a number in a sentence is, so that the door can print it in the spoken unit.
enum class Unit {
  temperature,
  temperature_difference,
  pressure,
  mass,
  power,
  current,
  voltage,
  resistance,
  percent,
  minutes,
  count
};

struct Value {
  std::string name;  // placeholder in the wording: "{name}"
  Unit unit;
  double value;  // SI; percent as 0..100; pressure absolute Pa
};

/// A statement that follows from computed quantities. `words` fill placeholders that are names of
/// causes or readings (ids, to be worded at the door).
struct Statement {
  std::string key;
  std::vector<Value> values;
  std::vector<std::pair<std::string, std::string>> words;
};

struct Interval {
  double low, mid, high;  // 5 %, 50 %, 95 %
};

struct RankedCause {
  std::string cause;                 // id in data/causes.json; a pair is "a+b"
  double probability;                // 0..1
  std::optional<Interval> severity;  // in the cause's own measure, given that it is this cause
  std::string severity_measure;      // wording key: "percent_of_charge_missing", ...
  std::optional<Interval> severity_2 = std::nullopt;  // of a pair's second cause
  std::string severity_measure_2 = {};
  double error = 0;  // one standard deviation of the probability over other drawings of machines
};

/// What one reading or observation did: the shift in the leading cause's probability, alone or beside another
/// cause, when it is left out.
struct Contribution {
  std::string id;                             // entry id
  std::string subject;                        // reading id or observation subject
  double log_odds;                            // natural log odds of the leading cause, with minus without
  double information_bits;                    // KL divergence of the answer with against without
  std::optional<Interval> expected_if_sound;  // what a sound machine would read here (readings only)
};

/// A quantity nobody measured.
struct Unseen {
  std::string quantity;  // "discharge_pressure", "superheat", "subcooling", "charge", "capacity", ...
  Unit unit;
  Interval interval;
  std::optional<Interval> sound;  // the same quantity for a sound machine in these conditions
};

/// A reading or question worth taking next.
struct NextStep {
  std::string subject;  // reading id or observation subject
  bool is_observation;
  double information_bits;  // expected, about the cause
  double minutes;
  double grams_lost;
  bool opens_circuit;
  std::string hazard;  // wording key or empty
  double worth;        // the ranking value, bits per cost
  double pays;  // minutes that it is expected to save by sparing wrong verdicts, per minute of its cost
};

/// The value of a reading at which the first two causes would swap.
struct Turning {
  circuit::ReadingKind kind;
  bool already_read;
  std::optional<double> given;  // the value read, when there is one
  double value;                 // at which they are equally likely
  bool swaps_above;             // the second cause leads above it
  std::string first, second;    // cause ids
  double chance;                // predictive chance that the reading falls on the other side
};

/// A reading no plausible machine produces together with the rest.
struct Suspect {
  std::string id;
  circuit::ReadingKind kind;
  double value;
  Interval plausible;  // given everything else, over all causes
  double probability_mistaken;
};

/// How the answer was computed and how far it can be trusted.
struct Quality {
  double effective_sample_size;    // over all causes
  double smallest_effective_size;  // among causes above 2 %
  int solves;                      // operating points computed
  int unsolved;                    // of them without an answer
  int refined_rounds;              // remedial rounds run because the effective size was small
  bool trustworthy;
  std::vector<Statement> remarks;
};

struct Answer {
  std::vector<RankedCause> causes;  // descending, sums to 1
  std::vector<Statement> reasons;   // physics of the leading answer
  std::vector<Contribution> contributions;
  std::vector<Unseen> unseen;
  std::vector<NextStep> next;     // what is worth taking, best first
  std::vector<NextStep> telling;  // everything that would tell something, those of `next` among them
  std::vector<Turning> turnings;
  std::vector<Suspect> suspects;
  std::vector<Statement> cautions;
  Quality quality;
  std::vector<std::string> sources;  // keys in data/references.bib
};

/// What a sound machine of this kind should be reading.
struct ExpectedReading {
  circuit::ReadingKind kind;
  Interval interval;
};
struct ExpectedState {
  double ambient, box;  // K
  std::vector<ExpectedReading> readings;
  std::vector<Unseen> quantities;  // superheat, subcooling, evaporator TD, condenser split, capacity, ...
};
/// A rule of thumb beside the physics (common practice).
struct RuleOfThumb {
  std::string quantity;  // "evaporator_td", "condenser_split", ...
  Interval rule;         // the customary value and range
  Interval physics_now, physics_set_point;
  std::vector<Statement> where_they_part;
};
struct Expectation {
  ExpectedState now;
  ExpectedState set_point;
  std::vector<RuleOfThumb> rules;
  Quality quality;
  std::vector<std::string> sources;
};

}  // namespace coldwright::diagnosis

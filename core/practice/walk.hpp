// The apprentice at the machine: each look and each reading takes its minutes, some open the circuit, and
// what they show goes into the case exactly as on a real call. Instruments err as
// core/diagnosis/instruments.cpp says, eyes as data/observations.json; either from the visit's seed, the
// subject and how often it was asked, so that the same actions show the same, whoever takes them.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "diagnosis/case.hpp"
#include "practice/visit.hpp"

namespace coldwright::practice {

/// One thing to do: take a reading, look or ask, or stand back and let it run.
struct Action {
  std::string id;  // reading id, observation subject or "wait"
  std::optional<circuit::ReadingKind> reading;
  const diagnosis::ObservationModel* look = nullptr;
  bool waits() const { return !reading && look == nullptr; }
};

inline constexpr double kWaitMinutes = 10;
/// The longest visit, and the most steps of one.
inline constexpr double kLongestVisit = 300;  // min
inline constexpr int kMostSteps = 60;
/// What opening a sealed circuit takes later: sealing, leak test, charge to correct (our estimate, as the
/// diagnosis reckons).
inline constexpr double kOpeningMinutes = 45;

/// All that can be done, readings first.
std::vector<Action> actions(const diagnosis::Knowledge& knowledge);
Result<Action> action_named(std::string_view id, const diagnosis::Knowledge& knowledge);

struct Cost {
  double minutes = 0;
  double grams = 0;    // g
  bool opens = false;  // the circuit, now
  bool stops = false;  // the machine is switched off for it and started again
};

struct Step {
  Action action;
  Cost cost;
  double minutes_used = 0;      // in all, when it was done
  double box = 0;               // K, as the box thermometer then shows
  std::optional<double> value;  // of a reading, SI
  std::string seen;             // of a look: a value of its subject
  std::optional<double> minutes_running;
};

struct Walk {
  std::vector<Step> steps;
  History history;
  bool opened = false;
  double grams = 0;
  diagnosis::Case the_case;  // what is known by now
  double box = 0;            // K, as shown now
};

/// At the door: plate, surroundings, and the complaint.
Walk arrive(const Visit& visit);
/// What doing it would cost now.
Cost cost_of(const Walk& walk, const Action& action);
/// One step further. Problem when the visit has lasted long enough.
Result<Walk> advance(Walk walk, const Visit& visit, const Action& action);

/// Which of several subjects a number stands for, in drawing errors: stable whatever is added.
std::uint64_t label_of(std::string_view id);

}  // namespace coldwright::practice

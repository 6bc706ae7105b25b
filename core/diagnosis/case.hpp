// What the diagnosis is told: one unit, its surroundings, what was seen and what was read.
// SI, absolute pressure. Built by calls/ from the entries of a call; plain values, no JSON.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "circuit/nameplate.hpp"
#include "circuit/readings.hpp"

namespace coldwright::diagnosis {

/// One number read on the machine.
struct Reading {
  circuit::ReadingKind kind;
  double value;                    // Pa absolute, K, A, V, ohm
  std::optional<double> accuracy;  // one standard deviation of the instrument, same unit; default by kind
  std::optional<double> minutes_running;  // since the compressor last started; unknown = assume settled
  std::string id;                         // the call entry it came from
};

/// One thing seen or said: subject and value are words of the vocabulary in data/observations.json.
struct Observation {
  std::string subject;  // "condenser_fan"
  std::string value;    // "stopped"
  std::string id;
  double confidence = 1;  // that it is so: below 1 where a trace shows it, not an eye
};

struct Case {
  circuit::Nameplate nameplate;
  std::optional<double> ambient;  // K, air entering the condenser
  std::optional<double> box;      // K, air returning to the evaporator
  double site_pressure = 101325;  // Pa, from altitude or barometer
  std::vector<Observation> observations;
  std::vector<Reading> readings;
};

}  // namespace coldwright::diagnosis

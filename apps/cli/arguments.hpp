// The words on the command line, sorted into one plain struct.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace coldwright::cli {

struct Arguments {
  std::string command;                        // name of a use case; empty when only help was asked for
  std::string refrigerant;                    // saturation, state, refrigerant
  std::vector<std::string> words_of_name;     // refrigerant: its name, word by word
  std::vector<std::string> values;            // saturation: temperatures or pressures
  std::map<std::string, std::string> fields;  // further request members: p, t, altitude, units, ...
  std::vector<std::string> refrigerants;      // card
  std::vector<std::string> points;            // chart: "suction line=60F@41psig"
  std::string file;                           // expect, diagnose, chart: a path, or "-" for standard input
  std::string output;                         // chart, card, record: a path; standard output without it
  std::string language = "en";                // of the answer's texts
  std::string paper;                          // card, record: "a4" or "letter"; by the units without it
  std::string format = "pdf";                 // record: "pdf", "html", "json" or "csv"
  std::string shop;                           // record: a file with the shop's own words
  std::optional<std::uint64_t> seed, population;
  std::vector<std::string> readings;                   // procedures: "10 min, 148.2 psig, 68 F"
  std::optional<std::uint64_t> run;                    // procedures: which time it was done, of a call
  bool how = false;                                    // procedures: print formulas, inputs and sources
  std::vector<std::string> files;                      // memory: call files
  std::vector<std::string> layouts;                    // trace: of each file, in their order
  std::string into;                                    // trace: a call file that gets the evidence
  std::string memory;                                  // memory, diagnose, expect, proof: a memory file
  std::vector<std::string> forget, correct, ask_back;  // memory: "unit=...; quantity=...; value=..."
  std::vector<std::string> actions;                    // practice: what was done, in its order
  std::string schema_name;
  bool json = false;
  bool words = false;
};

/// What reading the command line came to: go on, or stop with this exit status after printing `message`
/// (help to standard output with 0, a mistake to standard error with 2).
struct Parsed {
  Arguments arguments;
  bool stop = false;
  int status = 0;
  std::string message;
};

Parsed parse_arguments(int count, char** words);

}  // namespace coldwright::cli

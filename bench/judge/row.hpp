// What the tool said about one visit with one set of readings, as a line of text that can be tallied later.
//
// SOURCE VISIT SET CABINET TRUTH STEADY EFFECTIVE SOLVES MINUTES ANSWER
// lab 12 G reach_in_cooler low_charge:0.43 1 14.2 3050 31 low_charge:0.81230,restriction:0.10021
// TRUTH has the severity's place between mild (0) and severe (1), -1 where a cause has none; ANSWER every
// cause above 1e-5, and the true one in any case; a pair is a+b.
#pragma once

#include <iosfwd>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/result.hpp"
#include "judge/opinion.hpp"
#include "lab/visit.hpp"

namespace coldwright::judge {

struct Row {
  std::string source;
  long visit = 0;
  char set = 'G';
  std::string cabinet;
  std::vector<std::pair<std::string, double>> truth;  // cause and severity's place
  bool steady = true;
  double effective = 0, solves = 0, minutes = 0;
  std::vector<std::pair<std::string, double>> answer;  // likeliest first
  double weight = 1;                                   // of the call among the others; in no line
};

/// Which names count as one. `load`: a sound machine under high load is no fault of refrigeration;
/// `classes`: besides, a compressor that doesn't pump is one with worn valves, as in
/// bench/diagnosis_table.cpp.
enum class Merge { none, load, classes };

/// The row as a table of fourteen single causes would have it: the answer given that it is one cause and none
/// that comes and goes. Empty for a visit of another kind.
std::optional<Row> without_pairs(const Row& row);

/// The same calls as they would be with other prior weights of the causes: each weighs by how much likelier
/// its truth is, and the answer's probabilities move by the same ratios, as Bayes' rule has it. Answers below
/// 1e-5 stay unknown.
std::vector<Row> reweighed(std::vector<Row> rows, const diagnosis::Knowledge& from,
                           const diagnosis::Knowledge& to);

/// A cause or pair under a merge, in one order: "sound+dirty_condenser" is "dirty_condenser".
std::string merged(const std::string& causes, Merge merge);
std::string truth_of(const Row& row, Merge merge);
/// The answer under a merge, likeliest first.
std::vector<std::pair<std::string, double>> answer_of(const Row& row, Merge merge);
std::vector<std::string> parts_of(const std::string& causes);

Row row_of(const lab::Visit& visit, const diagnosis::Knowledge& knowledge, const Said& said);
std::string to_line(const Row& row);
/// Problem for a line that isn't one.
Result<Row> row_from_line(const std::string& line);
/// All rows of these files.
Result<std::vector<Row>> read_rows(const std::vector<std::string>& files);

}  // namespace coldwright::judge

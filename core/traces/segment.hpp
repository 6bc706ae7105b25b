// A hidden semi-Markov model over blocks of a trace: states with a likelihood for each block, a distribution
// of how long each lasts, and which follows which. Best course, total likelihood, and how sure each part is
// [yu2010].
#pragma once

#include <cstddef>
#include <vector>

namespace coldwright::traces {

/// How long a state lasts: ln of the seconds is Gaussian.
struct Lasting {
  double median = 600, spread = 1;  // s, and of the logarithm
};

struct Chain {
  std::vector<Lasting> lasting;           // by state
  std::vector<double> first;              // ln probability of each state at the start
  std::vector<std::vector<double>> next;  // ln probability [from][to]; none of a state after itself
};

/// One stretch without a gap. Block b lies between edge[b] and edge[b + 1], s; log_likelihood[b][s].
struct Blocks {
  std::vector<double> edge;
  std::vector<std::vector<double>> log_likelihood;
};

struct Part {
  std::size_t from = 0, to = 0;  // blocks
  int state = 0;
  double probability = 0;                   // that this state held, its blocks' mean by time
  std::size_t from_low = 0, from_high = 0;  // edges between which it began with 90 %
};

struct Course {
  std::vector<Part> parts;
  double log_likelihood = 0;  // over all courses
};

/// Cost: blocks times states times blocks within reach. The first and last parts may have begun before and
/// end after what was logged: of them only that they lasted so long counts.
Course most_likely(const Chain& chain, const Blocks& blocks);

}  // namespace coldwright::traces

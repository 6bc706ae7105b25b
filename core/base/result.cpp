// The one way a problem is put into a line of text.
#include "base/result.hpp"

namespace coldwright {

std::string to_text(const Problem& problem) {
  std::string line = problem.field.empty() ? std::string("input") : problem.field;
  line += ": ";
  if (!problem.given.empty()) line += "given " + problem.given + "; ";
  if (!problem.allowed.empty()) line += "allowed: " + problem.allowed + "; ";
  if (!problem.why.empty()) line += "because " + problem.why;
  while (!line.empty() && (line.back() == ' ' || line.back() == ';' || line.back() == ':')) line.pop_back();
  return line;
}

}  // namespace coldwright

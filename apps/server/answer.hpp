// What is answered to a request: negotiation of encoding, caching, safety headers, problems. Values in,
// values out; sockets are connection.cpp's.
#pragma once

#include <ctime>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "site.hpp"

namespace coldwright::server {

/// The head of a request, as far as this server looks at it.
struct Asked {
  std::string_view method;
  std::string_view target;
  std::string_view accept_encoding;
  std::string_view if_none_match;
  std::size_t hosts = 1;  ///< how many Host fields came
  bool http_1_0 = false;
  bool has_body = false;   ///< a body was announced
  bool keep_alive = true;  ///< the client would like to ask again
};

struct Answer {
  unsigned status = 200;
  std::vector<std::pair<std::string_view, std::string>> fields;
  std::string problem;    ///< the body when it is the answer's own
  std::string_view body;  ///< into the site, which outlives the answer
  bool bodiless = false;  ///< HEAD: the length is told, the body isn't sent
  bool close = false;     ///< the connection ends after it

  std::string_view payload() const { return problem.empty() ? body : std::string_view(problem); }
};

Answer answer(const Site& site, const Asked& asked);

/// For a request that never became one: 400, 408, 414, 431, 505. The connection ends after it.
Answer refuse(unsigned status, std::string_view detail, std::string_view instance = {});

/// Status line and fields, with the blank line after them.
std::string head(const Answer& answer, bool http_1_0, std::time_t now);

}  // namespace coldwright::server

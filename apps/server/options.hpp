// The words of the server's command line.
#pragma once

#include <string>
#include <variant>

#include "connection.hpp"

namespace coldwright::server {

/// Our own choice: a port that no well-known service claims.
inline constexpr int usual_port = 8290;

struct Options {
  std::string root;
  std::string host = "127.0.0.1";
  int port = usual_port;
  bool port_asked = false;  ///< then no other one will do
  Limits limits;
};

/// The options, or the status to leave with: help was shown, or what is wrong was said.
std::variant<Options, int> read_options(int argc, char** argv);

}  // namespace coldwright::server

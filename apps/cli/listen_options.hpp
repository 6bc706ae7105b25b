// The words of `coldwright listen`, sorted into one plain struct.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace coldwright::cli {

struct ListenOptions {
  std::string host;
  int port = 1883;
  std::vector<std::string> topics;
  std::string to, client, user, password, tls_ca, language = "en";
};

struct ListenWords {
  ListenOptions options;
  std::optional<Problem> problem;
  std::string message;  // help, or the mistake; then nothing is to be done
  int status = 0;
};

/// Without --client its name comes from the file's place and the machine, so that a broker knows a listener
/// again and two of them don't take each other's readings.
ListenWords listen_words(int count, char** words);

}  // namespace coldwright::cli

// One connection: reads heads of requests within limits of size and time, writes the answers, one after
// another.
#pragma once

#include <boost/asio/ip/tcp.hpp>
#include <chrono>
#include <functional>

#include "site.hpp"

namespace coldwright::server {

struct Limits {
  std::size_t head_bytes = 8192;               ///< request line and fields together
  std::chrono::milliseconds patience{15'000};  ///< for a whole head to arrive, counted from when one may come
  std::chrono::milliseconds delivery{120'000};  ///< for a whole answer to be taken
  std::size_t connections = 256;                ///< at once; more wait in the system's queue
};

/// Lives until it has closed, then calls `ended`. The site outlives it.
void serve_connection(boost::asio::ip::tcp::socket socket, const Site& site, const Limits& limits,
                      std::function<void()> ended);

}  // namespace coldwright::server

// Waits for connections on one address and port, no more at once than the limits allow.
#pragma once

#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/steady_timer.hpp>
#include <memory>

#include "connection.hpp"
#include "site.hpp"

namespace coldwright::server {

/// Held alive by whatever it waits for, connections included, since each tells it when it ends.
class Listener : public std::enable_shared_from_this<Listener> {
 public:
  Listener(boost::asio::io_context& context, const Site& site, const Limits& limits);

  /// Takes the port; 0 for any free one. The error is the system's own, e.g. address in use.
  boost::system::error_code open(const boost::asio::ip::tcp::endpoint& endpoint);
  /// Where it listens, once open.
  boost::asio::ip::tcp::endpoint endpoint() const;
  /// From here on connections are served, as long as the context runs.
  void accept();

 private:
  void ended();

  boost::asio::ip::tcp::acceptor acceptor_;
  boost::asio::steady_timer pause_;
  const Site& site_;
  Limits limits_;
  std::size_t open_connections_ = 0;
  bool full_ = false;
};

}  // namespace coldwright::server

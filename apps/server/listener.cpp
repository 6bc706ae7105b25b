#include "listener.hpp"

#include <chrono>

namespace coldwright::server {
using boost::asio::ip::tcp;
using Error = boost::system::error_code;

Listener::Listener(boost::asio::io_context& context, const Site& site, const Limits& limits)
    : acceptor_(context), pause_(context), site_(site), limits_(limits) {}

Error Listener::open(const tcp::endpoint& endpoint) {
  Error error;
  acceptor_.open(endpoint.protocol(), error);
  // A server started again at once would otherwise find its own port still taken.
  if (!error) acceptor_.set_option(tcp::acceptor::reuse_address(true), error);
  if (!error) acceptor_.bind(endpoint, error);
  if (!error) acceptor_.listen(tcp::acceptor::max_listen_connections, error);
  if (error) {
    Error ignored;
    acceptor_.close(ignored);
  }
  return error;
}

tcp::endpoint Listener::endpoint() const { return acceptor_.local_endpoint(); }

void Listener::accept() {
  full_ = open_connections_ >= limits_.connections;
  if (full_) return;
  acceptor_.async_accept([this, self = shared_from_this()](Error error, tcp::socket socket) {
    if (error == boost::asio::error::operation_aborted) return;
    if (error) {
      // Out of descriptors, most likely; soon there are some again.
      pause_.expires_after(std::chrono::milliseconds(50));
      return pause_.async_wait([this, self](Error stopped) {
        if (!stopped) accept();
      });
    }
    // Without it the system waits 40 ms before it sends the last piece of an answer.
    Error ignored;
    socket.set_option(tcp::no_delay(true), ignored);
    ++open_connections_;
    serve_connection(std::move(socket), site_, limits_, [self] { self->ended(); });
    accept();
  });
}

void Listener::ended() {
  --open_connections_;
  if (full_) accept();
}

}  // namespace coldwright::server

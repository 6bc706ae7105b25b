// The server's start and end: options, the app into memory, a port, then work until a signal.
#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/address.hpp>
#include <boost/asio/signal_set.hpp>
#include <csignal>
#include <cstdio>
#include <memory>
#include <string>

#include "listener.hpp"
#include "options.hpp"
#include "site.hpp"

namespace coldwright::server {
namespace {
using boost::asio::ip::tcp;
using Error = boost::system::error_code;

constexpr int unusable = 2;

int complain(const std::string& text) {
  std::fprintf(stderr, "coldwright-server: %s\n", text.c_str());
  return unusable;
}

/// The port asked for; otherwise the usual one or, where that is taken, the next free one of a few.
Error open(Listener& listener, const boost::asio::ip::address& address, const Options& options) {
  constexpr int tries = 10;
  Error error;
  for (int step = 0; step < (options.port_asked ? 1 : tries); ++step) {
    error = listener.open({address, static_cast<unsigned short>(options.port + step)});
    if (error != boost::asio::error::address_in_use) break;
  }
  return error;
}

std::string url(const tcp::endpoint& at) {
  const std::string host =
      at.address().is_v6() ? "[" + at.address().to_string() + "]" : at.address().to_string();
  return "http://" + host + ":" + std::to_string(at.port()) + "/";
}

void announce(const tcp::endpoint& at, const Options& options) {
  if (!options.port_asked && at.port() != options.port) {
    std::fprintf(
        stderr,
        "Port %d is taken, so another one is used. A browser keeps calls by address: those made at port %d "
        "show there alone.\n",
        options.port, options.port);
  }
  if (!at.address().is_loopback()) {
    std::fprintf(
        stderr,
        "Warning: other machines can reach this server at %s, unencrypted. Over plain http a browser "
        "elsewhere neither installs the app nor keeps it for offline.\n",
        options.host.c_str());
  }
  std::printf("The app is at %s (Ctrl-C stops it)\n", url(at).c_str());
  std::fflush(stdout);
}

int run(const Options& options) {
  Error error;
  const auto address = boost::asio::ip::make_address(options.host, error);
  if (error)
    return complain("host: given " + options.host + "; a numeric address is needed, such as 127.0.0.1.");
  auto loaded = Site::load(options.root);
  if (const auto* trouble = std::get_if<std::string>(&loaded)) return complain(*trouble);
  const Site& site = std::get<Site>(loaded);

  boost::asio::io_context context(1);
  boost::asio::signal_set signals(context, SIGINT, SIGTERM);
  signals.async_wait([&context](Error, int) { context.stop(); });
  const auto listener = std::make_shared<Listener>(context, site, options.limits);
  error = open(*listener, address, options);
  if (error) {
    return complain("port: given " + std::to_string(options.port) + " at " + options.host + "; " +
                    error.message() +
                    (error == boost::asio::error::address_in_use
                         ? ". Another program listens there; --port names another, 0 any free one."
                         : "."));
  }
  announce(listener->endpoint(), options);
  listener->accept();
  context.run();
  return 0;
}

}  // namespace
}  // namespace coldwright::server

int main(int argc, char** argv) {
  const auto options = coldwright::server::read_options(argc, argv);
  if (const int* status = std::get_if<int>(&options)) return *status;
  return coldwright::server::run(std::get<coldwright::server::Options>(options));
}

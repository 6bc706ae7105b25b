#include "connection.hpp"

#include <array>
#include <boost/asio/buffer.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/write.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/http/empty_body.hpp>
#include <boost/beast/http/parser.hpp>
#include <boost/beast/http/read.hpp>
#include <cstdint>
#include <ctime>
#include <limits>
#include <memory>
#include <optional>
#include <utility>

#include "answer.hpp"

namespace coldwright::server {
namespace asio = boost::asio;
namespace http = boost::beast::http;
using Error = boost::system::error_code;
using asio::ip::tcp;
namespace {

std::string_view view(boost::beast::string_view text) { return {text.data(), text.size()}; }

Asked asked_by(const http::request_parser<http::empty_body>& parser) {
  const auto& request = parser.get();
  Asked asked;
  asked.method = view(request.method_string());
  asked.target = view(request.target());
  asked.accept_encoding = view(request[http::field::accept_encoding]);
  asked.if_none_match = view(request[http::field::if_none_match]);
  asked.hosts = request.count(http::field::host);
  asked.http_1_0 = request.version() == 10;
  asked.has_body = parser.chunked() || parser.content_length().value_or(0) > 0;
  asked.keep_alive = request.keep_alive();
  return asked;
}

/// Every step holds the connection alive through `self`; the last one lets go of it.
class Connection : public std::enable_shared_from_this<Connection> {
 public:
  Connection(tcp::socket socket, const Site& site, const Limits& limits, std::function<void()> ended)
      : socket_(std::move(socket)),
        timer_(socket_.get_executor()),
        site_(site),
        limits_(limits),
        ended_(std::move(ended)) {}
  ~Connection() { ended_(); }

  void read() {
    parser_.emplace();
    parser_->header_limit(static_cast<std::uint32_t>(limits_.head_bytes));
    // No body is read; answer() refuses what announces one. (boost::none would refuse all in Boost 1.74.)
    parser_->body_limit(std::numeric_limits<std::uint64_t>::max());
    late_ = false;
    watch(limits_.patience, [](Connection& self) { self.socket_.cancel(self.ignored_); });
    http::async_read_header(socket_, buffer_, *parser_,
                            [self = shared_from_this()](Error error, std::size_t) { self->on_read(error); });
  }

 private:
  void on_read(Error error) {
    if (!error) {
      const Asked asked = asked_by(*parser_);
      return write(answer(site_, asked), asked.http_1_0);
    }
    const bool begun = parser_->got_some() || buffer_.size() > 0;
    if (!begun || error == asio::error::connection_reset || error == http::error::partial_message) return;
    if (late_) return write(refuse(408, "The request didn't arrive in time."), false);
    if (error == http::error::header_limit || error == http::error::buffer_overflow) return too_long();
    if (error == http::error::bad_version)
      return write(
          refuse(505, "The first line doesn't end in HTTP/1.1 or HTTP/1.0, which is all this server speaks."),
          false);
    if (error.category() == http::make_error_code(http::error::bad_target).category()) {
      return write(refuse(400, "This isn't a request in the form of HTTP/1.1."), false);
    }
    // Anything else is the network's: nobody is there to be answered.
  }

  void too_long() {
    // The parser knows the target as soon as the first line was whole.
    if (parser_->get().target().empty()) {
      return write(refuse(414, "The first line of the request is longer than this server reads."), false);
    }
    write(refuse(431, "The fields of the request are longer than this server reads."), false);
  }

  void write(Answer answer, bool http_1_0) {
    answer_ = std::move(answer);
    head_ = head(answer_, http_1_0, std::time(nullptr));
    watch(limits_.delivery, [](Connection& self) { self.socket_.close(self.ignored_); });
    const std::string_view body = answer_.bodiless ? std::string_view() : answer_.payload();
    const std::array<asio::const_buffer, 2> pieces{asio::buffer(head_),
                                                   asio::buffer(body.data(), body.size())};
    asio::async_write(socket_, pieces, [self = shared_from_this()](Error error, std::size_t) {
      if (error) return;
      if (self->answer_.close) return self->part();
      self->read();
    });
  }

  /// Closing with bytes unread makes the system reset the connection, and the client may lose the answer. So
  /// the rest is read away, for a moment and up to a bound.
  void part() {
    socket_.shutdown(tcp::socket::shutdown_send, ignored_);
    watch(std::chrono::seconds(2), [](Connection& self) { self.socket_.cancel(self.ignored_); });
    drain();
  }

  void drain() {
    socket_.async_read_some(asio::buffer(rest_), [self = shared_from_this()](Error error, std::size_t got) {
      constexpr std::size_t enough = 1u << 20;
      self->drained_ += got;
      if (error || self->late_ || self->drained_ > enough) return;
      self->drain();
    });
  }

  /// `act` unless the step ends first. The timer must not keep the connection alive.
  void watch(std::chrono::milliseconds patience, void (*act)(Connection&)) {
    timer_.expires_after(patience);
    timer_.async_wait([weak = weak_from_this(), act](Error error) {
      const auto self = weak.lock();
      // A wait that ended just before the timer was set anew is no longer meant.
      if (error || !self || self->timer_.expiry() > std::chrono::steady_clock::now()) return;
      self->late_ = true;
      act(*self);
    });
  }

  tcp::socket socket_;
  asio::steady_timer timer_;
  const Site& site_;
  const Limits& limits_;
  std::function<void()> ended_;
  boost::beast::flat_buffer buffer_;
  std::optional<http::request_parser<http::empty_body>> parser_;
  Answer answer_;
  std::string head_;
  std::array<char, 4096> rest_{};
  std::size_t drained_ = 0;
  bool late_ = false;
  Error ignored_;
};

}  // namespace

void serve_connection(tcp::socket socket, const Site& site, const Limits& limits,
                      std::function<void()> ended) {
  std::make_shared<Connection>(std::move(socket), site, limits, std::move(ended))->read();
}

}  // namespace coldwright::server

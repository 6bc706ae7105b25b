// One thread: the broker's messages become rows, rows go to the file. A broker that is gone is asked again
// after growing waits, and keeps what it gets meanwhile for a client that it knows (QoS 1, a session that
// lasts).
#include "listen.hpp"

#include <mosquitto.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstdio>
#include <cstring>
#include <ctime>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <thread>
#include <utility>

#include "listen_options.hpp"
#include "live_file.hpp"
#include "live_payload.hpp"
#include "service/use_cases.hpp"

namespace coldwright::cli {
namespace {

using std::chrono::milliseconds;
using std::chrono::seconds;
using std::chrono::steady_clock;

constexpr std::size_t kMostHeld = std::size_t{64}
                                  << 20;           // bytes in memory; then no more is taken from the broker
constexpr int kKeepAlive = 20, kLongestWait = 30;  // s

volatile std::sig_atomic_t ending = 0;
void end_soon(int) { ending = 1; }

std::string instant_now() {
  const auto now = std::chrono::time_point_cast<milliseconds>(std::chrono::system_clock::now());
  const auto since = now.time_since_epoch().count();
  const std::time_t whole = since / 1000;
  std::tm parts{};
  gmtime_r(&whole, &parts);
  char text[40];
  const std::size_t n = std::strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%S", &parts);
  std::snprintf(text + n, sizeof text - n, ".%03dZ", static_cast<int>(since % 1000));
  return text;
}

std::string counted(std::size_t n, const char* one, const char* many) {
  return std::to_string(n) + " " + (n == 1 ? one : many);
}

class Listener {
 public:
  Listener(const ListenOptions& options, LiveFile file) : options_(options), file_(std::move(file)) {}

  int run();

 private:
  struct Ended {
    void operator()(mosquitto* client) const { mosquitto_destroy(client); }
  };
  std::optional<Problem> prepare();
  void connected(int code);
  void gone(const std::string& why);
  void message(const mosquitto_message& message);
  void keep_writing();
  void say(const std::string& words) const {
    std::fprintf(stderr, "%s  %s\n", instant_now().c_str(), words.c_str());
  }
  std::string place() const { return options_.host + ":" + std::to_string(options_.port); }
  std::string tally() const {
    return counted(readings_, "reading", "readings") + " of " +
           counted(sensors_.size(), "sensor", "sensors") + ", " + counted(unread_, "message", "messages") +
           " not understood";
  }
  int refuse(const Problem& problem) const {
    std::fprintf(stderr, "coldwright: %s\n",
                 service::told(service::in_language(problem, options_.language), options_.language).c_str());
    return 2;
  }

  const ListenOptions& options_;
  LiveFile file_;
  std::unique_ptr<mosquitto, Ended> client_;
  std::set<std::string> sensors_;
  std::size_t readings_ = 0, unread_ = 0, breaks_ = 0;
  bool up_ = false, was_up_ = false, full_ = false;
  std::optional<Problem> refused_;
  int wait_ = 1;
  steady_clock::time_point again_{}, synced_ = steady_clock::now(), told_ = synced_;
};

std::optional<Problem> Listener::prepare() {
  for (const std::string& topic : options_.topics)
    if (mosquitto_sub_topic_check(topic.c_str()) != MOSQ_ERR_SUCCESS)
      return Problem{"topic", topic, "a topic such as shop/cooler/suction, shop/+/suction or shop/#",
                     "a broker takes no other"};
  client_.reset(mosquitto_new(options_.client.c_str(), false, this));
  if (!client_)
    return Problem{"client", options_.client, "a name of up to 23 letters and figures", "no broker takes it"};
  mosquitto* client = client_.get();
  if (!options_.user.empty())
    mosquitto_username_pw_set(client, options_.user.c_str(),
                              options_.password.empty() ? nullptr : options_.password.c_str());
  if (!options_.tls_ca.empty() && mosquitto_tls_set(client, options_.tls_ca.c_str(), nullptr, nullptr,
                                                    nullptr, nullptr) != MOSQ_ERR_SUCCESS)
    return Problem{"tls-ca", options_.tls_ca, "a file with certificates as PEM", "it can't be read"};
  mosquitto_connect_callback_set(
      client, [](mosquitto*, void* self, int code) { static_cast<Listener*>(self)->connected(code); });
  mosquitto_message_callback_set(client, [](mosquitto*, void* self, const mosquitto_message* m) {
    static_cast<Listener*>(self)->message(*m);
  });
  mosquitto_subscribe_callback_set(client, [](mosquitto*, void* self, int, int count, const int* granted) {
    auto* listener = static_cast<Listener*>(self);
    for (int i = 0; i < count; ++i)
      if (granted[i] > 2)
        listener->refused_ = Problem{"topic", "what the broker keeps from this user",
                                     "a topic it lets this user read", "the broker refused the subscription"};
  });
  return std::nullopt;
}

void Listener::connected(int code) {
  if (code != 0) {  // refused by name, password or protocol: trying again would change nothing
    refused_ = Problem{"broker", place(), "a broker that lets this user in", mosquitto_connack_string(code)};
    return;
  }
  for (const std::string& topic : options_.topics)
    mosquitto_subscribe(client_.get(), nullptr, topic.c_str(), 1);
  if (was_up_) {
    file_.add("# " + instant_now() + " the broker is back; what it kept is stamped as it comes now");
    say("the broker is back; what it kept meanwhile comes first");
  } else {
    say("listening to " + place() + " into " + options_.to + "; Ctrl-C ends it");
  }
  up_ = was_up_ = true;
  wait_ = 1;
}

void Listener::gone(const std::string& why) {
  if (up_) {
    ++breaks_;
    file_.add("# " + instant_now() + " the broker is gone: " + why);
  }
  up_ = false;
  again_ = steady_clock::now() + seconds(wait_);
  say("no line to the broker (" + why + "); trying again in " + std::to_string(wait_) +
      " s. Nothing written is lost");
  wait_ = std::min(2 * wait_, kLongestWait);
}

void Listener::message(const mosquitto_message& message) {
  const std::string_view payload(static_cast<const char*>(message.payload),
                                 static_cast<std::size_t>(std::max(message.payloadlen, 0)));
  const std::string now = instant_now();
  const auto rows = live_rows(message.topic, payload);
  if (rows.empty()) {
    ++unread_;
    file_.add("# " + now + " not understood, as it came: " + live_kept(message.topic) + " " +
              live_kept(payload));
  }
  for (const LiveRow& row : rows) {
    ++readings_;
    sensors_.insert(row.sensor);
    file_.add((row.time.empty() ? now : row.time) + "," + live_cell(row.sensor) + "," + row.value);
  }
  file_.write();  // at once: what is taken is acknowledged when this returns
}

/// Holds rows in memory while the disk takes none, says so once, and once more when it does again.
void Listener::keep_writing() {
  const auto now = steady_clock::now();
  if (now - synced_ < seconds(1)) return;
  synced_ = now;
  const bool written = file_.write() && file_.sync();
  if (!written && !full_)
    say(options_.to + " can't be written (" + file_.trouble() + "); readings stay in memory until it can");
  if (written && full_) say(options_.to + " can be written again; nothing was lost");
  full_ = !written;
  if (now - told_ < seconds(60)) return;
  told_ = now;
  say(tally() + (up_ ? "" : "; the broker is gone"));
}

int Listener::run() {
  if (const auto problem = prepare()) return refuse(*problem);
  const int first = mosquitto_connect(client_.get(), options_.host.c_str(), options_.port, kKeepAlive);
  if (first != MOSQ_ERR_SUCCESS)
    return refuse({"broker", place(), "a broker that answers there",
                   first == MOSQ_ERR_ERRNO ? std::strerror(errno) : mosquitto_strerror(first)});
  bool open = true;
  while (ending == 0 && !refused_) {
    keep_writing();
    if (file_.held() > kMostHeld) {  // left with the broker, which keeps them for this client
      std::this_thread::sleep_for(milliseconds(200));
      continue;
    }
    if (!open && steady_clock::now() < again_) {
      std::this_thread::sleep_for(milliseconds(100));
      continue;
    }
    int result = open ? mosquitto_loop(client_.get(), 200, 1) : mosquitto_reconnect(client_.get());
    if (refused_) break;
    open = result == MOSQ_ERR_SUCCESS;
    if (!open && ending == 0)
      gone(result == MOSQ_ERR_ERRNO ? std::strerror(errno) : mosquitto_strerror(result));
  }
  mosquitto_disconnect(client_.get());
  const bool written = file_.write() && file_.sync();
  if (refused_) return refuse(*refused_);
  std::printf(
      "%s; the broker was gone %s. %s\n", tally().c_str(), counted(breaks_, "time", "times").c_str(),
      written ? ("Read them with: coldwright trace " + options_.to).c_str()
              : (std::to_string(file_.held()) + " bytes could not be written: " + file_.trouble()).c_str());
  return written ? 0 : 1;
}

}  // namespace

int listen_main(int count, char** words) {
  const ListenWords said = listen_words(count, words);
  if (!said.message.empty()) {
    std::fputs(said.message.c_str(), said.status == 0 ? stdout : stderr);
    return said.status;
  }
  const auto refuse = [&](const Problem& problem) {
    const std::string language = service::is_language(said.options.language) ? said.options.language : "en";
    std::fprintf(stderr, "coldwright: %s\n",
                 service::told(service::in_language(problem, language), language).c_str());
    return 2;
  };
  if (said.problem) return refuse(*said.problem);
  auto file = LiveFile::open(said.options.to);
  if (!file) return refuse(file.problem());
  std::signal(SIGINT, end_soon);
  std::signal(SIGTERM, end_soon);
  std::signal(SIGXFSZ, SIG_IGN);  // a file at its allowed size is a full disk, not the end
  mosquitto_lib_init();
  const int status = Listener(said.options, std::move(file).value()).run();
  mosquitto_lib_cleanup();
  return status;
}

}  // namespace coldwright::cli

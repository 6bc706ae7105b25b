// The real server on a free port, over a small app folder of the test's own, and a client that sends exactly
// the bytes it is told to.
#pragma once

#include <arpa/inet.h>
#include <gtest/gtest.h>
#include <netinet/in.h>
#include <poll.h>
#include <signal.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cctype>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <string>
#include <utility>
#include <vector>

namespace coldwright::tests {

/// An answer as it came over the wire. Field names in lower case.
struct Heard {
  int status = 0;
  std::map<std::string, std::string> fields;
  std::string body;
  std::string field(const std::string& name) const {
    const auto found = fields.find(name);
    return found == fields.end() ? "" : found->second;
  }
};

/// One connection. Waits are bounded: a server that says nothing fails the test rather than holding it up.
class Line {
 public:
  explicit Line(int port) : socket_(::socket(AF_INET, SOCK_STREAM, 0)) {
    sockaddr_in at{};
    at.sin_family = AF_INET;
    at.sin_port = htons(static_cast<std::uint16_t>(port));
    at.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    open_ = ::connect(socket_, reinterpret_cast<const sockaddr*>(&at), sizeof at) == 0;
  }
  ~Line() { ::close(socket_); }
  Line(const Line&) = delete;
  Line& operator=(const Line&) = delete;

  bool open() const { return open_; }

  /// False when the other side stopped taking bytes.
  bool send(const std::string& bytes) const {
    for (std::size_t sent = 0; sent < bytes.size();) {
      const auto n = ::send(socket_, bytes.data() + sent, bytes.size() - sent, MSG_NOSIGNAL);
      if (n <= 0) return false;
      sent += static_cast<std::size_t>(n);
    }
    return true;
  }

  /// One answer. `bodiless`: it answers HEAD. Status 0 when none came.
  Heard hear(bool bodiless = false) {
    std::size_t end = std::string::npos;
    while ((end = unread_.find("\r\n\r\n")) == std::string::npos) {
      if (!more()) return {};
    }
    Heard heard = understood(unread_.substr(0, end + 2));
    unread_.erase(0, end + 4);
    const std::string length = heard.field("content-length");
    const std::size_t size = bodiless || length.empty() ? 0 : std::stoul(length);
    while (unread_.size() < size) {
      if (!more()) return {};
    }
    heard.body = unread_.substr(0, size);
    unread_.erase(0, size);
    return heard;
  }

  /// True once the server has ended the connection and nothing more came.
  bool ended() {
    while (more()) {
    }
    return closed_ && unread_.empty();
  }

 private:
  static constexpr int patience_ms = 10'000;

  bool more() {
    pollfd wait{socket_, POLLIN, 0};
    if (::poll(&wait, 1, patience_ms) <= 0) return false;
    char piece[65536];
    const auto n = ::recv(socket_, piece, sizeof piece, 0);
    closed_ = n == 0;
    if (n <= 0) return false;
    unread_.append(piece, static_cast<std::size_t>(n));
    return true;
  }

  static Heard understood(const std::string& head) {
    Heard heard;
    std::size_t at = head.find("\r\n") + 2;
    heard.status = head.starts_with("HTTP/1.1 ") ? std::atoi(head.c_str() + 9) : -1;
    while (at < head.size()) {
      const std::size_t end = head.find("\r\n", at);
      const std::size_t colon = head.find(": ", at);
      std::string name = head.substr(at, colon - at);
      std::transform(name.begin(), name.end(), name.begin(), [](unsigned char c) { return std::tolower(c); });
      EXPECT_FALSE(heard.fields.contains(name)) << name << " was sent twice";
      heard.fields[name] = head.substr(colon + 2, end - colon - 2);
      at = end + 2;
    }
    return heard;
  }

  int socket_;
  bool open_ = false, closed_ = false;
  std::string unread_;
};

/// A folder for the server to deliver; made by the test, removed at its end.
class AppFolder {
 public:
  AppFolder() {
    char name[] = "/tmp/coldwright-app-XXXXXX";
    path_ = mkdtemp(name);
  }
  ~AppFolder() { std::filesystem::remove_all(path_); }
  AppFolder(const AppFolder&) = delete;
  AppFolder& operator=(const AppFolder&) = delete;
  void write(const std::string& name, const std::string& content) const {
    const std::filesystem::path file = std::filesystem::path(path_) / name;
    std::filesystem::create_directories(file.parent_path());
    std::ofstream(file, std::ios::binary) << content;
  }
  const std::string& path() const { return path_; }

 private:
  std::string path_;
};

/// The program, from its start to its end.
class Server {
 public:
  /// `words`: further arguments after --root; a port is always chosen by the system unless they name one.
  explicit Server(const std::string& root, std::vector<std::string> words = {"--port", "0"}) {
    words.insert(words.begin(), {COLDWRIGHT_SERVER, "--root", root});
    std::vector<char*> argv;
    for (auto& word : words) argv.push_back(word.data());
    argv.push_back(nullptr);
    int out[2], err[2];
    if (::pipe(out) != 0 || ::pipe(err) != 0) throw std::runtime_error("no pipe");
    process_ = ::fork();
    if (process_ == 0) {
      ::dup2(out[1], 1);
      ::dup2(err[1], 2);
      for (const int end : {out[0], out[1], err[0], err[1]}) ::close(end);
      ::execv(argv[0], argv.data());
      ::_exit(127);  // the child, where the program could not be started: the test then fails for want of it
    }
    ::close(out[1]);
    ::close(err[1]);
    out_ = out[0];
    err_ = err[0];
    said = line(out_);
    const auto colon = said.rfind(':', said.rfind('/'));
    if (colon != std::string::npos) port = std::atoi(said.c_str() + colon + 1);
  }
  ~Server() {
    if (process_ > 0) stop(SIGKILL);
    ::close(out_);
    ::close(err_);
  }
  Server(const Server&) = delete;
  Server& operator=(const Server&) = delete;

  /// Sends the signal (0: none, it ends by itself) and gives the exit status; 128 + signal when one killed
  /// it.
  int stop(int signal) {
    if (signal != 0) ::kill(process_, signal);
    int raw = 0;
    ::waitpid(std::exchange(process_, -1), &raw, 0);
    return WIFEXITED(raw) ? WEXITSTATUS(raw) : 128 + WTERMSIG(raw);
  }
  /// What it wrote to standard error; to be asked once it has ended.
  std::string complaint() const {
    std::string all;
    for (std::string one; !(one = line(err_)).empty();) all += one;
    return all;
  }
  /// A single request on a connection of its own.
  Heard ask(const std::string& request, bool bodiless = false) const {
    Line line(port);
    if (!line.open() || !line.send(request)) return {};
    return line.hear(bodiless);
  }
  Heard get(const std::string& target, const std::string& further_fields = "") const {
    return ask("GET " + target + " HTTP/1.1\r\nHost: localhost\r\n" + further_fields + "\r\n");
  }

  std::string said;  ///< its line on standard output; empty when it ended without one
  int port = 0;

 private:
  static std::string line(int descriptor) {
    std::string text;
    for (char c = 0; c != '\n' && ::read(descriptor, &c, 1) == 1;) text += c;
    return text;
  }

  pid_t process_ = -1;
  int out_ = -1, err_ = -1;
};

}  // namespace coldwright::tests

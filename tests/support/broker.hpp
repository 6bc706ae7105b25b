// A real MQTT broker on a free port with a memory of its own on disk, that can be killed and started again;
// and the real `coldwright listen` beside it.
#pragma once

#include <arpa/inet.h>
#include <fcntl.h>
#include <gtest/gtest.h>
#include <netinet/in.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <functional>
#include <string>
#include <thread>
#include <vector>

#include "contract/program.hpp"

namespace coldwright::tests {

/// Waits at most twenty seconds.
inline bool comes_true(const std::function<bool()>& what) {
  for (int i = 0; i < 400; ++i) {
    if (what()) return true;
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
  }
  return what();
}

class Child {
 public:
  Child() = default;
  Child(std::vector<std::string> words, const std::string& out, const std::string& err) {
    pid_ = fork();
    if (pid_ != 0) return;
    for (const auto& [path, stream] : {std::pair(out, 1), std::pair(err, 2)})
      dup2(open(path.c_str(), O_WRONLY | O_CREAT | O_APPEND, 0644), stream);
    std::vector<char*> raw;
    for (std::string& word : words) raw.push_back(word.data());
    raw.push_back(nullptr);
    execvp(raw[0], raw.data());
    _exit(127);  // the child, where the program could not be started: the test then fails for want of it
  }
  ~Child() { end(SIGKILL); }
  Child(Child&& from) noexcept : pid_(std::exchange(from.pid_, 0)) {}
  Child& operator=(Child&& from) noexcept {
    std::swap(pid_, from.pid_);
    return *this;
  }
  /// Its exit status; 128 when the signal itself ended it.
  int end(int with) {
    if (pid_ <= 0) return -1;
    kill(pid_, with);
    int raw = 0;
    waitpid(pid_, &raw, 0);
    pid_ = 0;
    return WIFEXITED(raw) ? WEXITSTATUS(raw) : 128;
  }
  pid_t pid() const { return pid_; }

 private:
  pid_t pid_ = 0;
};

class Broker {
 public:
  explicit Broker(const Folder& folder) : folder_(folder), port_(free_port()) {
    folder.write("broker.conf", "listener " + std::to_string(port_) +
                                    " 127.0.0.1\nallow_anonymous true\nuser root\npersistence true\n"
                                    "persistence_location " +
                                    folder.file("") + "\nautosave_on_changes true\nautosave_interval 1\n");
    start();
  }
  void start() {
    child_ = Child({"/usr/sbin/mosquitto", "-c", folder_.file("broker.conf")}, "/dev/null",
                   folder_.file("broker.log"));
    EXPECT_TRUE(comes_true([this] { return answers(); })) << Folder::read(folder_.file("broker.log"));
  }
  void kill_it() { child_.end(SIGKILL); }
  std::string place() const { return "127.0.0.1:" + std::to_string(port_); }
  /// Each line a message that the broker has confirmed when this returns.
  void publish(const std::string& topic, const std::string& lines) const {
    const std::string in = folder_.write("to-publish", lines);
    ASSERT_EQ(std::system(("mosquitto_pub -h 127.0.0.1 -p " + std::to_string(port_) + " -q 1 -l -t '" +
                           topic + "' <" + in)
                              .c_str()),
              0);
  }

 private:
  static int bound(int socket, int port, bool connecting) {
    sockaddr_in at{};
    at.sin_family = AF_INET;
    at.sin_port = htons(static_cast<std::uint16_t>(port));
    at.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    auto* address = reinterpret_cast<sockaddr*>(&at);
    return connecting ? connect(socket, address, sizeof at) : bind(socket, address, sizeof at);
  }
  static int free_port() {
    const int s = socket(AF_INET, SOCK_STREAM, 0);
    bound(s, 0, false);
    sockaddr_in at{};
    socklen_t size = sizeof at;
    getsockname(s, reinterpret_cast<sockaddr*>(&at), &size);
    close(s);
    return ntohs(at.sin_port);
  }
  bool answers() const {
    const int s = socket(AF_INET, SOCK_STREAM, 0);
    const bool yes = bound(s, port_, true) == 0;
    close(s);
    return yes;
  }
  const Folder& folder_;
  int port_;
  Child child_;
};

/// `coldwright listen` into live.csv of the folder.
class Listening {
 public:
  Listening(const Folder& folder, const Broker& broker, const std::string& topic)
      : folder_(folder),
        child_({COLDWRIGHT_BINARY, "listen", "--broker", broker.place(), "--topic", topic, "--to",
                folder.file("live.csv")},
               folder.file("out"), folder.file("err")) {
    EXPECT_TRUE(comes_true([&] { return said().find("listening to") != std::string::npos; })) << said();
  }
  std::string file() const { return Folder::read(folder_.file("live.csv")); }
  std::string said() const { return Folder::read(folder_.file("err")); }
  std::string summary() const { return Folder::read(folder_.file("out")); }
  bool has(const std::string& text) const {
    return comes_true([&] { return file().find(text) != std::string::npos; });
  }
  bool says(const std::string& text) const {
    return comes_true([&] { return said().find(text) != std::string::npos; });
  }
  int end() { return child_.end(SIGINT); }
  pid_t pid() const { return child_.pid(); }

 private:
  const Folder& folder_;
  Child child_;
};

}  // namespace coldwright::tests

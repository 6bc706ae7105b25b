// Runs the real program as a technician would, and gives back what it printed and how it ended.
#pragma once

#include <gtest/gtest.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <fstream>
#include <iterator>
#include <string>

namespace coldwright::tests {

struct Outcome {
  int status = -1;
  std::string out, err;
};

/// A folder of its own, removed at the end.
class Folder {
 public:
  Folder() {
    char name[] = "/tmp/coldwright-test-XXXXXX";
    path_ = mkdtemp(name);
  }
  ~Folder() { std::system(("rm -rf '" + path_ + "'").c_str()) == 0 ? void() : void(); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::string file(const std::string& name) const { return path_ + "/" + name; }
  std::string write(const std::string& name, const std::string& content) const {
    std::ofstream(file(name), std::ios::binary) << content;
    return file(name);
  }
  static std::string read(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
  }

 private:
  std::string path_;
};

/// `arguments` is a piece of shell: quote what has blanks. Standard input is `input`.
inline Outcome coldwright(const std::string& arguments, const std::string& input = "") {
  const Folder folder;
  const std::string in = folder.write("in", input);
  const std::string command = std::string("timeout 120 ") + COLDWRIGHT_BINARY + " " + arguments + " <" + in +
                              " >" + folder.file("out") + " 2>" + folder.file("err");
  const int raw = std::system(command.c_str());
  return {WIFEXITED(raw) ? WEXITSTATUS(raw) : 128, Folder::read(folder.file("out")),
          Folder::read(folder.file("err"))};
}

}  // namespace coldwright::tests

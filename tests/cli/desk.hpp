#pragma once

#include <sstream>
#include <string>
#include <vector>

#include "folder.hpp"

namespace runnel {

/// An empty folder, and commands as a shell reads them, with the program on its path.
class Desk {
 public:
  [[nodiscard]] Result run(const std::string& command) const {
    const std::string program = RUNNEL_PROGRAM;
    write(".command", "set -o pipefail\ncd '" + folder_.path().string() + "'\n" + command + "\n");
    const std::string line = "PATH='" + fs::path(program).parent_path().string() +
                             "':$PATH bash '" + path(".command") + "' >'" + path(".out") + "' 2>'" +
                             path(".err") + "' </dev/null";
    const int status = std::system(line.c_str());  // NOLINT: the tests' own words
    Result result{.exit = WEXITSTATUS(status), .out = text(".out"), .err = text(".err")};
    for (const char* name : {".command", ".out", ".err"}) fs::remove(path(name));
    return result;
  }
  void write(const std::string& name, const std::string& text) const { folder_.write(name, text); }
  void replace(const std::string& name, const std::string& from, const std::string& to) const {
    std::string whole = text(name);
    const std::size_t at = whole.find(from);
    REQUIRE_MESSAGE(at != std::string::npos, from);
    write(name, whole.replace(at, from.size(), to));
  }
  [[nodiscard]] std::string path(const std::string& name) const { return folder_ / name; }
  [[nodiscard]] std::string text(const std::string& name) const { return read(path(name)); }
  [[nodiscard]] long files() const { return static_cast<long>(folder_.entries()); }
  [[nodiscard]] bool knows(const std::string& program) const {
    return run("command -v " + program).exit == 0;
  }

 private:
  TemporaryFolder folder_;
};

inline std::vector<std::string> lines_of(const std::string& text) {
  std::istringstream stream(text);
  std::vector<std::string> all;
  for (std::string line; std::getline(stream, line);) all.push_back(line);
  return all;
}

}  // namespace runnel

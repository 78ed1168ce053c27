#pragma once

#include <doctest/doctest.h>
#include <sys/wait.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "support/temporary_folder.hpp"

namespace runnel {

namespace fs = std::filesystem;

inline std::string read(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

struct Result {
  int exit;
  std::string out, err;
};

/// A folder of its own for each case, with the week worked by hand in it.
class Folder {
 public:
  Folder() {
    for (const char* name : {"garden.yaml", "weather.csv", "forecast.csv"})
      fs::copy_file(fs::path(RUNNEL_TEST_DATA) / "garden/sanity-week" / name,
                    folder_.path() / name);
  }

  void write(const std::string& name, const std::string& text) const { folder_.write(name, text); }
  [[nodiscard]] std::string path(const std::string& name) const { return folder_ / name; }
  [[nodiscard]] std::string text(const std::string& name) const { return read(path(name)); }
  void replace(const std::string& name, const std::string& from, const std::string& to) const {
    std::string whole = text(name);
    const std::size_t at = whole.find(from);
    REQUIRE_MESSAGE(at != std::string::npos, from);
    write(name, whole.replace(at, from.size(), to));
  }
  [[nodiscard]] std::size_t files() const { return static_cast<std::size_t>(folder_.entries()); }
  /// Runs `runnel ARGS` in the folder.
  [[nodiscard]] Result run(const std::string& args) const {
    const std::string command = "cd '" + folder_.path().string() + "' && '" RUNNEL_PROGRAM "' " +
                                args + " >.out 2>.err </dev/null";
    const int status = std::system(command.c_str());  // NOLINT: the tests' own words
    Result result{.exit = WEXITSTATUS(status), .out = text(".out"), .err = text(".err")};
    fs::remove(path(".out"));
    fs::remove(path(".err"));
    return result;
  }

 private:
  TemporaryFolder folder_;
};

inline long lines(const std::string& text) { return std::count(text.begin(), text.end(), '\n'); }
inline bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}
/// What `runnel check` prints, with each finding on one line.
inline std::string unwrapped(std::string text) {
  const std::string further = "\n    ";
  for (std::size_t at = 0; (at = text.find(further, at)) != std::string::npos;)
    text.replace(at, further.size(), " ");
  return text;
}

}  // namespace runnel

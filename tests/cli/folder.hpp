#pragma once

#include <doctest/doctest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

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
  Folder() : path_(fs::temp_directory_path() / ("runnel_cli_" + std::to_string(counter()++))) {
    fs::remove_all(path_);
    fs::create_directories(path_);
    for (const char* name : {"garden.yaml", "weather.csv", "forecast.csv"})
      fs::copy_file(fs::path(RUNNEL_TEST_DATA) / "garden/sanity-week" / name, path_ / name);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { fs::remove_all(path_); }

  void write(const std::string& name, const std::string& text) const {
    std::ofstream(path_ / name, std::ios::binary) << text;
  }
  [[nodiscard]] std::string path(const std::string& name) const { return (path_ / name).string(); }
  [[nodiscard]] std::string text(const std::string& name) const { return read(path_ / name); }
  void replace(const std::string& name, const std::string& from, const std::string& to) const {
    std::string whole = text(name);
    const std::size_t at = whole.find(from);
    REQUIRE_MESSAGE(at != std::string::npos, from);
    write(name, whole.replace(at, from.size(), to));
  }
  [[nodiscard]] std::size_t files() const {
    return static_cast<std::size_t>(
        std::distance(fs::directory_iterator(path_), fs::directory_iterator()));
  }
  /// Runs `runnel ARGS` in the folder.
  [[nodiscard]] Result run(const std::string& args) const {
    const std::string command =
        "cd '" + path_.string() + "' && '" RUNNEL_PROGRAM "' " + args + " >.out 2>.err </dev/null";
    const int status = std::system(command.c_str());  // NOLINT: the tests' own words
    Result result{.exit = WEXITSTATUS(status), .out = text(".out"), .err = text(".err")};
    fs::remove(path_ / ".out");
    fs::remove(path_ / ".err");
    return result;
  }

 private:
  static int& counter() {
    static int count = static_cast<int>(getpid()) * 1000;
    return count;
  }
  fs::path path_;
};

inline long lines(const std::string& text) { return std::count(text.begin(), text.end(), '\n'); }
inline bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace runnel

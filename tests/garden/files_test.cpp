#include "runnel/garden/files.hpp"

#include <doctest/doctest.h>
#include <sys/stat.h>

#include <filesystem>
#include <stdexcept>
#include <string>
#include <string_view>

#include "runnel/units/finding.hpp"
#include "support/temporary_folder.hpp"

namespace fs = std::filesystem;
using runnel::change_file;
using runnel::FileExists;
using runnel::InputError;
using runnel::path_beside;
using runnel::Place;
using runnel::read_file;
using runnel::TemporaryFolder;
using runnel::to_text;
using runnel::write_file;

namespace {

std::string fault_of_reading(const std::string& path, const Place& at = {}) {
  try {
    (void)read_file(path, at);
  } catch (const InputError& error) {
    REQUIRE(error.findings().size() == 1);
    return to_text(error.findings()[0]);
  }
  return "none";
}

std::string fault_of_writing(const std::string& path) {
  try {
    write_file(path, "x", true);
  } catch (const InputError& error) {
    return to_text(error.findings()[0]);
  }
  return "none";
}

}  // namespace

TEST_SUITE("garden") {
  TEST_CASE("files - what is written is read back, whatever the bytes") {
    const TemporaryFolder folder;
    const std::string path = folder / "a.txt";
    for (const std::size_t size : {0U, 1U, 65'535U, 65'536U, 65'537U, 200'000U}) {
      std::string text(size, '\0');
      for (std::size_t i = 0; i < size; ++i) text[i] = static_cast<char>(i * 7);
      write_file(path, text, true);
      CHECK(read_file(path) == text);
    }
    CHECK(folder.entries() == 1);
  }

  TEST_CASE("files - a file that is there is not replaced unasked") {
    const TemporaryFolder folder;
    const std::string path = folder / "a.txt";
    write_file(path, "old", false);
    CHECK_THROWS_AS(write_file(path, "new", false), FileExists);
    CHECK(read_file(path) == "old");
    CHECK(folder.entries() == 1);
    write_file(path, "new", true);
    CHECK(read_file(path) == "new");
  }

  TEST_CASE("files - a replaced file keeps its permissions, a link its place") {
    const TemporaryFolder folder;
    const std::string path = folder / "a.txt";
    const std::string link = folder / "link.txt";
    write_file(path, "old", false);
    fs::permissions(path, fs::perms::owner_read | fs::perms::owner_write);
    fs::create_symlink("a.txt", link);
    write_file(link, "new", true);
    CHECK(fs::is_symlink(link));
    CHECK(read_file(path) == "new");
    CHECK(fs::status(path).permissions() == (fs::perms::owner_read | fs::perms::owner_write));
    CHECK_THROWS_AS(write_file(link, "newer", false), FileExists);
  }

  TEST_CASE("files - what is left over from a write that was cut off is removed by the next") {
    const TemporaryFolder folder;
    write_file(folder / "a.txt.runnel-part0", "unfinished", false);
    write_file(folder / "b.txt.runnel-part0", "another's", false);
    write_file(folder / "a.txt", "whole", false);
    CHECK(read_file(folder / "a.txt") == "whole");
    CHECK(read_file(folder / "b.txt.runnel-part0") == "another's");
    CHECK(folder.entries() == 2);
    write_file(folder / "a.txt.runnel-part0", "unfinished", false);
    change_file(folder / "a.txt", [](const auto& before) { return before.value() + " again"; });
    CHECK(read_file(folder / "a.txt") == "whole again");
    CHECK(folder.entries() == 2);
  }

  TEST_CASE("files - a change starts from what is there and leaves it when it fails") {
    const TemporaryFolder folder;
    change_file(folder / "a.txt", [](const auto& before) {
      CHECK_FALSE(before.has_value());
      return std::string("one");
    });
    CHECK_THROWS_AS(change_file(folder / "a.txt",
                                [](const auto&) -> std::string { throw std::runtime_error("no"); }),
                    std::runtime_error);
    CHECK(read_file(folder / "a.txt") == "one");
    CHECK(folder.entries() == 1);
    CHECK_THROWS_AS(change_file(folder / "no/a.txt", [](const auto&) { return std::string(); }),
                    InputError);
    CHECK_THROWS_AS(change_file("/dev/null", [](const auto&) { return std::string(); }),
                    InputError);
  }

  TEST_CASE("files - what cannot be read is said with its place") {
    const TemporaryFolder folder;
    const std::string path = folder / "none.csv";
    CHECK(fault_of_reading(path) ==
          path + ": error: there is no such file (check the name and the folder)");
    CHECK(fault_of_reading(path, {"g.yaml", 5, 13, "weather.observed"}) ==
          "g.yaml:5:13: error: weather.observed: " + path +
              ": there is no such file (check the name and the folder)");
    CHECK(fault_of_reading(folder / "") == (folder / "") + ": error: is a folder, not a file");
    CHECK(fault_of_reading("/dev/zero") == "/dev/zero: error: is no regular file");
    CHECK(fault_of_reading("") == "error: there is no such file (check the name and the folder)");
    // Reading a pipe that nobody writes to would wait for ever.
    const std::string pipe = folder / "pipe";
    REQUIRE(mkfifo(pipe.c_str(), 0600) == 0);
    CHECK(fault_of_reading(pipe) == pipe + ": error: is no regular file");
    CHECK(fault_of_reading(std::string(10'000, 'x')).find("error: ") != std::string::npos);
  }

  TEST_CASE("files - a file beyond the limit is refused") {
    const TemporaryFolder folder;
    const std::string path = folder / "large";
    write_file(path, "", false);
    fs::resize_file(path, (256U << 20U) + 1U);
    CHECK(fault_of_reading(path) == path + ": error: is larger than 256 MiB");
  }

  TEST_CASE("files - what cannot be written leaves nothing behind") {
    const TemporaryFolder folder;
    CHECK(fault_of_writing(folder / "no/a.txt").find("cannot be written") != std::string::npos);
    CHECK(fault_of_writing(folder / "").find("is a folder") != std::string::npos);
    CHECK(fault_of_writing("/dev/null") == "/dev/null: error: is no regular file");
    CHECK(folder.entries() == 0);
  }

  TEST_CASE("files - a path as seen from another file") {
    CHECK(path_beside("a/garden.yaml", "w.csv") == "a/w.csv");
    CHECK(path_beside("garden.yaml", "w.csv") == "w.csv");
    CHECK(path_beside("/x/garden.yaml", "../w.csv") == "/x/../w.csv");
    CHECK(path_beside("a/garden.yaml", "/data/w.csv") == "/data/w.csv");
    CHECK(path_beside("", "w.csv") == "w.csv");
  }
}

#include "runnel/garden/files.hpp"

#include <cerrno>
#include <cstddef>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <string>
#include <string_view>
#include <system_error>
#include <utility>

#include "runnel/units/finding.hpp"

namespace runnel {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t longest_file = 256U << 20U;

struct CloseFile {
  void operator()(std::FILE* file) const { static_cast<void>(std::fclose(file)); }
};
using File = std::unique_ptr<std::FILE, CloseFile>;

[[noreturn]] void unusable(const std::string& path, const Place& named_at, std::string says,
                           std::string mend = {}) {
  Finding finding{
      .kind = Finding::Kind::error, .at = named_at, .says = {}, .mend = std::move(mend)};
  // Where the path was not written in a file, it is itself the place.
  if (named_at.file.empty()) {
    finding.at.file = path;
    finding.says = std::move(says);
  } else {
    finding.says = path + ": " + says;
  }
  throw InputError(std::move(finding));
}

/// The system's own words for an error number.
std::string reason(int error_number) { return std::generic_category().message(error_number); }

void require_regular(const std::string& path, const Place& named_at,
                     const fs::file_status& status) {
  if (fs::is_directory(status)) unusable(path, named_at, "is a folder, not a file");
  if (!fs::is_regular_file(status)) unusable(path, named_at, "is no regular file");
}

/// Where the text has to go in the end: behind a symbolic link, the file it points at.
fs::path target_of(const std::string& path) {
  std::error_code fault;
  if (!fs::is_symlink(fs::symlink_status(path, fault))) return path;
  const fs::path target = fs::weakly_canonical(path, fault);
  return fault ? fs::path(path) : target;
}

/// A file of that name beside the target that nobody else has, open for writing.
std::pair<fs::path, File> temporary_beside(const fs::path& target, const std::string& shown) {
  constexpr int attempts = 100;
  for (int i = 0; i < attempts; ++i) {
    fs::path name = target;
    name += ".part" + std::to_string(i);
    errno = 0;
    File file(std::fopen(name.c_str(), "wbx"));
    if (file) return {std::move(name), std::move(file)};
    if (errno != EEXIST) unusable(shown, {}, "cannot be written: " + reason(errno));
  }
  unusable(shown, {},
           "cannot be written: " + std::to_string(attempts) + " unfinished files stand beside it",
           "delete those that end in .part and a number");
}

/// @return what went wrong, or nothing.
std::string write_and_close(File file, std::string_view text) {
  errno = 0;
  const bool written = std::fwrite(text.data(), 1, text.size(), file.get()) == text.size() &&
                       std::fflush(file.get()) == 0;
  const int write_fault = errno;
  if (!written) return "cannot be written: " + reason(write_fault);
  if (std::fclose(file.release()) != 0) return "cannot be written: " + reason(errno);
  return {};
}

/// Gives the finished file its name. @return what went wrong.
std::error_code publish(const fs::path& temporary, const fs::path& target, bool replace) {
  std::error_code fault;
  if (!replace) {
    // A link, unlike a rename, fails when somebody has made the file meanwhile.
    fs::create_hard_link(temporary, target, fault);
    if (!fault || fault == std::errc::file_exists) {
      std::error_code ignored;
      fs::remove(temporary, ignored);
      return fault;
    }
    // A file system without links: the check made before must do.
  }
  fs::rename(temporary, target, fault);
  return fault;
}

}  // namespace

std::string read_file(const std::string& path, const Place& named_at) {
  std::error_code fault;
  const fs::file_status status = fs::status(path, fault);
  if (status.type() == fs::file_type::not_found)
    unusable(path, named_at, "there is no such file", "check the name and the folder");
  if (fault) unusable(path, named_at, "cannot be read: " + fault.message());
  require_regular(path, named_at, status);

  errno = 0;
  const File file(std::fopen(path.c_str(), "rb"));
  if (!file) unusable(path, named_at, "cannot be read: " + reason(errno));
  std::string text;
  constexpr std::size_t block = 1U << 16U;
  std::size_t got = 0;
  do {
    // The size the system states is not asked for: it is 0 for files that the system makes up.
    const std::size_t before = text.size();
    text.resize(before + block);
    got = std::fread(text.data() + before, 1, block, file.get());
    text.resize(before + got);
    if (text.size() > longest_file) unusable(path, named_at, "is larger than 256 MiB");
  } while (got == block);
  if (std::ferror(file.get()) != 0) unusable(path, named_at, "cannot be read: " + reason(errno));
  return text;
}

void write_file(const std::string& path, std::string_view text, bool replace) {
  const fs::path target = target_of(path);
  std::error_code fault;
  const fs::file_status status = fs::status(target, fault);
  const bool exists = fs::exists(status);
  if (exists) {
    require_regular(path, {}, status);
    if (!replace) throw FileExists(path + " exists already");
  }
  auto [temporary, file] = temporary_beside(target, path);
  std::string says = write_and_close(std::move(file), text);
  if (says.empty()) {
    std::error_code ignored;
    if (exists) fs::permissions(temporary, status.permissions(), ignored);
    fault = publish(temporary, target, replace);
    if (!fault) return;
    if (fault == std::errc::file_exists) throw FileExists(path + " exists already");
    says = "cannot be written: " + fault.message();
  }
  fs::remove(temporary, fault);
  unusable(path, {}, std::move(says));
}

std::string path_beside(const std::string& beside, const std::string& written) {
  return (fs::path(beside).parent_path() / written).string();
}

}  // namespace runnel

#include "runnel/garden/files.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

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

/// Holds the folder against other programs of ours while it lives. The lock is the kernel's: it
/// ends with the program, and leaves no file behind.
class FolderLock {
 public:
  explicit FolderLock(const fs::path& folder)
      : folder_(open((folder.empty() ? fs::path(".") : folder).c_str(),
                     O_RDONLY | O_DIRECTORY | O_CLOEXEC)) {
    while (folder_ >= 0 && flock(folder_, LOCK_EX) != 0) {
      if (errno == EINTR) continue;
      const int fault = errno;
      close(folder_);
      folder_ = -1;
      errno = fault;
    }
    if (folder_ < 0) fault_ = errno;
  }
  FolderLock(const FolderLock&) = delete;
  FolderLock& operator=(const FolderLock&) = delete;
  ~FolderLock() {
    if (folder_ >= 0) close(folder_);
  }
  [[nodiscard]] bool held() const { return folder_ >= 0; }
  [[nodiscard]] int fault() const { return fault_; }  ///< error number when not held

 private:
  int folder_;
  int fault_ = 0;
};

constexpr int temporary_names = 100;

fs::path temporary_name(const fs::path& target, int i) {
  fs::path name = target;
  name += ".runnel-part" + std::to_string(i);
  return name;
}

/// While the folder is held, nobody is at work on these.
void remove_left_over(const fs::path& target) {
  std::error_code ignored;
  for (int i = 0; i < temporary_names; ++i)
    if (!fs::remove(temporary_name(target, i), ignored)) return;
}

/// A file of that name beside the target that nobody else has, open for writing.
std::pair<fs::path, File> temporary_beside(const fs::path& target, const std::string& shown) {
  for (int i = 0; i < temporary_names; ++i) {
    fs::path name = temporary_name(target, i);
    errno = 0;
    File file(std::fopen(name.c_str(), "wbx"));
    if (file) return {std::move(name), std::move(file)};
    if (errno != EEXIST) unusable(shown, {}, "cannot be written: " + reason(errno));
  }
  unusable(
      shown, {},
      "cannot be written: " + std::to_string(temporary_names) + " unfinished files stand beside it",
      "delete those that end in .runnel-part and a number");
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

/// write_file for whoever holds the folder, or could not get hold of it.
void write_held(const std::string& path, const fs::path& target, std::string_view text,
                bool replace) {
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
  std::error_code ignored;
  if (!fs::exists(fs::absolute(target, ignored).parent_path(), ignored))
    unusable(
        path, {},
        "cannot be written: there is no folder " + runnel::quoted(target.parent_path().string()),
        "make the folder first");
  // A folder that may be written in but not read cannot be held; the rename is whole all the same.
  const FolderLock lock(target.parent_path());
  if (lock.held()) remove_left_over(target);
  write_held(path, target, text, replace);
}

void change_file(const std::string& path,
                 const std::function<std::string(const std::optional<std::string>&)>& changed) {
  const fs::path target = target_of(path);
  const FolderLock lock(target.parent_path());
  if (!lock.held())
    unusable(path, {}, "cannot be written: its folder cannot be locked: " + reason(lock.fault()));
  remove_left_over(target);
  std::error_code fault;
  std::optional<std::string> before;
  if (fs::status(target, fault).type() != fs::file_type::not_found) before = read_file(path);
  write_held(path, target, changed(before), true);
}

std::string path_beside(const std::string& beside, const std::string& written) {
  return (fs::path(beside).parent_path() / written).string();
}

}  // namespace runnel

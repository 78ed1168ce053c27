#include <array>
#include <filesystem>
#include <optional>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "commands.hpp"
#include "runnel/garden/files.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

namespace fs = std::filesystem;

struct SampleFile {
  std::string_view name, text;
};

/// An invented garden to start with. The garden file comes last: where it is, all is.
constexpr std::array<SampleFile, 4> sample_files{{
#include "new_garden_files.inc"
}};

/// Writes the files one by one; what is not kept is taken back, but nothing that another wrote.
class Writing {
 public:
  explicit Writing(fs::path folder) : folder_(std::move(folder)) {}
  Writing(const Writing&) = delete;
  Writing& operator=(const Writing&) = delete;
  ~Writing() {
    if (!kept_) take_back();
  }

  /// @throws InputError
  void make_folder() {
    std::error_code fault;
    for (fs::path part = folder_; !part.empty() && !fs::exists(part, fault);
         part = part.parent_path())
      new_folders_.push_back(part);
    fs::create_directories(folder_, fault);
    if (!fault) return;
    throw InputError(Finding{.kind = Finding::Kind::error,
                             .at = {.file = folder_.string(), .line = 0, .column = 0, .key = {}},
                             .says = "the folder cannot be made: " + fault.message(),
                             .mend = "name another folder"});
  }

  /// @throws FileExists, InputError as write_file
  void write(const SampleFile& file, bool replace) {
    const std::string path = (folder_ / file.name).string();
    std::optional<std::string> before;
    std::error_code unknown;
    if (fs::exists(path, unknown)) before = replace ? read_file(path) : "";
    write_file(path, file.text, replace);
    written_.push_back({path, before});
  }

  void keep() { kept_ = true; }

 private:
  struct Written {
    std::string path;
    std::optional<std::string> before;
  };

  void take_back() const noexcept {
    std::error_code fault;
    for (const Written& file : written_) {
      try {
        if (file.before) write_file(file.path, *file.before, true);
      } catch (const std::exception&) {
        continue;  // what kept the new one from being written may keep the old one, too
      }
      if (!file.before) fs::remove(file.path, fault);
    }
    for (const fs::path& folder : new_folders_) fs::remove(folder, fault);  // only when empty
  }

  fs::path folder_;
  std::vector<fs::path> new_folders_;  ///< innermost first
  std::vector<Written> written_;
  bool kept_ = false;
};

void refuse_existing(const fs::path& folder) {
  std::error_code unknown;
  for (const SampleFile& file : sample_files)
    if (const fs::path path = folder / file.name; fs::exists(path, unknown))
      throw FileExists(path.string() + " exists already");
}

/// As a shell reads it.
std::string as_typed(const std::string& path) {
  constexpr std::string_view plain =
      "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-./";
  if (path.find_first_not_of(plain) == std::string::npos) return path;
  std::string safe = "'";
  for (const char c : path) safe += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return printable(safe + "'");
}

}  // namespace

int new_garden(const NewOptions& options, const Streams& streams) {
  const fs::path folder = fs::path(options.folder).lexically_normal();
  if (!options.replace) refuse_existing(folder);
  Writing writing(folder);
  writing.make_folder();
  for (const SampleFile& file : sample_files) writing.write(file, options.replace);
  writing.keep();
  const std::string garden = as_typed((folder / "garden.yaml").lexically_normal().string());
  streams.out << "An invented garden is written, with weather of July 2027 to try it with: "
              << garden << "\n\nNext, its programme:\n  runnel plan " << garden
              << "\n\nThen put your own figures in: the file says where to find each.\n"
                 "  runnel check "
              << garden << "   says what is wrong or doubtful\n";
  return done;
}

}  // namespace runnel::cli

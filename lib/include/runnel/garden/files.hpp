#pragma once

#include <functional>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>

#include "runnel/units/finding.hpp"

namespace runnel {

/// The whole file. @throws InputError when it is not there, is no regular file, is over 256 MiB or
/// cannot be read; `named_at` says where its name was written (empty file name: on the command
/// line).
[[nodiscard]] std::string read_file(const std::string& path, const Place& named_at = {});

/// An existing file stands where one was to be written, and replacing it was not asked for.
class FileExists : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Writes the file whole or not at all, even when the program is killed meanwhile (a temporary file
/// beside it, then renamed; what a program that was killed left of one is removed). A symbolic link
/// stays, and what it points at is written; a file that is replaced keeps its permissions.
/// @throws FileExists without `replace` when it is there; InputError when it cannot be written.
void write_file(const std::string& path, std::string_view text, bool replace);

/// Writes what `changed` makes of the file's present text (nothing: there is no such file), whole
/// or not at all as write_file does. Programs that change or write a file of that folder do so one
/// after the other (flock on the folder, which the system lets go of when a program ends however
/// it ends), so that none overwrites what another has just written.
/// @throws InputError when the file cannot be read, written or locked; what `changed` throws.
void change_file(const std::string& path,
                 const std::function<std::string(const std::optional<std::string>&)>& changed);

/// `written` as seen from the folder of `beside` ("a/garden.yaml", "w.csv" -> "a/w.csv"); absolute
/// paths stay.
[[nodiscard]] std::string path_beside(const std::string& beside, const std::string& written);

}  // namespace runnel

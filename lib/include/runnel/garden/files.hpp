#pragma once

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

/// Writes the file whole or not at all (a temporary file beside it, then renamed). A symbolic link
/// stays, and what it points at is written; a file that is replaced keeps its permissions.
/// @throws FileExists without `replace` when it is there; InputError when it cannot be written.
void write_file(const std::string& path, std::string_view text, bool replace);

/// `written` as seen from the folder of `beside` ("a/garden.yaml", "w.csv" -> "a/w.csv"); absolute
/// paths stay.
[[nodiscard]] std::string path_beside(const std::string& beside, const std::string& written);

}  // namespace runnel

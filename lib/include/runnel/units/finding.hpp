#pragma once

#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace runnel {

/// Where in the user's input something stands. Lines and columns count from 1; 0 means "not known"
/// (line) or "the whole line" (column). `key` is the dotted path of a garden file's entry, such as
/// `zones.2.area`, or empty.
struct Place {
  std::string file;
  int line = 0;
  int column = 0;
  std::string key;
};

/// A place in a file of which no more is known than the line, if that (0).
[[nodiscard]] inline Place in_file(std::string file, int line = 0) {
  return {.file = std::move(file), .line = line, .column = 0, .key = {}};
}

/// One thing to say about an input: what is so, and how to mend it.
struct Finding {
  /// How much it matters.
  enum class Kind {
    error,   ///< the input cannot be used
    doubt,   ///< usable, but probably not what was meant
    remark,  ///< worth knowing: a default taken, a value estimated
  };
  Kind kind = Kind::error;
  Place at;
  std::string says;
  std::string mend;  ///< how to put it right; empty where there is nothing to do
};

/// "file:line:column: error: key: what it says (how to mend it)", leaving out what is not known.
[[nodiscard]] std::string to_text(const Finding& finding);

/// The user's own text between double quotes, for use in a message: cut to a length that fits one,
/// without control characters (a terminal would obey them).
[[nodiscard]] std::string quoted(std::string_view text);

/// Whether one of them is an error.
[[nodiscard]] bool has_error(const std::vector<Finding>& findings);

/// What a reader returns: all findings at once, and a value exactly when none of them is an error.
template <class T>
struct Read {
  std::optional<T> value;
  std::vector<Finding> findings;
};

/// Unusable input. Carries every finding of the reader that gave up.
class InputError : public std::runtime_error {
 public:
  /// what() has each finding on a line of its own.
  explicit InputError(std::vector<Finding> findings);
  /// Of one finding.
  explicit InputError(Finding finding);
  /// All of them, doubts and remarks too.
  [[nodiscard]] const std::vector<Finding>& findings() const noexcept { return findings_; }

 private:
  std::vector<Finding> findings_;
};

/// The value, with the findings moved to the end of `findings`.
/// @throws InputError when there is no value.
template <class T>
[[nodiscard]] T value_or_throw(Read<T>&& read, std::vector<Finding>& findings) {
  if (!read.value) throw InputError(std::move(read.findings));
  for (auto& finding : read.findings) findings.push_back(std::move(finding));
  return *std::move(read.value);
}

}  // namespace runnel

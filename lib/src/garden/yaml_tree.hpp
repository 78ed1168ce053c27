#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/finding.hpp"

namespace runnel {

/// Deepest nesting read; a garden file needs six levels.
inline constexpr int deepest_yaml = 64;
/// Longest text read; a garden of a hundred zones takes some 60 kB.
inline constexpr std::size_t longest_yaml = 1U << 20U;

struct YamlEntry;

/// A YAML text as a tree: texts stay as written, so that the units layer alone decides what a
/// number is.
struct YamlNode {
  enum class Kind {
    null,  ///< nothing written
    scalar,
    sequence,
    map,
    broken,  ///< stands for something already reported: to be passed over
  };
  Kind kind = Kind::null;
  int line = 0, column = 0;        ///< from 1; the column in characters
  std::string text;                ///< of a scalar
  std::vector<YamlNode> items;     ///< of a sequence
  std::vector<YamlEntry> entries;  ///< of a map, in order, each key once
};

struct YamlEntry {
  std::string key;
  int line = 0, column = 0;  ///< of the key
  YamlNode value;
};

/// Reads one YAML document. Errors: a text that is empty, too long, not UTF-8 or with control
/// characters; whatever is no YAML; nesting deeper than `deepest_yaml`; aliases and tags (the first
/// of each); a key twice, or one that is no plain text; a second document. Aliases, repeated keys
/// and the like leave a tree that is still of use.
/// @param name the file's name as the findings shall show it.
struct YamlText {
  YamlNode root;
  bool whole = false;  ///< the text was read to its end; else `root` is of no use
  std::vector<Finding> findings;
};
[[nodiscard]] YamlText parse_yaml(std::string_view text, std::string_view name);

/// Dotted paths of all entries, those of a list counted from 1: "zones.2.soil"; sorted.
[[nodiscard]] std::vector<std::string> paths_of(const YamlNode& root);

}  // namespace runnel

#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/calendar.hpp"
#include "runnel/units/finding.hpp"
#include "runnel/units/unit_table.hpp"
#include "yaml_tree.hpp"

namespace runnel {

/// Gathers what there is to say about one file.
class FindingList {
 public:
  explicit FindingList(std::string_view file) : file_(file) {}
  void add(Finding::Kind kind, Place at, std::string says, std::string mend = {});
  void add(std::vector<Finding> findings);
  /// Takes back that the entry of that key is missing, or not stated: it stands there misspelt.
  void take_back_absence(const std::string& key);
  [[nodiscard]] const std::string& file() const { return file_; }
  [[nodiscard]] bool any_error() const { return has_error(findings_); }
  /// In order of line and column; at most a hundred errors.
  [[nodiscard]] std::vector<Finding> take();

 private:
  std::string file_;
  std::vector<Finding> findings_;
};

/// Both ends are allowed.
struct Range {
  double least, most;
};

class YamlMap;

/// One entry of a map or list, written or absent. Every reading function gives nothing when the
/// entry is absent or faulty; a fault is reported once, when it is read.
class YamlField {
 public:
  /// @param node nullptr when absent; `at` then is the place of the map it should stand in.
  YamlField(FindingList& list, const YamlNode* node, Place at, std::string name);

  /// What stands there as one word or text; empty when nothing does, or a list or map.
  [[nodiscard]] std::string_view word() const;
  /// Whether something stands there, be it right or wrong.
  [[nodiscard]] bool written() const { return node_ != nullptr; }
  [[nodiscard]] bool is_map() const;
  [[nodiscard]] bool is_list() const;
  /// Of the key, or of a list's entry.
  [[nodiscard]] const Place& place() const { return at_; }
  /// Of what is written there; of the key when nothing is.
  [[nodiscard]] Place value_place() const;

  /// The same entry as if nothing stood there: it has been refused already.
  [[nodiscard]] YamlField left_out() const { return {*list_, nullptr, at_, name_}; }

  /// Reports the entry as missing. @param example of the entry as it could be written.
  YamlField& needed(std::string_view example);
  /// Remarks what is taken when the entry is absent.
  YamlField& or_else(const std::string& taken);

  [[nodiscard]] std::optional<std::string> text() const;
  /// A number without a unit.
  [[nodiscard]] std::optional<double> number(const Range& range) const;
  [[nodiscard]] std::optional<int> whole_number(int least, int most) const;
  /// In base units of the dimension, as the range.
  [[nodiscard]] std::optional<double> measure(Dimension dimension, const Range& range) const;
  [[nodiscard]] std::optional<Date> date() const;
  [[nodiscard]] std::optional<bool> yes_or_no() const;
  /// One of these words, without regard to case. @param what "density", for the message.
  [[nodiscard]] std::optional<std::string> one_of(std::span<const std::string_view> words,
                                                  std::string_view what) const;
  [[nodiscard]] std::vector<YamlField> list() const;
  /// @param usual_key the entry that is meant where a word stands in the map's place: "texture"
  [[nodiscard]] YamlMap map(std::string_view usual_key = {}) const;
  /// The same. @param instead what the braces should hold: "texture: loam"; empty: not known
  [[nodiscard]] YamlMap map_or_mend(const std::string& instead) const;

  /// At the value, not the key.
  void error(std::string says, std::string mend = {}) const;
  void doubt(std::string says, std::string mend = {}) const;

 private:
  [[nodiscard]] std::optional<std::string_view> scalar(std::string_view kind) const;
  FindingList* list_;
  const YamlNode* node_;
  Place at_;
  std::string name_;  // the key, for messages
};

/// The entries of a map by key. Keys asked for are known; `refuse_others` reports the rest.
class YamlMap {
 public:
  /// @param node nullptr: nothing can be asked for, and nothing is reported.
  YamlMap(FindingList& list, const YamlNode* node, Place at);

  /// Whether there is a map at all: else whatever is missing has been reported.
  [[nodiscard]] bool readable() const { return node_ != nullptr; }
  [[nodiscard]] const Place& place() const { return at_; }
  [[nodiscard]] YamlField field(std::string_view key);
  [[nodiscard]] bool has(std::string_view key) const;
  void refuse_others() const;

  /// Every entry, for maps in which the keys are not known beforehand.
  struct Named {
    std::string key;
    YamlField field;
  };
  [[nodiscard]] std::vector<Named> all() const;

 private:
  [[nodiscard]] Place place_of(const YamlEntry& entry) const;
  FindingList* list_;
  const YamlNode* node_;
  Place at_;
  std::vector<std::string_view> known_;
};

}  // namespace runnel

#include "yaml_tree.hpp"

#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/mark.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <cstddef>
#include <map>
#include <optional>
#include <sstream>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "runnel/units/finding.hpp"
#include "runnel/units/plain_text.hpp"
#include "yaml_faults.hpp"

namespace runnel {
namespace {

/// Nobody mends more at a time, and a hostile file must not print a million lines.
constexpr std::size_t most_findings = 100;

/// Ends the reading of a text that is not worth going on with.
struct GiveUp {};

/// Builds the tree from the parser's events. A map's value arrives after its key; until then the
/// key waits in its frame.
class TreeBuilder final : public YAML::EventHandler {
 public:
  TreeBuilder(const YamlLines& lines, std::string_view name) : lines_(lines), name_(name) {}

  void OnDocumentStart(const YAML::Mark& mark) override {
    if (begun_) {
      const TextPosition at = lines_.position(mark);
      report(at, "a second document begins here",
             "a garden file is one document: is this line indented too little?");
      throw GiveUp{};
    }
    begun_ = true;
  }
  void OnDocumentEnd() override {}

  void OnNull(const YAML::Mark& mark, YAML::anchor_t) override {
    leaf(mark, YamlNode::Kind::null, {});
  }

  void OnAnchor(const YAML::Mark& mark, const std::string& /*name*/) override {
    refuse_reference(mark);
  }

  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override {
    refuse_reference(mark);
    leaf(mark, YamlNode::Kind::broken, {});
  }

  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                const std::string& value) override {
    refuse_tag(mark, tag);
    last_scalar_ = mark;
    leaf(mark, YamlNode::Kind::scalar, value);
  }

  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                       YAML::EmitterStyle::value) override {
    open(mark, tag, YamlNode::Kind::sequence);
  }
  void OnSequenceEnd() override { close(); }

  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                  YAML::EmitterStyle::value) override {
    open(mark, tag, YamlNode::Kind::map);
  }
  void OnMapEnd() override { close(); }

  /// yaml-cpp takes a quote that is never closed for closed at the end of the text: only the last
  /// scalar can be such.
  [[nodiscard]] bool refuse_open_quote() {
    if (last_scalar_.is_null() || !lines_.quote_stays_open(last_scalar_)) return false;
    report(lines_.position(last_scalar_), "a quote is not closed", "write the closing quote");
    return true;
  }

  [[nodiscard]] YamlNode take_root() { return std::move(root_); }
  [[nodiscard]] std::vector<Finding>& findings() { return findings_; }

 private:
  struct Frame {
    YamlNode node;
    std::optional<YamlEntry> key;  // of a map: read, its value not yet
    bool repeated_key = false;
    std::map<std::string, int> lines_of_keys;
  };

  void report(TextPosition at, std::string says, std::string mend) {
    if (findings_.size() >= most_findings) throw GiveUp{};
    findings_.push_back(yaml_error(name_, at, std::move(says), std::move(mend)));
  }

  void refuse_reference(const YAML::Mark& mark) {
    if (!std::exchange(reference_seen_, true)) {
      report(lines_.position(mark),
             "parts of the file that are named (\"&\") and referred to (\"*\") are not read",
             "write the value out in each place");
    }
  }

  void refuse_tag(const YAML::Mark& mark, const std::string& tag) {
    // yaml-cpp says "?" for a plain and "!" for a quoted text without a tag.
    if (tag.empty() || tag == "?" || tag == "!") return;
    if (!std::exchange(tag_seen_, true)) {
      report(lines_.position(mark), "tags such as " + quoted(tag) + " are not read",
             "leave it out");
    }
  }

  void open(const YAML::Mark& mark, const std::string& tag, YamlNode::Kind kind) {
    const TextPosition at = lines_.position(mark);
    if (static_cast<int>(frames_.size()) >= deepest_yaml) {
      report(at, "the file nests too deep",
             "is a closing bracket missing, or is each line indented further than the one before?");
      throw GiveUp{};
    }
    refuse_tag(mark, tag);
    frames_.push_back({.node = {.kind = kind,
                                .line = at.line,
                                .column = at.column,
                                .text = {},
                                .items = {},
                                .entries = {}},
                       .key = std::nullopt,
                       .lines_of_keys = {}});
  }

  void close() {
    YamlNode node = std::move(frames_.back().node);
    frames_.pop_back();
    add(std::move(node));
  }

  void leaf(const YAML::Mark& mark, YamlNode::Kind kind, std::string text) {
    const TextPosition at = lines_.position(mark);
    add({.kind = kind,
         .line = at.line,
         .column = at.column,
         .text = std::move(text),
         .items = {},
         .entries = {}});
  }

  void add(YamlNode node) {
    if (frames_.empty()) {
      root_ = std::move(node);
      return;
    }
    Frame& frame = frames_.back();
    if (frame.node.kind == YamlNode::Kind::sequence) {
      frame.node.items.push_back(std::move(node));
    } else if (!frame.key) {
      take_key(frame, std::move(node));
    } else {
      take_value(frame, std::move(node));
    }
  }

  void take_key(Frame& frame, YamlNode node) {
    const TextPosition at{.line = node.line, .column = node.column};
    frame.key = YamlEntry{
        .key = std::move(node.text), .line = node.line, .column = node.column, .value = {}};
    frame.repeated_key = false;
    if (node.kind == YamlNode::Kind::broken) return;
    if (node.kind != YamlNode::Kind::scalar) {
      report(at, "a key must be a plain text", "write \"key: value\"");
      return;
    }
    const auto [first, is_new] = frame.lines_of_keys.emplace(frame.key->key, node.line);
    if (is_new) return;
    frame.repeated_key = true;
    report(at,
           "the key " + quoted(frame.key->key) + " stands twice, first on line " +
               std::to_string(first->second),
           "keep one of the two");
  }

  static void take_value(Frame& frame, YamlNode node) {
    // yaml-cpp marks an absent value at whatever follows it.
    if (node.kind == YamlNode::Kind::null) {
      node.line = frame.key->line;
      node.column = frame.key->column;
    }
    frame.key->value = std::move(node);
    if (!frame.repeated_key) frame.node.entries.push_back(*std::move(frame.key));
    frame.key.reset();
  }

  const YamlLines& lines_;
  std::string_view name_;
  std::vector<Frame> frames_;
  YamlNode root_;
  YAML::Mark last_scalar_ = YAML::Mark::null_mark();
  std::vector<Finding> findings_;
  bool begun_ = false, reference_seen_ = false, tag_seen_ = false;
};

}  // namespace

YamlText parse_yaml(std::string_view text, std::string_view name) {
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  YamlText result;
  if (auto fault = unreadable_yaml(text, name)) {
    result.findings.push_back(*std::move(fault));
    return result;
  }
  const YamlLines lines(text);
  TreeBuilder builder(lines, name);
  try {
    std::istringstream stream{std::string(text)};
    YAML::Parser parser(stream);
    while (parser.HandleNextDocument(builder)) {
    }
    result.whole = !builder.refuse_open_quote();
  } catch (const YAML::Exception& fault) {
    builder.findings().push_back(explained(fault, lines, name));
  } catch (const GiveUp&) {
    // Already reported.
  }
  result.root = builder.take_root();
  result.findings = std::move(builder.findings());
  return result;
}

namespace {

void add_paths(const YamlNode& node, const std::string& path, std::vector<std::string>& paths) {
  const auto add = [&](const std::string& key, const YamlNode& below) {
    const std::string& whole = paths.emplace_back(path.empty() ? key : path + "." + key);
    add_paths(below, std::string(whole), paths);
  };
  for (const YamlEntry& entry : node.entries) add(entry.key, entry.value);
  for (std::size_t i = 0; i < node.items.size(); ++i) add(std::to_string(i + 1), node.items[i]);
}

}  // namespace

std::vector<std::string> paths_of(const YamlNode& root) {
  std::vector<std::string> paths;
  add_paths(root, {}, paths);
  std::sort(paths.begin(), paths.end());
  return paths;
}

}  // namespace runnel

#include <doctest/doctest.h>

#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/finding.hpp"
#include "yaml_tree.hpp"

using runnel::parse_yaml;
using runnel::to_text;
using runnel::YamlNode;
using runnel::YamlText;
using Kind = runnel::YamlNode::Kind;

namespace {

YamlNode read(std::string_view text) {
  const YamlText yaml = parse_yaml(text, "g.yaml");
  REQUIRE(yaml.whole);
  REQUIRE(yaml.findings.empty());
  return yaml.root;
}

/// The one finding that the text gives, as it is printed.
std::string fault(std::string_view text) {
  const YamlText yaml = parse_yaml(text, "g.yaml");
  REQUIRE(yaml.findings.size() == 1);
  return to_text(yaml.findings[0]);
}

bool begins(const std::string& text, std::string_view start) {
  CAPTURE(text);
  CAPTURE(start);
  return text.starts_with(start);
}

std::string repeated(std::string_view part, int times) {
  std::string text;
  for (int i = 0; i < times; ++i) text += part;
  return text;
}

}  // namespace

TEST_SUITE("garden") {
  TEST_CASE("yaml - texts stay as written") {
    const YamlNode root = read("a: 010\nb: .nan\nc: \"18 m2\"\nd: yes\ne: 04:30-08:00\nf: 3 %\n");
    REQUIRE(root.kind == Kind::map);
    REQUIRE(root.entries.size() == 6);
    CHECK(root.entries[0].value.text == "010");
    CHECK(root.entries[1].value.text == ".nan");
    CHECK(root.entries[2].value.text == "18 m2");
    CHECK(root.entries[3].value.text == "yes");
    CHECK(root.entries[4].value.text == "04:30-08:00");
    CHECK(root.entries[5].value.text == "3 %");
  }

  TEST_CASE("yaml - block and flow style give the same tree, with places") {
    for (const std::string_view text : {"a:\n  - x: 1\n    y:\n  - z\n", "a: [{x: 1, y: }, z]"}) {
      const YamlNode root = read(text);
      REQUIRE(root.entries.size() == 1);
      const YamlNode& list = root.entries[0].value;
      REQUIRE(list.kind == Kind::sequence);
      REQUIRE(list.items.size() == 2);
      REQUIRE(list.items[0].entries.size() == 2);
      CHECK(list.items[0].entries[0].key == "x");
      CHECK(list.items[0].entries[0].value.text == "1");
      CHECK(list.items[0].entries[1].value.kind == Kind::null);
      CHECK(list.items[1].text == "z");
    }
    const YamlNode root = read("a:\n  - x: 1\n    y:\n  - z\n");
    const YamlNode& item = root.entries[0].value.items[0];
    CHECK(item.line == 2);
    CHECK(item.column == 5);
    CHECK(item.entries[0].value.line == 2);
    CHECK(item.entries[0].value.column == 8);
    // What is not written stands where its key does.
    CHECK(item.entries[1].value.line == 3);
    CHECK(item.entries[1].value.column == 5);
  }

  TEST_CASE("yaml - columns count characters, lines end with LF or CRLF, a BOM is no text") {
    CHECK(read("{\"üü\": x}").entries[0].value.column == 8);
    CHECK(read("a: 1\r\nb: 2\r\n").entries[1].value.line == 2);
    CHECK(read("a: 1\r\nb: 2\r\n").entries[0].value.text == "1");
    const YamlNode root = read(
        "\xEF\xBB\xBF"
        "a: 1");
    CHECK(root.entries[0].key == "a");
    CHECK(root.entries[0].column == 1);
  }

  TEST_CASE("yaml - nothing at all is null") {
    CHECK(read("").kind == Kind::null);
    CHECK(read("# only a comment\n").kind == Kind::null);
    CHECK(read("---\n").kind == Kind::null);
  }

  TEST_CASE("yaml - a key twice names both lines, the first stays, and the rest is read") {
    const YamlText yaml = parse_yaml("a: 1\nb: 2\na: {x: 3}\nc: 4\n", "g.yaml");
    REQUIRE(yaml.findings.size() == 1);
    CHECK(to_text(yaml.findings[0]) ==
          "g.yaml:3:1: error: the key \"a\" stands twice, first on line 1 (keep one of the two)");
    CHECK(yaml.whole);
    REQUIRE(yaml.root.entries.size() == 3);
    CHECK(yaml.root.entries[0].value.text == "1");
    CHECK(yaml.root.entries[2].key == "c");
  }

  TEST_CASE("yaml - what a garden file may not hold") {
    CHECK(begins(fault("a: &x {b: 1}\nc: *x\nd: *x\n"), "g.yaml:1:4: error: parts of the file"));
    CHECK(begins(fault("a: &x 1\n"), "g.yaml:1:4: error: parts of the file"));
    CHECK(begins(fault("a: *nowhere\n"), "g.yaml:1:4: error: this is not YAML: references"));
    CHECK(begins(fault("a: !!float 3\nb: !t x\n"), "g.yaml:1:4: error: tags"));
    CHECK(begins(fault("a: !t {b: 1}\n"), "g.yaml:1:4: error: tags"));
    CHECK(begins(fault("a: !t [1]\n"), "g.yaml:1:4: error: tags"));
    CHECK(begins(fault("[a, b]: c\n"), "g.yaml:1:1: error: a key must be a plain text"));
    CHECK(begins(fault("a: 1\n---\nb: 2\n"), "g.yaml:2:1: error: a second document"));
    CHECK(begins(fault("- a\nb: 1\n"), "g.yaml:2:1: error: a second document"));
  }

  TEST_CASE("yaml - what is no YAML is said with its place and a way out") {
    CHECK(begins(fault("a:\n\tb: 1\n"), "g.yaml:2:1: error: a tab in the indentation"));
    CHECK(begins(fault("\ta: 1\n"), "g.yaml:1:1: error: a tab in the indentation"));
    CHECK(begins(fault("a: 1\n  b: 2\n"), "g.yaml:2:4: error: this is not YAML: a colon"));
    CHECK(begins(fault("ü: 1\n  ü: 2\n"), "g.yaml:2:4: error: this is not YAML: a colon"));
    CHECK(begins(fault("a: {b: 1} c\n"), "g.yaml:1:11: error: this is not YAML: this does not"));
    CHECK(begins(fault("a: [1, 2\nb: 3\n"), "g.yaml:2:2: error: this is not YAML: a \"[\" before"));
    CHECK(begins(fault("a: 1\n]\n"), "g.yaml:2:1: error: this is not YAML: a closing bracket"));
    CHECK(begins(fault("a: \"x"), "g.yaml:1:6: error: this is not YAML: a quote is not closed"));
    // yaml-cpp lets these pass, and the rest of the file with them.
    CHECK(begins(fault("a: \"x\nb: 1\n"), "g.yaml:1:4: error: a quote is not closed"));
    CHECK(begins(fault("a: 'it''s\nb: 1\n"), "g.yaml:1:4: error: a quote is not closed"));
    CHECK(begins(fault("a: \"x\\\"\nb: 1\n"), "g.yaml:1:4: error: a quote is not closed"));
    CHECK(read("a: 'it''s'").entries[0].value.text == "it's");
    CHECK(read("a: \"x\\\"\"\n").entries[0].value.text == "x\"");
    CHECK(begins(fault("a: @b\n"), "g.yaml:1:4: error: this is not YAML: a text cannot begin"));
    CHECK_FALSE(parse_yaml("a: @b\n", "").whole);
  }

  TEST_CASE("yaml - what is no text never reaches the parser") {
    CHECK(begins(fault(std::string("a: 1\nb: \0", 9)), "g.yaml:2:4: error: this is no text"));
    CHECK(begins(fault("a: \xFF\n"), "g.yaml:1:4: error: this is no text"));
    CHECK(begins(fault(std::string("\xFF\xFE"
                                   "a\0:\0",
                                   6)),
                 "g.yaml:1:1: error: this is no text"));
    // yaml-cpp's own sign for the end of the text.
    CHECK(begins(fault("a: 1\nb: \x04\nc: 2\n"), "g.yaml:2:4: error: a control character"));
    CHECK(begins(fault("a: \x7F\n"), "g.yaml:1:4: error: a control character"));
    CHECK(begins(fault(repeated("# abcdef\n", 120'000)), "g.yaml: error: the file is larger"));
  }

  TEST_CASE("yaml - deep nesting is an error, not a crash") {
    const auto too_deep = [](const std::string& text) {
      const std::string says = fault(text);
      CAPTURE(says);
      return says.find("nests too deep") != std::string::npos;
    };
    CHECK(too_deep(repeated("[", 100'000)));
    CHECK(too_deep(repeated("{", 100'000)));
    CHECK(too_deep(repeated("{a: ", 100'000)));
    CHECK(too_deep(repeated("[", 100'000) + repeated("]", 100'000)));
    CHECK(too_deep("a: " + repeated("{a: ", 100'000) + "1" + repeated("}", 100'000)));
    CHECK(too_deep(repeated("- ", 100'000) + "a"));
    CHECK(too_deep(repeated("? ", 100'000) + "a"));
    std::string indented;
    for (int i = 0; i < 1400; ++i)
      indented += std::string(static_cast<std::size_t>(i), ' ') + "a:\n";
    CHECK(too_deep(indented));

    // The deepest that is read, and one more.
    CHECK(read(repeated("[", 64) + repeated("]", 64)).kind == Kind::sequence);
    CHECK(
        begins(fault(repeated("[", 65) + repeated("]", 65)), "g.yaml:1:65: error: the file nests"));
  }

  TEST_CASE("yaml - a bomb of references gives one error") {
    std::string bomb = "a0: &a0 [x, x]\n";
    for (int i = 1; i < 40; ++i) {
      const std::string last = std::to_string(i - 1);
      const std::string name = std::to_string(i);
      bomb += "a" + name + ": &a" + name + " [*a" + last + ", *a" + last + "]\n";
    }
    const YamlText yaml = parse_yaml(bomb, "g.yaml");
    REQUIRE(yaml.findings.size() == 1);
    CHECK(yaml.findings[0].at.line == 1);
    CHECK(yaml.root.entries.size() == 40);
    CHECK(yaml.root.entries[39].value.items[1].kind == Kind::broken);
  }

  TEST_CASE("yaml - many keys take no time, many faults are cut off at a hundred") {
    std::string keys;
    for (int i = 0; i < 90'000; ++i) keys += "k" + std::to_string(i) + ": 1\n";
    CHECK(read(keys).entries.size() == 90'000);
    // All of it on one line.
    CHECK(read("[" + repeated("ü, ", 200'000) + "]").items[199'999].column == 599'999);
    CHECK(parse_yaml(repeated("a: 1\n", 100'000), "g.yaml").findings.size() == 100);
  }
}

#include "runnel/units/csv.hpp"

#include <doctest/doctest.h>

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

using runnel::CsvCell;
using runnel::CsvTable;
using runnel::Finding;
using runnel::Read;
using runnel::split_csv;

namespace {

std::vector<std::string> texts(std::span<const CsvCell> row) {
  std::vector<std::string> result;
  for (const CsvCell& cell : row) result.emplace_back(cell.text);
  return result;
}

using Words = std::vector<std::string>;

CsvTable table_of(std::string_view text) {
  Read<CsvTable> read = split_csv(text, "t.csv");
  for (const Finding& finding : read.findings) FAIL_CHECK(runnel::to_text(finding));
  REQUIRE(read.value.has_value());
  return std::move(*read.value);
}

/// All findings, one a line.
std::string faults_of(std::string_view text) {
  const Read<CsvTable> read = split_csv(text, "t.csv");
  CHECK(read.value.has_value() == !runnel::has_error(read.findings));
  std::string result;
  for (const Finding& finding : read.findings) {
    if (!result.empty()) result += '\n';
    result += runnel::to_text(finding);
  }
  return result;
}

}  // namespace

TEST_SUITE("units") {
  TEST_CASE("csv - a plain table") {
    const CsvTable table = table_of("date,tmax\n2027-06-15,31.5\n2027-06-16, 30 \n");
    CHECK(texts(table.header()) == Words{"date", "tmax"});
    REQUIRE(table.rows() == 2);
    CHECK(texts(table.row(0)) == Words{"2027-06-15", "31.5"});
    CHECK(texts(table.row(1)) == Words{"2027-06-16", "30"});
    CHECK(table.separator() == ',');
    CHECK_FALSE(table.decimal_comma());
    CHECK(table.column("tmax") == 1);
    CHECK(table.column("Tmax") == -1);
    CHECK(table.column("") == -1);
    CHECK(table.row(1)[1].line == 3);
    CHECK(table.row(1)[1].column == 13);
  }

  TEST_CASE("csv - line ends, byte order mark and a missing last line end") {
    for (const std::string_view text :
         {"a,b\n1,2\n3,4\n", "a,b\r\n1,2\r\n3,4\r\n", "a,b\r1,2\r3,4\r", "a,b\n1,2\n3,4",
          "\xEF\xBB\xBF"
          "a,b\n1,2\r\n3,4\r",
          "\n\n  \na,b\n\n1,2\n \t \n3,4\n\n"}) {
      CAPTURE(text);
      const CsvTable table = table_of(text);
      CHECK(texts(table.header()) == Words{"a", "b"});
      REQUIRE(table.rows() == 2);
      CHECK(texts(table.row(0)) == Words{"1", "2"});
      CHECK(texts(table.row(1)) == Words{"3", "4"});
    }
    const CsvTable table = table_of(
        "\xEF\xBB\xBF"
        "a,b\r1,2\r\n\n3,4");
    CHECK(table.header()[0].column == 1);
    CHECK(table.row(0)[0].line == 2);
    CHECK(table.row(1)[0].line == 4);
  }

  TEST_CASE("csv - a header alone, and an empty table") {
    const CsvTable table = table_of("a,b\n");
    CHECK(texts(table.header()) == Words{"a", "b"});
    CHECK(table.rows() == 0);
    const CsvTable nothing;
    CHECK(nothing.header().empty());
    CHECK(nothing.rows() == 0);
    CHECK(nothing.column("a") == -1);
  }

  TEST_CASE("csv - the separator is the one of the header line") {
    const CsvTable semicolons = table_of("a;b, or c\n0,5;1\n");
    CHECK(semicolons.separator() == ';');
    CHECK(semicolons.decimal_comma());
    CHECK(texts(semicolons.row(0)) == Words{"0,5", "1"});

    const CsvTable tabs = table_of("a\tb\tc\n1\t\t3\n\t\t \"x\ty\" \n\t#2\t\n");
    CHECK(tabs.separator() == '\t');
    CHECK_FALSE(tabs.decimal_comma());
    REQUIRE(tabs.rows() == 3);
    CHECK(texts(tabs.row(0)) == Words{"1", "", "3"});
    CHECK(texts(tabs.row(1)) == Words{"", "", "x\ty"});
    CHECK(texts(tabs.row(2)) == Words{"", "#2", ""});

    // Quoted separators do not count.
    const CsvTable quoted = table_of("\"a;b;c\",d\n1,2\n");
    CHECK(quoted.separator() == ',');
    CHECK(texts(quoted.header()) == Words{"a;b;c", "d"});
    CHECK(table_of("a\n1\n").separator() == ',');
  }

  TEST_CASE("csv - quotes") {
    const CsvTable table =
        table_of("name,note\n\"Bed, south\",\"two\nlines\"\n \"a \"\"b\"\"\" , 5\" pot\n\"\",x\n");
    REQUIRE(table.rows() == 3);
    CHECK(texts(table.row(0)) == Words{"Bed, south", "two\nlines"});
    CHECK(texts(table.row(1)) == Words{"a \"b\"", "5\" pot"});
    CHECK(texts(table.row(2)) == Words{"", "x"});
    // A field counts from its quote, and a line end inside quotes counts as a line.
    CHECK(table.row(0)[1].line == 2);
    CHECK(table.row(0)[1].column == 14);
    CHECK(table.row(1)[0].line == 4);
    CHECK(table.row(1)[0].column == 2);
    CHECK(table.row(2)[1].line == 5);
  }

  TEST_CASE("csv - a field after a quoted line end counts from that line") {
    const CsvTable table = table_of("a,b\n\"x\r\nyz\",3\n\"\r\r\",4\n");
    CHECK(table.row(0)[1].line == 3);
    CHECK(table.row(0)[1].column == 5);
    CHECK(table.row(1)[1].line == 6);
    CHECK(table.row(1)[1].column == 3);
  }

  TEST_CASE("csv - columns count characters, not bytes") {
    const CsvTable table = table_of("Straße,größe\nÄÖÜ,\"€\"\n😀,x\n");
    CHECK(table.header()[1].column == 8);
    CHECK(table.row(0)[1].column == 5);
    CHECK(table.row(1)[1].column == 3);
  }

  TEST_CASE("csv - the table outlives a move") {
    CsvTable first = table_of("a,b\n\"1 \"\"x\"\"\",2\n");
    const CsvTable second = std::move(first);
    CHECK(texts(second.row(0)) == Words{"1 \"x\"", "2"});
  }

  TEST_CASE("csv - comments, blank lines and rows of separators only are left out") {
    const CsvTable table = table_of("# made by hand\na,b\n#1,2\n3,4\n,\n \n\"#5\",6\n ,\n");
    REQUIRE(table.rows() == 2);
    CHECK(texts(table.row(0)) == Words{"3", "4"});
    CHECK(texts(table.row(1)) == Words{"#5", "6"});
  }

  TEST_CASE("csv - nothing to read") {
    const std::string empty =
        "t.csv:1:1: error: there is nothing in this file (begin with a line that names the "
        "columns)";
    for (const char* text : {"", "\n\n", "\xEF\xBB\xBF", "# only a comment", "  ", ",,\n,\n"}) {
      CAPTURE(text);
      CHECK(faults_of(text) == empty);
    }
  }

  TEST_CASE("csv - binary content is one error and nothing else") {
    const std::string says =
        ": error: this is not plain text (save it as CSV with the encoding UTF-8)";
    CHECK(faults_of(std::string_view("a,b\n1,\0\n1,2,3\n", 14)) == "t.csv:2:3" + says);
    CHECK(faults_of("a,b\n\xC4,2\n\xC4,2,3\n") == "t.csv:2:1" + says);  // Latin-1
    CHECK(faults_of(std::string_view("\xFF\xFE"
                                     "a\0",
                                     4)) == "t.csv:1:1" + says);   // UTF-16
    CHECK(faults_of("ä\r\r\nabc\xE2\x82") == "t.csv:3:4" + says);  // cut off
    for (const char* text : {"\xC0\x80", "\xE0\x80\x80", "\xED\xA0\x80", "\xF4\x90\x80\x80",
                             "\xF8\x88\x80\x80\x80", "\x80", "\xF0\x80\x80\x80", "12345678\xFF"}) {
      CAPTURE(text);
      CHECK(faults_of(text).ends_with(says));
    }
  }

  TEST_CASE("csv - a NUL is found at every place of a word of eight bytes") {
    for (std::size_t i = 0; i < 24; ++i) {
      std::string text(24, 'a');
      text[i] = '\0';
      CAPTURE(i);
      CHECK(faults_of(text) == "t.csv:1:" + std::to_string(i + 1) +
                                   ": error: this is not plain text (save it as CSV with the "
                                   "encoding UTF-8)");
    }
  }

  TEST_CASE("csv - an unclosed quote is one error at the quote") {
    CHECK(faults_of("a,b\n1,2\n3, \"4\n5,6\n7,8\n") ==
          "t.csv:3:4: error: a quote is opened here and never closed (close it, or remove it)");
    CHECK(faults_of("\"") ==
          "t.csv:1:1: error: a quote is opened here and never closed (close it, or remove it)");
    CHECK(faults_of("a\n\"\"\"") ==
          "t.csv:2:1: error: a quote is opened here and never closed (close it, or remove it)");
  }

  TEST_CASE("csv - text after a closing quote") {
    CHECK(faults_of("a,b\n\"1\"x,2\n") ==
          "t.csv:2:1: error: there is text after the closing quote (write a quote inside a quoted "
          "field twice)");
  }

  TEST_CASE("csv - rows of another length than the header, told once each") {
    CHECK(faults_of("a,b,c\n1,2\n") ==
          "t.csv:2:3: error: this row has 2 fields, the header 3 (add what is missing, or leave it "
          "empty between separators)");
    CHECK(faults_of("a,b\n1,2\n1,2,3\n") ==
          "t.csv:3:5: error: this row has 3 fields, the header 2 (quote a field that holds the "
          "separator, or remove what is too much)");
    std::string many = "a,b\n";
    for (int i = 0; i < 1000; ++i) many += "1\n1,2,3,4\n";
    CHECK(faults_of(many) ==
          "t.csv:2:1: error: this row has 1 field, the header 2, and so 999 rows more (add what is "
          "missing, or leave it empty between separators)\n"
          "t.csv:3:5: error: this row has 4 fields, the header 2, and so 999 rows more (quote a "
          "field that holds the separator, or remove what is too much)");
  }

  TEST_CASE("csv - header names") {
    CHECK(faults_of("a,b,a\n1,2,3\n") ==
          "t.csv:1:5: error: the header names the column \"a\" twice (keep one of them, or rename "
          "one)");
    // An unnamed column, such as a row number, can be passed over.
    CHECK(faults_of(",b\n1,2\n") ==
          "t.csv:1:1: doubt: a column of the header has no name and is not read (name it, or "
          "remove it)");
    CHECK(faults_of("a,,\n1,2,3\n") ==
          "t.csv:1:3: doubt: a column of the header has no name and is not read, and so 1 column "
          "more (name it, or remove it)");
  }

  TEST_CASE("csv - a field of a megabyte, and a megabyte of fields") {
    const std::string large(1'000'000, 'x');
    const std::string text = "a,b\n" + large + ",1\n\"" + large + "\",2\n";
    const CsvTable table = table_of(text);
    CHECK(table.row(0)[0].text == large);
    CHECK(table.row(1)[0].text == large);
    CHECK(table.row(0)[1].column == 1'000'002);

    // Columns of a long line that is not ASCII are counted once, not once for each field.
    std::string wide = "ä";
    for (int i = 0; i < 300'000; ++i) wide += ",b" + std::to_string(i);
    CHECK(table_of(wide).header().size() == 300'001);
    CHECK(table_of(wide).header().back().column == 1 + static_cast<int>(wide.size()) - 8);
    CHECK(split_csv(std::string(999'999, '"'), "t.csv").findings.size() == 1);
  }

  TEST_CASE("csv - a field that a spreadsheet could take for a formula is guarded and read back") {
    CHECK(runnel::csv_cell("bed \"A\"") == "\"bed \"\"A\"\"\"");
    for (const std::string text : {"=1+1", "+bed", "-shade", "@sum(a1)", "\tx", "\rx", "\nx",
                                   "'=1+1", "''-x", "\uFF1D1", "\uFF0Bx", "\uFF0Dx", "\uFF20x"}) {
      CAPTURE(text);
      const std::string cell = runnel::csv_cell(text);
      CHECK(cell[1] == '\'');
      CHECK(runnel::without_formula_guard(cell.substr(1, cell.size() - 2)) == text);
    }
    for (const std::string text : {"-", "'tis dry", "bed = 1", "'"})
      CHECK(runnel::csv_cell(text) == "\"" + text + "\"");
    CHECK(runnel::without_formula_guard("'tis dry") == "'tis dry");
  }
}

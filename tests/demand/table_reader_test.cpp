#include "runnel/demand/table_reader.hpp"

#include <doctest/doctest.h>

#include <stdexcept>

#include "support/near.hpp"

namespace runnel {

TEST_SUITE("demand/table reader") {
  TEST_CASE("all faults of all rows, each at its place") {
    TableReader row("name,depth,source\na,0.5 in,s\nb,3 kg,\n,5,s\n", "t.csv",
                    {"name", "depth", "source"});
    REQUIRE(row.next());
    CHECK(row.text("name") == "a");
    CHECK(row.measure("depth", Dimension::depth) == near(12.7, 1e-12));
    CHECK(row.text("source") == "s");
    REQUIRE(row.next());
    (void)row.measure("depth", Dimension::depth);  // not a depth
    (void)row.text("source");                      // empty
    REQUIRE(row.next());
    (void)row.text("name");  // empty
    CHECK(row.number("depth") == 5.0);
    CHECK(!row.number_if_any("name").has_value());
    CHECK_THROWS_AS((void)row.text("colour"), std::invalid_argument);
    CHECK(!row.next());
    const auto findings = row.take_findings();
    REQUIRE(findings.size() == 3);
    CHECK(findings[0].at.line == 3);
    CHECK(findings[0].at.column == 3);
    CHECK(findings[0].at.key == "depth");
    CHECK(findings[1].at.line == 3);
    CHECK(findings[2].at.line == 4);
    CHECK(has_error(findings));
  }

  TEST_CASE("a table that cannot be used as a whole has no rows and one finding") {
    for (const std::string_view csv : {"name,source\na,s\n", "", "name,depth,source\na,1\n"}) {
      TableReader row(csv, "t.csv", {"name", "depth", "source"});
      CHECK(!row.next());
      CHECK(row.take_findings().size() == 1);
    }
  }
}

}  // namespace runnel

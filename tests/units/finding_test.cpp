#include "runnel/units/finding.hpp"

#include <doctest/doctest.h>

#include <string>
#include <utility>
#include <vector>

using runnel::Finding;
using runnel::InputError;
using runnel::Place;
using runnel::quoted;
using runnel::Read;
using runnel::to_text;

namespace {

Finding error_in(Place at) {
  return {Finding::Kind::error, std::move(at), "18 has no unit", "write \"18 m2\""};
}

}  // namespace

TEST_SUITE("units") {
  TEST_CASE("finding - the text leaves out what is not known") {
    CHECK(to_text(error_in({"garden.yaml", 4, 9, "zones.1.area"})) ==
          "garden.yaml:4:9: error: zones.1.area: 18 has no unit (write \"18 m2\")");
    CHECK(to_text(error_in({"garden.yaml", 4, 0, ""})) ==
          "garden.yaml:4: error: 18 has no unit (write \"18 m2\")");
    CHECK(to_text(error_in({"garden.yaml", 0, 9, ""})) ==
          "garden.yaml: error: 18 has no unit (write \"18 m2\")");
    CHECK(to_text(error_in({"", 4, 9, ""})) == "line 4:9: error: 18 has no unit (write \"18 m2\")");
    CHECK(to_text({Finding::Kind::remark, {"", 0, 0, ""}, "2 m is taken", ""}) ==
          "remark: 2 m is taken");
    CHECK(to_text({Finding::Kind::doubt, {"a.csv", 2, 0, ""}, "odd", ""}) == "a.csv:2: doubt: odd");
  }

  TEST_CASE("finding - only an error is an error") {
    const Finding doubt{Finding::Kind::doubt, {}, "a", ""};
    const Finding remark{Finding::Kind::remark, {}, "b", ""};
    CHECK_FALSE(runnel::has_error({}));
    CHECK_FALSE(runnel::has_error({doubt, remark}));
    CHECK(runnel::has_error({doubt, error_in({}), remark}));
  }

  TEST_CASE("finding - an input error carries every finding, one a line") {
    const InputError error({error_in({"a", 1, 0, ""}), error_in({"b", 2, 0, ""})});
    CHECK(error.findings().size() == 2);
    CHECK(std::string(error.what()) ==
          "a:1: error: 18 has no unit (write \"18 m2\")\n"
          "b:2: error: 18 has no unit (write \"18 m2\")");
    CHECK(InputError(error_in({})).findings().size() == 1);
  }

  TEST_CASE("finding - value or throw") {
    std::vector<Finding> findings{{Finding::Kind::remark, {}, "first", ""}};
    Read<int> good{7, {{Finding::Kind::doubt, {}, "second", ""}}};
    CHECK(runnel::value_or_throw(std::move(good), findings) == 7);
    REQUIRE(findings.size() == 2);
    CHECK(findings[1].says == "second");

    const auto give_up = [&] {
      Read<int> bad{std::nullopt, {error_in({})}};
      return runnel::value_or_throw(std::move(bad), findings);
    };
    CHECK_THROWS_AS(give_up(), InputError);
    CHECK(findings.size() == 2);
  }

  TEST_CASE("finding - quoted text is short, whole characters, and harmless on a terminal") {
    CHECK(quoted("24 kg") == "\"24 kg\"");
    CHECK(quoted("") == "\"\"");
    CHECK(quoted("a\x1b[31m\nb\x7f") == "\"a?[31m?b?\"");
    CHECK(quoted("Beet süd") == "\"Beet süd\"");
    CHECK(quoted(std::string(1'000'000, 'x')) == "\"" + std::string(60, 'x') + "...\"");
    // The 60th byte falls inside the two of "ü".
    CHECK(quoted(std::string(59, 'x') + "üüü") == "\"" + std::string(59, 'x') + "...\"");
    // Nothing but continuation bytes: not UTF-8, and still no reading before the start.
    CHECK(quoted(std::string(100, '\x80')) == "\"...\"");
  }
}

// Every row of the published tables against Runnel's own functions. The tables say of each row
// where its figure comes from and in which band a full-precision computation must lie; here nothing
// is widened and no row is left out: rows of status ok and chain_rounding are checked, a row
// without an adaptor fails, and the rest is listed with the reason.

#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "registry.hpp"
#include "support/reference_text.hpp"

namespace runnel::reference {
namespace {

Registry full_registry() {
  Registry registry;
  add_et_formulas(registry);
  add_crop_formulas(registry);
  return registry;
}

struct Tally {
  int met = 0, missed = 0, without_adaptor = 0, listed = 0;
};

/// Difference to the expected value, or NaN with the reason reported.
double difference(const PublishedRow& row, const Adaptor& adaptor) {
  try {
    return adaptor(row) - row.expected;
  } catch (const std::exception& error) {
    FAIL_CHECK(row.where << ": " << error.what());
    return std::nan("");
  }
}

void check_row(const PublishedRow& row, const Registry& registry, Tally& tally) {
  const std::string title =
      row.where + ": " + row.example + ", " + row.quantity + " [" + row.symbol + "]";
  if (!row.must_be_met()) {
    MESSAGE(title << ": not checked (" << row.status << "): " << row.note);
    ++tally.listed;
    return;
  }
  const Adaptor* adaptor = registry.find(row);
  if (adaptor == nullptr) {
    FAIL_CHECK(title << ": no adaptor for " << row.inputs_text);
    ++tally.without_adaptor;
    return;
  }
  const double off = difference(row, *adaptor);
  // The band is the decimal number as the table writes it; a computed value exactly on its edge
  // must not fail by the binary rounding of the two decimals.
  const bool met = std::abs(off) <= row.test_tolerance * (1.0 + 1e-9);
  CHECK_MESSAGE(met, title << ": expected " << row.expected << " +- " << row.test_tolerance
                           << ", off by " << off);
  ++(met ? tally.met : tally.missed);
}

Tally check_table(const std::string& name) {
  const Registry registry = full_registry();
  const std::string csv = reference_text(name);
  Tally tally;
  for (const PublishedRow& row : published_rows(csv, name)) check_row(row, registry, tally);
  MESSAGE(name << ": " << tally.met << " checks met, " << tally.missed << " missed, "
               << tally.without_adaptor << " without adaptor, " << tally.listed << " listed only");
  return tally;
}

}  // namespace

// The counts are of the tables as committed: a row lost by the reader must not pass unseen.
TEST_CASE("published checks - FAO-56 worked examples") {
  const Tally tally = check_table("fao56_examples.csv");
  CHECK(tally.met == 250);
  CHECK(tally.listed == 6);
}

TEST_CASE("published checks - FAO-56 Annex 2 tables") {
  const Tally tally = check_table("fao56_annex2.csv");
  CHECK(tally.met == 141);
  CHECK(tally.listed == 0);
}

TEST_CASE("registry - the more particular adaptor wins and the later of equals") {
  Registry registry;
  const auto constant = [](double value) { return [value](const PublishedRow&) { return value; }; };
  registry.add({"x"}, constant(1.0));
  registry.add({"x", "7"}, constant(2.0));
  registry.add({"x", "", "late"}, constant(3.0));
  registry.add({"x", "7"}, constant(4.0));
  PublishedRow row{};
  row.symbol = "x";
  row.example = "3";
  CHECK((*registry.find(row))(row) == 1.0);
  row.example = "7";
  CHECK((*registry.find(row))(row) == 4.0);
  row.quantity = "the late stage";
  CHECK((*registry.find(row))(row) == 3.0);
  row.symbol = "y";
  CHECK(registry.find(row) == nullptr);
}

TEST_CASE("registry - rows are read with their inputs") {
  const auto rows = published_rows(
      "example,quantity,symbol,inputs,expected,unit,tolerance,source,origin,recomputed,test_"
      "tolerance,status,note\n"
      "19,a,Rnl,\"T=28; RsRso=0.8 (assumed); bare\",-0.5,-,0.05,s,read,1,0.05,chain_rounding,why\n",
      "t.csv");
  REQUIRE(rows.size() == 1);
  CHECK(rows[0].number("T") == 28.0);
  CHECK(rows[0].number("RsRso") == 0.8);
  CHECK(rows[0].has("bare"));
  CHECK(rows[0].number_or("z", 3.0) == 3.0);
  CHECK_THROWS_AS(static_cast<void>(rows[0].number("z")), std::invalid_argument);
  CHECK_THROWS_AS(static_cast<void>(rows[0].number("bare")), std::invalid_argument);
  CHECK(rows[0].expected == -0.5);
  CHECK(rows[0].must_be_met());
  CHECK(rows[0].where == "t.csv:2");
}

}  // namespace runnel::reference

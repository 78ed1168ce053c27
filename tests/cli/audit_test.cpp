// runnel audit as a person runs it, and its line put into a garden file.
#include <doctest/doctest.h>

#include <sstream>
#include <string>
#include <vector>

#include "folder.hpp"
#include "support/near.hpp"

namespace runnel {
namespace {

std::string test_file(const std::string& head, const std::string& catches) {
  std::istringstream words(catches);
  std::string csv = head;
  int can = 0;
  for (std::string one; words >> one;) csv += std::to_string(++can) + "," + one + "\n";
  return csv;
}

// Constructed worked example AU1: 16 cans, throat 16.6 sq in, 5 min.
const char* const sixteen_cans = "32 28 25 30 22 18 35 27 24 20 31 26 29 23 19 33";

constexpr double mm_per_inch = 25.4;

/// A number of the JSON output.
double number_of(const std::string& json, const std::string& key) {
  const std::size_t at = json.find("\"" + key + "\": ");
  REQUIRE_MESSAGE(at != std::string::npos, key);
  return std::stod(json.substr(at + key.size() + 4));
}

}  // namespace

TEST_SUITE("audit") {
  // AU1: mean 26.375 mL, DU 0.7488, 1.163 in/h (1.16349) = 29.6 mm/h, multiplier 1.1775.
  TEST_CASE("audit - the worked example of sixteen cans") {
    const Folder folder;
    folder.write("cans.csv", test_file("can,volume [mL]\n", sixteen_cans));
    const Result result = folder.run("audit cans.csv --run '5 min' --mouth '16.6 sq in'");
    CAPTURE(result.out);
    CHECK(result.exit == 0);
    CHECK(has(result.out, "29.6 mm/h"));
    CHECK(has(result.out, "0.75"));
    CHECK(has(result.out, "driest 4 of 16 cans"));
    CHECK(has(result.out, "1.177"));
    CHECK(has(result.out, "spray zone this is excellent"));
    CHECK(has(result.out, "emitters: {type: spray, rate: 29.6 mm/h, uniformity: 0.75}"));
    CHECK(has(result.err, "cans.csv:1:1: doubt: 16 cans show a zone only roughly (at least 20"));
    CHECK_FALSE(has(result.out, "WHERE IT FELL"));
    const Result rotor =
        folder.run("audit cans.csv --run '5 min' --mouth '16.6 sq in' --type rotor");
    CHECK(has(rotor.out, "rotor zone this is very good"));
  }

  // AU3: nine cans, 15 min: mean 0.2311 in, DU 0.7139, 0.9244 in/h = 23.48 mm/h. AU4: 0.25 in in 5
  // min are 3 in/h = 76.2 mm/h.
  TEST_CASE("audit - the worked examples of depths") {
    const Folder folder;
    folder.write("cans.csv", test_file("# run: 15 min\ncan,depth [in]\n",
                                       "0.2 0.25 0.3 0.15 0.22 0.28 0.18 0.24 0.26"));
    const Result nine = folder.run("audit cans.csv");
    CHECK(has(nine.out, "rate: 23.5 mm/h, uniformity: 0.71"));
    CHECK(has(nine.out, "driest 2 of 9 cans"));
    folder.write("cans.csv", test_file("can,depth [in]\n", "0.25 0.25 0.25 0.25"));
    CHECK(has(folder.run("audit cans.csv --run '5 min'").out, "rate: 76.2 mm/h"));
    CHECK(has(folder.run("audit cans.csv --run '5 min' --format json").out, "\"uniformity\": 1,"));
    const std::string rows = folder.run("audit cans.csv --run '5 min' --format csv").out;
    CHECK(has(rows, "can,depth_mm,share_of_mean,driest_quarter\n\"1\",6.35,1,yes\n"));
  }

  // The same three in every digit they are worked to. AU4, Texas A&M AgriLife Water University:
  // 0.25 in in 5 min, so 20 min for 1 in.
  TEST_CASE("audit - the worked examples in all their digits") {
    const Folder folder;
    folder.write("cans.csv", test_file("can,volume [mL]\n", sixteen_cans));
    const std::string sixteen =
        folder.run("audit cans.csv --run '5 min' --mouth '16.6 sq in' --format json").out;
    const double mouth_cm2 = 16.6 * 2.54 * 2.54;
    CHECK(number_of(sixteen, "mean_mm") / 10.0 * mouth_cm2 == near(26.375, 0.0005));
    CHECK(number_of(sixteen, "cans_in_driest_quarter") == 4.0);
    CHECK(number_of(sixteen, "uniformity") == near(0.7488, 0.00005));
    CHECK(number_of(sixteen, "rate_mm_h") / mm_per_inch == near(1.163, 0.0005));
    CHECK(number_of(sixteen, "run_time_multiplier") == near(1.1775, 0.00005));

    folder.write("cans.csv", test_file("# run: 15 min\ncan,depth [in]\n",
                                       "0.2 0.25 0.3 0.15 0.22 0.28 0.18 0.24 0.26"));
    const std::string nine = folder.run("audit cans.csv --format json").out;
    CHECK(number_of(nine, "mean_mm") / mm_per_inch == near(0.2311, 0.00005));
    CHECK(number_of(nine, "uniformity") == near(0.7139, 0.00005));
    CHECK(number_of(nine, "rate_mm_h") / mm_per_inch == near(0.9244, 0.00005));

    folder.write("cans.csv", test_file("can,depth [in]\n", "0.25 0.25 0.25 0.25"));
    const std::string alike = folder.run("audit cans.csv --run '5 min' --format json").out;
    CHECK(60.0 * mm_per_inch / number_of(alike, "rate_mm_h") == near(20.0, 0.5));
  }

  TEST_CASE("audit - the line printed is taken by a garden file and decides its rate") {
    const Folder folder;
    const Result audit = folder.run("audit '" RUNNEL_SOURCE_DIR "/examples/audit/cans.csv'");
    REQUIRE(audit.exit == 0);
    CHECK(audit.err.empty());
    const std::size_t at = audit.out.find("emitters: {");
    REQUIRE(at != std::string::npos);
    const std::string line = audit.out.substr(at, audit.out.find('\n', at) - at);
    std::string garden = folder.text("garden.yaml");
    const std::size_t old = garden.find("emitters: {");
    garden.replace(old, garden.find('\n', old) - old, line);
    folder.write("garden.yaml", garden);
    const Result plan = folder.run("plan garden.yaml --explain 'terrace bed'");
    CAPTURE(plan.out);
    CHECK(plan.exit == 0);
    const std::size_t rate = line.find("rate: ") + 6;
    CHECK(has(plan.out, line.substr(rate, line.find(" mm/h") - rate)));
  }

  TEST_CASE("audit - the map shows every can within eighty columns") {
    const Folder folder;
    const Result audit = folder.run("audit '" RUNNEL_SOURCE_DIR "/examples/audit/cans.csv'");
    const std::size_t begin = audit.out.find("WHERE IT FELL");
    REQUIRE(begin != std::string::npos);
    const std::size_t first = audit.out.find('\n', begin) + 1;
    std::istringstream map(audit.out.substr(first, audit.out.find("\nINTO", first) - first));
    int cans = 0;
    int low = 0;
    for (std::string line; std::getline(map, line);) {
      CHECK(line.size() <= 80);
      std::istringstream words(line);
      for (std::string word; words >> word; ++cans) low += word.front() == '[' ? 1 : 0;
    }
    CHECK(cans == 24);
    CHECK(low == 6);
    // Ten cans in one spot and one far away: none is lost.
    std::string csv = "# run: 5 min\ncan,depth [mm],x [m],y [m]\n0,5,100,100\n";
    for (int i = 1; i <= 10; ++i)
      csv += std::to_string(i) + ",5,0,0.0" + std::to_string(10 + i) + "\n";
    folder.write("cans.csv", csv);
    const std::string crowded = folder.run("audit cans.csv").out;
    std::size_t shown = 0;
    for (std::size_t at = crowded.find("100", crowded.find("WHERE IT FELL"));
         at < crowded.find("INTO THE"); at = crowded.find("100", at + 1))
      ++shown;
    CHECK(shown == 11);
  }

  TEST_CASE("audit - a dry quarter says to mend and gives no line") {
    const Folder folder;
    folder.write("cans.csv", test_file("# run: 5 min\ncan,depth [mm]\n", "0 0 4 5 5 5 5 5"));
    const Result result = folder.run("audit cans.csv");
    CHECK(result.exit == 0);
    CHECK(has(result.out, "worse than poor"));
    CHECK(has(result.out, "Mend before you water longer"));
    CHECK(has(result.out, "Shut off"));
    CHECK_FALSE(has(result.out, "emitters: {"));
  }

  TEST_CASE("audit - bad files give one error at its place and nothing else") {
    const Folder folder;
    const std::vector<std::pair<std::string, std::string>> bad{
        {test_file("# run: 5 min\ncan,depth [mm]\n", "1 2 3"), "cans.csv:2:1: error: 3 cans"},
        {test_file("# run: 0 min\ncan,depth [mm]\n", "1 2 3 4"), "cans.csv:1:8: error: the valve"},
        {test_file("# run: 5 min\ncan,depth [mm]\n", "1 2 much 4"),
         "cans.csv:5:3: error: \"much\""},
        {"# run: 5 min\ncan,depth [mm]\n1,1\n2,2\n2,3\n4,4\n", "cans.csv:5:1: error: can \"2\""},
        {test_file("can,depth [mm]\n", "1 2 3 4"), "cans.csv:1:1: error: how long"},
        {test_file("# run: 5 min\ncan,volume [mL]\n", "1 2 3 4"), "cans.csv:2:1: error: volumes"},
        {"", "cans.csv:1:1: error: "}};
    for (const auto& [text, says] : bad) {
      folder.write("cans.csv", text);
      const Result result = folder.run("audit cans.csv");
      CAPTURE(result.err);
      CHECK(result.exit == 3);
      CHECK(result.out.empty());
      CHECK(has(result.err, says));
      CHECK(result.err.find(": error:") == result.err.rfind(": error:"));
    }
    CHECK(folder.run("audit none.csv").exit == 3);
  }

  TEST_CASE("audit - wrong usage") {
    const Folder folder;
    folder.write("cans.csv", test_file("can,volume [mL]\n", sixteen_cans));
    for (const char* args :
         {"audit", "audit cans.csv --run 5", "audit cans.csv --run '0 min'",
          "audit cans.csv --run '5 min' --mouth 11", "audit cans.csv --run '5 min' --mouth '0 cm'",
          "audit cans.csv --run '5 min' --type sprya", "audit cans.csv --format html"}) {
      CAPTURE(args);
      const Result result = folder.run(args);
      CHECK(result.exit == 2);
      CHECK(result.out.empty());
      CHECK(has(result.err, "runnel audit: "));
    }
    CHECK(has(folder.run("audit cans.csv --type sprya").err, "did you mean \"spray\""));
  }
}

}  // namespace runnel

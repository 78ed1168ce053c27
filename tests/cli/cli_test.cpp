// The program as a person runs it: exit codes, one clear error for each bad input, nothing
// half-written.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <regex>
#include <sstream>
#include <string>
#include <vector>

#include "folder.hpp"
#include "support/near.hpp"

namespace runnel {
namespace {

/// Exit 3, one error line with these parts, nothing on stdout, no file written.
void check_refused(const Folder& folder, const std::string& args,
                   const std::vector<std::string>& parts) {
  const std::size_t files = folder.files();
  const Result result = folder.run(args);
  CAPTURE(result.err);
  CHECK(result.exit == 3);
  CHECK(result.out.empty());
  std::istringstream err(result.err);
  int errors = 0;
  for (std::string line; std::getline(err, line);)
    if (has(line, ": error:")) ++errors;
  CHECK(errors == 1);
  for (const std::string& part : parts) CHECK_MESSAGE(has(result.err, part), part);
  CHECK(folder.files() == files);
}

struct BadGarden {
  const char* from;
  const char* to;
  const char* place;  // line:column
  const char* says;
};

constexpr const char* plan = "plan garden.yaml --save plan.yaml";
constexpr const char* et = "et w.csv --latitude 50.8 --elevation '100 m' --format csv";
constexpr const char* head = "date,tmax [degC],tmin [degC],rain [mm]\n";

}  // namespace

TEST_SUITE("cli") {
  TEST_CASE("cli - bad gardens, each with one error at its place") {
    const std::vector<BadGarden> bad{
        {"    area: 18 m2", "    aera: 18 m2", "32:5", "did you mean \"area\""},
        {"area: 18 m2", "area: 18", "32:11", "18 m2"},
        {"area: 18 m2", "area: 18 kg", "32:11", "kg"},
        {"area: 18 m2", "area: 18 bar", "32:11", "bar is a unit of pressure"},
        {"area: 18 m2", "area: 0 m2", "32:11", "check its unit"},
        {"flow: 2.1 L/h", "flow: -2.1 L/h", "36:", "-2.1"},
        {"valve: 2", "valve: 1", "39:12", "shared valve: yes"},
        {"valve: 3", "valve: 7", "47:12", "beyond the timer's 6 valves"},
        {"[\"04:30-08:00\", \"20:30-22:30\"]", "[]", "27:17", "empty"},
        {"\"20:30-22:30\"", "\"07:00-22:30\"", "27:33", "overlap"},
        {"latitude: 38.72", "latitude: 91", "5:13", "-90 to 90 (write"},
        {"Europe/Lisbon", "Europe/Lisboa", "8:13", "did you mean \"Europe/Lisbon\""},
        {"plants: {kind: mixed shrubs, density: average}",
         "plants: {crop: tomato, planted: 2027-02-30}", "33:", "2027-02-30"},
        {"latitude: 38.72", "latitude: 41.3 S", "5:13", "(write -41.3: north and east"},
        {"latitude: 38.72", "latitude: 41.3° N", "5:13", "(write 41.3: north and east"},
        {"soil: {texture: sandy loam, slope: 3 %}", "soil: sandy loam", "35:11",
         "(write soil: {texture: sandy loam})"},
        {"plants: {kind: mixed shrubs, density: average}", "plants: lawn", "33:13",
         "(write plants: {kind: cool-season lawn})"},
        {"plants: {kind: mixed shrubs, density: average}", "plants: tomato", "33:13",
         "(write plants: {crop: tomato, planted: "},
        {"plants: {kind: mixed shrubs, density: average}", "plants: zzz", "33:13",
         "(write plants: {kind: mixed shrubs})"},
    };
    for (const BadGarden& fault : bad) {
      const Folder folder;
      folder.replace("garden.yaml", fault.from, fault.to);
      CAPTURE(fault.to);
      check_refused(folder, plan, {std::string("garden.yaml:") + fault.place, fault.says});
    }
  }

  TEST_CASE("cli - files that are no gardens") {
    const Folder folder;
    check_refused(folder, "plan none.yaml --save plan.yaml", {"none.yaml"});
    folder.write("garden.yaml", "");
    check_refused(folder, plan, {"garden.yaml:1:1", "empty"});
    folder.write("garden.yaml", std::string("\x7f"
                                            "ELF\0\1\2",
                                            7));
    check_refused(folder, plan, {"garden.yaml:1:"});
    folder.write("garden.yaml", std::string(100'000, '['));
    check_refused(folder, plan, {"garden.yaml:1:", "nests too deep"});
    folder.write("garden.yaml", "garden: a\ngarden: b\n");
    CHECK(folder.run(plan).exit == 3);
  }

  TEST_CASE("cli - bad weather, each with one error at its place") {
    const std::vector<std::pair<std::string, std::vector<std::string>>> bad{
        {std::string(head) + "2027-06-01,20,10,0\n2027-06-01,21,11,0\n",
         {"w.csv:3:1", "2027-06-01"}},
        {std::string(head) + "2027-06-01,20,10,0\n2027-06-02,11,21,0\n",
         {"w.csv:3:15", "above the tmax of 11 degC"}},
        {std::string(head) + "2027-02-28,20,10,0\n2027-02-30,21,11,0\n",
         {"w.csv:3:1", "2027-02-30"}},
        {"date,tmax,tmin,rain\n2027-06-01,88,61,0\n2027-06-02,91,64,0\n", {"w.csv:2:12", "degF"}},
        {std::string(head) + "2027-06-01,20,cold,0\n", {"w.csv:2:15", "cold"}},
        {std::string(head) + "2027-06-01,20,10,0\n2027-06-02,21\n",
         {"w.csv:3:12", "add what is missing"}},
        {std::string(head) + "2027-06-01,20,10,0 mm\n",
         {"w.csv:2:18", "\"0 mm\" has its unit", "the header: \"rain [mm]\""}},
        {"", {"w.csv:1:1", "nothing in this file"}},
        {std::string("date,tmax\0\1", 11), {"w.csv:1:10"}},
    };
    for (const auto& [text, parts] : bad) {
      const Folder folder;
      folder.write("w.csv", text);
      CAPTURE(text);
      check_refused(folder, et, parts);
    }
    const Folder folder;
    check_refused(folder, et, {"w.csv"});
    folder.replace("weather.csv", "2026-07-07", "2026-07-06");
    check_refused(folder, plan, {"weather.csv:4:1", "2026-07-06"});
  }

  TEST_CASE("cli - a header that is not known is told how to be mapped") {
    const Folder folder;
    folder.write("w.csv", "date,Max Temp F,Min Temp F,Gust Max mph\n2027-06-01,68,50,12\n");
    const Result lost = folder.run(et);
    CHECK(lost.exit == 3);
    CHECK(has(lost.err, "w.csv:1:6: doubt: \"Max Temp F\" is not used: it may be tmax"));
    CHECK(has(lost.err, "columns: {tmax: \"Max Temp F [F]\"}"));
    CHECK_FALSE(has(lost.err, "it may be wind"));
    const Result mapped = folder.run(
        std::string(et) + " --column 'tmax=Max Temp F [F]' --column 'tmin=Min Temp F [F]'");
    CHECK(mapped.exit == 0);
    CHECK_FALSE(has(mapped.err, "is not used"));
    folder.write("w.csv", "date,tmax [degF],tmin [degF]\n2027-06-01,68,50\n");
    CHECK(mapped.out == folder.run(et).out);
  }

  TEST_CASE("cli - a day far ahead and a forecast that is used up") {
    const Folder folder;
    check_refused(folder, "plan garden.yaml --from 9999-12-31 --save plan.yaml",
                  {"more than a year before the first day to plan, 9999-12-31", "check the year"});
    const Result later = folder.run("plan garden.yaml --from 2026-08-20");
    CHECK(later.exit != 3);
    CHECK(has(later.err, "the forecast is used up: it ends on 2026-07-"));
    CHECK_FALSE(has(folder.run("plan garden.yaml").err, "used up"));
  }

  TEST_CASE("cli - a folder that is not there is to be made first") {
    const Folder folder;
    check_refused(folder, "plan garden.yaml --save plans/monday.yaml",
                  {"plans/monday.yaml: error: cannot be written: there is no folder",
                   "make the folder first"});
  }

  TEST_CASE("cli - a latitude of the wrong half of the earth is doubted by its clocks") {
    const Folder folder;
    CHECK_FALSE(has(unwrapped(folder.run("check garden.yaml").out), "summer time"));
    folder.replace("garden.yaml", "latitude: 38.72", "latitude: -38.72");
    CHECK(has(unwrapped(folder.run("check garden.yaml").out),
              "garden.yaml:5:13: doubt: site.latitude: lies in the south, but the clocks of "
              "Europe/Lisbon keep summer time in the northern summer (write 38.72"));
    folder.replace("garden.yaml", "Europe/Lisbon", "Pacific/Auckland");
    CHECK_FALSE(has(unwrapped(folder.run("check garden.yaml").out), "summer time"));
    folder.replace("garden.yaml", "latitude: -38.72", "latitude: 38.72");
    CHECK(has(unwrapped(folder.run("check garden.yaml").out), "lies in the north, but"));
    folder.replace("garden.yaml", "Pacific/Auckland", "Asia/Tokyo");  // no summer time
    CHECK_FALSE(has(unwrapped(folder.run("check garden.yaml").out), "summer time"));
  }

  TEST_CASE("cli - a longitude far from the clocks of its time zone is doubted") {
    const Folder folder;
    const auto doubt = [&folder](const std::string& longitude, const std::string& zone) {
      const std::string before = folder.text("garden.yaml");
      folder.replace("garden.yaml", "longitude: -9.14", "longitude: " + longitude);
      folder.replace("garden.yaml", "Europe/Lisbon", zone);
      const std::string said = unwrapped(folder.run("check garden.yaml").out);
      folder.write("garden.yaml", before);
      const std::size_t at = said.find("doubt: site.longitude: ");
      return at == std::string::npos ? "" : said.substr(at, said.find('\n', at) - at);
    };
    // 122.31 / 15 = 8.2 hours east, where the clocks are 8 hours behind: 16.2 round one way, 7.8
    // the other.
    CHECK(
        doubt("122.31", "America/Los_Angeles") ==
        "doubt: site.longitude: 122.31 east is 8 hours from the clocks of America/Los_Angeles (is "
        "it -122.31? west of Greenwich has a minus; else check longitude and time zone)");
    CHECK(doubt("-122.31", "Asia/Tokyo") ==
          "doubt: site.longitude: 122.31 west is 7 hours from the clocks of Asia/Tokyo (is it "
          "122.31? west of Greenwich has a minus; else check longitude and time zone)");
    CHECK(doubt("73.5", "Europe/Lisbon") ==
          "doubt: site.longitude: 73.5 east is 5 hours from the clocks of Europe/Lisbon (check "
          "longitude and time zone)");
    CHECK(doubt("-122.31", "America/Los_Angeles").empty());
    CHECK(doubt("73.5", "Asia/Shanghai").empty());         // 3.1 hours
    CHECK(doubt("-179.2", "Pacific/Fiji").empty());        // 12 hours ahead, across the date line
    CHECK(doubt("-157.4", "Pacific/Kiritimati").empty());  // 14 hours ahead
  }

  TEST_CASE("cli - check keeps within eighty columns and cuts no word") {
    const Folder folder;
    const std::string text = folder.text("garden.yaml");
    const std::string path = folder.path(std::string(90, 'g') + ".yaml");
    folder.write("garden.yaml", text);
    fs::copy_file(folder.path("garden.yaml"), path);
    const std::regex first("(\\S+: )?(error|doubt|remark):.*|[0-9]+ errors?, .*");
    for (const std::string& garden : {std::string("garden.yaml"), path}) {
      const std::string out = folder.run("check '" + garden + "'").out;
      std::istringstream all(out);
      int further = 0;
      for (std::string line; std::getline(all, line);) {
        CAPTURE(line);
        if (line.starts_with("    ")) {
          ++further;
        } else {
          CHECK(std::regex_match(line, first));
        }
        if (!has(line, folder.path(""))) CHECK(line.size() <= 80);
      }
      CHECK(further > 5);
      CHECK(has(unwrapped(out), garden + ":30:5: remark: "));
    }
  }

  TEST_CASE("cli - progress goes to a terminal alone and leaves nothing there") {
    const Folder folder;
    REQUIRE(folder.run("plan garden.yaml --save plan.yaml").exit == 0);
    // Whoever saves waits for the folder's lock, which another process holds for three seconds.
    const auto held = [&folder](const std::string& command) {
      const std::string whole =
          "cd '" + folder.path(".") + "' && (flock . sleep 3 & sleep 0.2; " + command + "; wait)";
      return std::system(whole.c_str());  // NOLINT: the tests' own words
    };
    const std::string plan_it = "'" RUNNEL_PROGRAM "' plan garden.yaml --save plan.yaml --replace";
    CHECK(held("script -qec \"" + plan_it + " > out\" terminal </dev/null >/dev/null") == 0);
    const std::string terminal = folder.text("terminal");
    CHECK(has(terminal, "\r\033[Kplanning, 1 s"));
    const std::size_t last = terminal.rfind("\r\033[K");
    CHECK_FALSE(has(terminal.substr(last), "planning"));
    CHECK(held(plan_it + " > out 2> err") == 0);
    CHECK(folder.text("err").empty());
  }

  TEST_CASE("cli - wrong usage") {
    const Folder folder;
    folder.write("w.csv", std::string(head) + "2027-06-01,20,10,0\n");
    for (const char* args :
         {"", "water", "replan", "plan garden.yaml --form html",
          "plan garden.yaml --from 2027-02-30", "plan garden.yaml --risk nan",
          "et w.csv --latitude 91 --elevation '1 m'", "et w.csv --latitude 50 --elevation 100",
          "et w.csv --latitude nan --elevation '1 m'"}) {
      CAPTURE(args);
      const Result result = folder.run(args);
      CHECK(result.exit == 2);
      CHECK(result.out.empty());
      CHECK(!result.err.empty());
    }
    folder.write("plan.yaml", "mine\n");
    CHECK(folder.run(plan).exit == 2);
    CHECK(folder.text("plan.yaml") == "mine\n");
    CHECK(folder.run("plan garden.yaml --save plan.yaml --replace").exit == 0);
    CHECK(has(folder.text("plan.yaml"), "format: 2"));
  }

  TEST_CASE("cli - reference ET of FAO-56 Example 18") {
    // 6 July, Uccle: ETo 3.88 mm/d (two-decimal sum), Rn 13.28, Ra 41.09 MJ m-2 d-1.
    const Folder folder;
    folder.write(
        "w.csv",
        "date,tmax,tmin,rhmax,rhmin,wind [km/h],sunshine\n2027-07-06,21.5,12.3,84,63,10,9.25\n");
    const Result result = folder.run(std::string(et) + " --wind-height '10 m' --steps");
    CHECK(result.exit == 0);
    CHECK(has(result.out,
              "date,eto_mm,estimated,t_mean_c,delta_kpa_c,gamma_kpa_c,es_kpa,ea_kpa,u2_m_s,ra_mj_"
              "m2_d,rso_mj_m2_d,"
              "rs_mj_m2_d,rns_mj_m2_d,rnl_mj_m2_d,rn_mj_m2_d,g_mj_m2_d\n"));
    CHECK(has(result.out, "2027-07-06,3.88"));
    CHECK(has(result.out, "Eq. 35"));
    CHECK(has(result.out, ",41.0"));
  }

  TEST_CASE("cli - a filled Tmin does not pass the Tmax measured that day") {
    const Folder folder;
    folder.write("w.csv", std::string(head) +
                              "2027-06-01,30,25,0\n2027-06-02,12,NA,0\n2027-06-03,30,25,0\n");
    const Result result = folder.run(std::string(et) + " --steps");
    CHECK(result.exit == 0);
    CHECK(has(result.out, "2027-06-02,"));
    const std::string row = result.out.substr(result.out.find("2027-06-02,") + 11);
    CHECK(row[0] != '-');
    CHECK(has(row.substr(0, row.find('\n')),
              ",9.5,"));  // 12 less half the 5 degC range of the day before
  }

  TEST_CASE("cli - a crop in a bed needs its planting date unless all it gives is stated") {
    for (const char* known : {"", ", coefficient: 0.9", ", root depth: 40 cm"}) {
      const Folder folder;
      folder.replace("garden.yaml", "plants: {kind: mixed shrubs, density: average}",
                     std::string("plants: {crop: tomato") + known + "}");
      check_refused(folder, plan, {"garden.yaml:33:", "has no planting date"});
    }
    const Folder folder;
    folder.replace("garden.yaml", "plants: {kind: mixed shrubs, density: average}",
                   "plants: {crop: tomato, coefficient: 0.9, root depth: 40 cm}");
    CHECK(folder.run("plan garden.yaml").exit == 0);
  }

  TEST_CASE("cli - the plant table - all and by word and one in full") {
    const Folder folder;
    const Result all = folder.run("plants");
    CHECK(all.exit == 0);
    CHECK(all.err.empty());
    for (const char* name : {"shrubs", "cool-season lawn", "tomato", "walnut", "legumes"})
      CHECK(has(all.out, name));
    for (const char* call : {"plants", "plants fruit", "plants tomato", "plants citrus",
                             "plants "
                             "shrubs",
                             "plants mint", "plants garlic", "plants cool-season", "plants olive",
                             "plants spinahc", "plants conifer"}) {
      CAPTURE(call);
      const Result result = folder.run(call);
      CHECK(result.exit == 0);
      std::istringstream rows(result.out);
      for (std::string line; std::getline(rows, line);) CHECK(line.size() <= 80);
    }
    const Result legumes = folder.run("plants LEGUME");
    CHECK(has(legumes.out, "lentil"));
    CHECK_FALSE(has(legumes.out, "tomato"));
    // FAO-56 Tables 12, 17, 22 and 11.
    const Result tomato = folder.run("plants tomato");
    CHECK(has(tomato.out, "initial 0.60, mid 1.15, end 0.80 (0.70-0.90)"));
    CHECK(has(tomato.out, "initial 0.15, mid 1.10, end 0.70 (0.60-0.80)"));
    CHECK(has(tomato.out, "0.70 m when irrigated, 1.50 m at most"));
    CHECK(has(tomato.out, "  35    45    70    30  Oct/Nov       Arid Region"));
    CHECK(has(tomato.out, "See too: staked tomato"));
    CHECK(has(folder.run("plants courgette").out, "zucchini (crop, cucurbits)"));
    for (const char* word : {"grass", "turf", "lawn"}) {
      const std::string lawns = folder.run(std::string("plants ") + word).out;
      CHECK_MESSAGE(has(lawns, "\ncool-season lawn "), word);
      CHECK_MESSAGE(has(lawns, "\nwarm-season lawn "), word);
    }
    CHECK(has(folder.run("plants bermudagrass").out, "warm-season lawn (kind, lawn)"));
    CHECK(has(folder.run("plants garlic").out, "No stage lengths are published"));
    CHECK(has(folder.run("plants \"wine grape\"").out,
              "perennial: from green-up, mid-April (south:"));
  }

  TEST_CASE("cli - a plant there is not is answered with the nearest") {
    const Folder folder;
    const Result near = folder.run("plants tomattoe");
    CHECK(near.exit == 0);
    CHECK(has(near.out, "nearest: tomato"));
    const Result far = folder.run("plants xylophone");
    CHECK(far.exit == 0);
    CHECK(has(far.out, "runnel plants lists all there are"));
    CHECK(folder.run("plants tomato pepper").exit == 2);
    CHECK(folder.run("plants --format json").exit == 2);
    const Result none = folder.run("plants xylophone --format csv");
    CHECK(lines(none.out) == 1);  // the header
    CHECK(has(none.err, "xylophone"));
  }

  TEST_CASE("cli - the plant table as CSV has a row for each plant") {
    const Folder folder;
    const std::string csv = folder.run("plants --format csv").out;
    CHECK(lines(csv) == 1 + 87 + 11 + 2);  // crops, kinds and lawns of data/
    CHECK(has(csv,
              "crop,\"radish\",\"\",\"small vegetables\",\"annual\",0.9,0.9,0.9,0.3,0.5,0.3,0.3,"));
    CHECK(has(csv, "kind,\"hedges\",\"hedge\",\"landscape\""));
  }

  TEST_CASE("cli - crops and young plantings are planned from their own columns") {
    const Folder folder;
    folder.replace("garden.yaml", "{kind: mixed shrubs, density: average}",
                   "{crop: garlic, planted: 2026-05-20}");
    const Result garlic = folder.run("plan garden.yaml");
    CHECK(garlic.exit == 3);
    CHECK(lines(garlic.err) == 1);
    CHECK(has(garlic.err, "no published stage lengths of \"garlic\""));
    CHECK(garlic.out.empty());
    folder.replace("garden.yaml", "planted: 2026-05-20}",
                   "planted: 2026-05-20, stages: [20, 30, 40, 25]}");
    CHECK(folder.run("check garden.yaml").exit == 0);
    const Result explained = folder.run("plan garden.yaml --explain 'terrace bed'");
    CHECK(explained.exit <= 1);
    for (const char* part : {"basal coefficient Kcb", "20, 30, 40, 25 ", "FAO-56 Eq. 72"})
      CHECK(has(explained.out, part));
  }

  TEST_CASE("cli - units of every day are read") {
    const Folder folder;
    folder.write("w.csv", "YEAR,MONTH,DAY,MN,MX,SR\n2015,6,30,63.5,102.3,725.97\n");
    const Result result = folder.run(std::string(et) +
                                     " --column 'tmin=MN [degF]' --column 'tmax=MX [degF]' "
                                     "--column 'radiation=SR [langley/d]' --steps");
    CHECK(result.exit == 0);
    CHECK(has(result.out, "2015-06-30,"));
    CHECK(has(result.out, ",30.39"));  // 725.97 x 0.041868 = 30.395 MJ m-2 d-1
  }

  TEST_CASE("cli - the week's programme in every form, at 80 columns") {
    const Folder folder;
    const Result text = folder.run("plan garden.yaml");
    CHECK(text.exit == 0);
    for (const char* part : {"terrace bed", "wall border", "pots by the door", "every day",
                             "MINUTES", "LITRES", "TAKE CARE"})
      CHECK_MESSAGE(has(text.out, part), part);
    std::string shown = text.out + folder.run("compare garden.yaml").out +
                        folder.run("plan garden.yaml --explain 'terrace bed'").out;
    std::istringstream all(shown);
    for (std::string line; std::getline(all, line);) CHECK_MESSAGE(line.size() <= 80, line);
    CHECK(has(folder.run("plan garden.yaml --format csv").out, "valve,zone,days,starts,run_min"));
    CHECK(has(folder.run("plan garden.yaml --format json").out, "\"zone\": \"terrace bed\""));
    CHECK(folder.run("plan garden.yaml").out == text.out);
    const Result unknown = folder.run("plan garden.yaml --explain 'terrace bad'");
    CHECK(unknown.exit == 3);
    CHECK(has(unknown.err, "did you mean \"terrace bed\""));
    CHECK(folder.run("check garden.yaml").exit == 0);
  }

  TEST_CASE("cli - the factors between two zones multiply to the ratio of their use") {
    const Folder folder;
    const std::string ask = "compare garden.yaml --between 'wall border' 'pots by the door'";
    const Result csv = folder.run(ask + " --format csv");
    CHECK(csv.exit == 0);
    std::istringstream lines(csv.out);
    std::string line;
    std::getline(lines, line);
    CHECK(line == "zone,other,figure,of_zone,of_other,ratio");
    double product = 1.0;
    double ratio = 0.0;
    int factors = 0;
    while (std::getline(lines, line)) {
      const double last = std::stod(line.substr(line.rfind(',') + 1));
      if (has(line, "\"demand_mm\"")) {
        ratio = last;
        break;
      }
      product *= last;
      ++factors;
    }
    CHECK(factors == 8);  // reference ET and seven factors
    CHECK(ratio > 0.0);
    CHECK(product == near(ratio, 1e-9));
    CHECK(has(folder.run(ask).out, "RATIO"));
    CHECK(has(folder.run(ask + " --format json").out, "\"factor\": \"plants\""));
    const Result unknown = folder.run("compare garden.yaml --between 'wall border' 'pots'");
    CHECK(unknown.exit == 3);
    CHECK(has(unknown.err, "no zone is called \"pots\""));
    CHECK(folder.run("compare garden.yaml --between 'wall border'").exit == 2);
  }

  TEST_CASE("cli - of a zone that falls short it is explained that no minutes are enough") {
    const Folder folder;
    folder.replace("garden.yaml", "[\"04:30-08:00\", \"20:30-22:30\"]", "[\"06:00-06:45\"]");
    const Result explained = folder.run("plan garden.yaml --explain 'pots by the door'");
    CHECK(explained.exit == 1);
    CHECK(has(explained.out, "No minutes that could be found keep depletion within the limit"));
    CHECK_FALSE(has(explained.out, "These are the fewest minutes"));
  }

  TEST_CASE("cli - a zone is explained as text alone") {
    const Folder folder;
    for (const std::string form : {"csv", "json", "html", "ics"}) {
      CAPTURE(form);
      const Result refused =
          folder.run("plan garden.yaml --explain 'terrace bed' --format " + form);
      CHECK(refused.exit == 2);
      CHECK(refused.out.empty());
      CHECK(refused.err ==
            "runnel plan: --explain has no " + form + " form (leave out --format " + form + ")\n");
    }
    CHECK(folder.run("plan garden.yaml --explain 'terrace bed' --format text").exit == 0);
  }

  TEST_CASE("cli - a kitchen garden is shown and explained within eighty columns") {
    const Folder folder;
    const std::string garden = "'" RUNNEL_SOURCE_DIR "/examples/kitchen/garden.yaml'";
    for (const std::string& ask : {"plan " + garden, "plan " + garden + " --explain tomatoes",
                                   "plan " + garden + " --explain 'new hedge'", "compare " + garden,
                                   "compare " + garden + " --between tomatoes 'salad by the wall'",
                                   "plan " + garden + " --doubts"}) {
      const Result result = folder.run(ask);
      CHECK(result.exit == 0);
      std::istringstream shown(result.out);
      for (std::string line; std::getline(shown, line);) CHECK_MESSAGE(line.size() <= 80, line);
    }
  }

  TEST_CASE("cli - README and pages show what the program prints") {
    const Folder folder;
    const std::string out = folder.path("shown.out");
    const std::string answers = "data/docs/answers.md";
    for (const auto& [page, arguments] : std::vector<std::pair<std::string, std::string>>{
             {"README.md", "plan examples/terrace/garden.yaml"},
             {answers, "compare examples/terrace/garden.yaml"},
             {answers,
              "compare examples/terrace/garden.yaml --between 'wall border' 'terrace bed'"}}) {
      const std::string command = "cd '" RUNNEL_SOURCE_DIR "' && '" RUNNEL_PROGRAM "' " +
                                  arguments + " 2>/dev/null >'" + out + "'";
      CHECK(std::system(command.c_str()) == 0);  // NOLINT: the tests' own words
      CHECK_MESSAGE(has(read(fs::path(RUNNEL_SOURCE_DIR) / page), folder.text("shown.out")),
                    arguments);
    }
  }

  TEST_CASE("cli - its page shows what falls short and what would mend it") {
    const Folder folder;
    const std::string out = folder.path("shown.out");
    const std::string command = "cd '" RUNNEL_SOURCE_DIR "' && '" RUNNEL_PROGRAM
                                "' plan examples/terrace/short-morning.yaml 2>/dev/null >'" +
                                out + "'";
    CHECK(WEXITSTATUS(std::system(command.c_str())) == 1);  // NOLINT: the tests' own words
    const std::string shown = folder.text("shown.out");
    const std::size_t from = shown.find("FALLS SHORT\n");
    const std::size_t to = shown.find("\nTAKEN WITHOUT KNOWING");
    REQUIRE(from != std::string::npos);
    REQUIRE(to != std::string::npos);
    CHECK(has(read(fs::path(RUNNEL_SOURCE_DIR) / "data/docs/answers.md"),
              shown.substr(from, to - from)));
  }

  TEST_CASE("cli - its page shows what to measure first") {
    const Folder folder;
    const std::string out = folder.path("shown.out");
    const std::string command = "cd '" RUNNEL_SOURCE_DIR "' && '" RUNNEL_PROGRAM
                                "' plan examples/terrace/garden.yaml --doubts 2>/dev/null >'" +
                                out + "'";
    CHECK(std::system(command.c_str()) == 0);  // NOLINT: the tests' own words
    const std::string shown = folder.text("shown.out");
    // To the end of the first two ways to measure, and what makes no difference.
    const std::size_t how = shown.find("  emitters: uniformity. ");
    const std::size_t rest = shown.find("Makes no difference: ");
    REQUIRE(how != std::string::npos);
    REQUIRE(rest != std::string::npos);
    const std::string page = read(fs::path(RUNNEL_SOURCE_DIR) / "data/docs/measure.md");
    CHECK(has(page, shown.substr(0, how)));
    CHECK(has(page, shown.substr(rest)));
  }

  TEST_CASE("cli - what to measure first as a table and as JSON") {
    const Folder folder;
    const Result csv = folder.run("plan garden.yaml --doubts --format csv");
    CHECK(csv.exit == 0);
    CHECK(has(csv.out, "input,zone,taken,from,to,minutes,minutes_from,minutes_to,"));
    CHECK(
        has(csv.out, "\n\"plants.coefficient\",\"pots by the door\",\"1.00\",\"0.50\",\"2.40\","));
    CHECK(has(csv.out, "\n\"emitters.uniformity\",\"terrace bed\",\"85 %\",\"65 %\",\"95 %\","));
    const Result json = folder.run("plan garden.yaml --doubts --format json");
    CHECK(json.exit == 0);
    CHECK(has(json.out, "\"input\": \"emitters.uniformity\""));
    // As many as the table has rows.
    long doubts = 0;
    for (std::size_t at = 0; (at = json.out.find("\"change_minutes\"", at)) != std::string::npos;
         ++at)
      ++doubts;
    CHECK(doubts == lines(csv.out) - 1);
    CHECK(folder.run("plan garden.yaml --doubts --explain 'terrace bed'").exit == 2);
  }

  TEST_CASE("cli - a shared valve says which zone decides and what the others lose") {
    const Folder folder;
    folder.replace("garden.yaml", "valve: 1\n", "valve: 1\n    shared valve: yes\n");
    folder.replace("garden.yaml", "valve: 2\n", "valve: 1\n    shared valve: yes\n");
    const Result result = folder.run("plan garden.yaml");
    CHECK(has(result.out, "Shares the valve and decides its minutes."));
    CHECK(has(result.out, "Shares the valve: terrace bed decides, and "));
  }

  TEST_CASE("cli - a zone that cannot be kept moist ends with 1 and says what would mend it") {
    const Folder folder;
    folder.replace("garden.yaml", "volume: 20 L, diameter: 32 cm, canopy: 45 cm",
                   "volume: 0.4 L, diameter: 32 cm, canopy: 60 cm");
    const Result result = folder.run("plan garden.yaml");
    CHECK(result.exit == 1);
    CHECK(has(result.out, "FALLS SHORT"));
    CHECK(has(result.out, "WOULD HELP IN PART"));
  }

  TEST_CASE("cli - what falls short is told in mm and days, and what would mend it in order") {
    const Folder folder;
    folder.replace("garden.yaml", "[\"04:30-08:00\", \"20:30-22:30\"]", "[\"04:30-05:30\"]");
    const Result result = folder.run("plan garden.yaml");
    CAPTURE(result.out);
    CHECK(result.exit == 1);
    const std::size_t falls_short = result.out.find("\nFALLS SHORT\n  terrace bed: from ");
    const std::size_t mend = result.out.find("\nWOULD MEND IT\n  1. watering hours 04:30-05:");
    REQUIRE(falls_short != std::string::npos);
    REQUIRE(mend != std::string::npos);
    CHECK(falls_short < mend);
    const std::string remedies = result.out.substr(mend);
    CHECK(has(result.out.substr(falls_short, mend - falls_short), " mm too dry on "));
    CHECK(has(remedies, "then nothing falls short; "));
    CHECK(has(remedies, "\n  2. "));
    CHECK(has(remedies, "\n  3. "));
    std::istringstream shown(result.out);
    for (std::string line; std::getline(shown, line);) CHECK_MESSAGE(line.size() <= 80, line);

    const Result json = folder.run("plan garden.yaml --format json");
    CHECK(json.exit == 1);
    for (const char* part : {"\"shortfalls\": [", "\"beyond_mm_a_day\": ", "\"days_beyond\": ",
                             "\"remedies\": [", "\"does\": \"watering hours 04:30-05:"})
      CHECK_MESSAGE(has(json.out, part), part);
  }

  TEST_CASE("cli - hard weeks and places") {
    struct Hard {
      const char* from;
      const char* to;
      const char* part;
    };
    for (const Hard& hard : {Hard{"latitude: 38.72", "latitude: -38.72", "terrace bed"},
                             Hard{"latitude: 38.72", "latitude: 70", "terrace bed"},
                             Hard{"Europe/Lisbon", "Asia/Kolkata", "terrace bed"},
                             Hard{"elevation: 95 m", "elevation: 310 ft", "terrace bed"},
                             Hard{"area: 18 m2", "area: 194 sq ft", "terrace bed"}}) {
      const Folder folder;
      folder.replace("garden.yaml", hard.from, hard.to);
      CAPTURE(hard.to);
      const Result result = folder.run("plan garden.yaml");
      CAPTURE(result.err);
      // Radiation of 38.72 N is more than a place far south can have in July: refused, and said so.
      if (std::string(hard.to) == "latitude: -38.72") {
        CHECK(result.exit == 3);
        CHECK(has(result.err, "radiation"));
      } else {
        CHECK(result.exit == 0);
        CHECK(has(result.out, hard.part));
      }
    }
    const Folder no_rain;
    std::string weather;
    std::istringstream rows(no_rain.text("weather.csv"));
    for (std::string line; std::getline(rows, line);)
      weather += (line[0] == '#' ? line : line.substr(0, line.rfind(','))) + "\n";
    no_rain.write("weather.csv", weather);
    CHECK(no_rain.run("plan garden.yaml").exit == 0);
    CHECK(has(no_rain.run("check garden.yaml").out, "rain"));
    CHECK(lines(no_rain.run("plan garden.yaml").out) > 10);
  }
}

}  // namespace runnel

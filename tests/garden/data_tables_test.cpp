// Every table of data/, whoever reads it: no row without a source, no figure outside the range that
// stands beside it, no name twice.
#include <doctest/doctest.h>

#include <filesystem>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/garden/files.hpp"
#include "runnel/units/csv.hpp"
#include "runnel/units/number.hpp"

namespace runnel {
namespace {

/// What names a row where its first column alone does not.
const std::map<std::string, std::vector<std::string>>& keys() {
  static const std::map<std::string, std::vector<std::string>> keys{
      {"intake", {"texture", "arrival"}},
      {"crop_stages", {"crop", "ini", "dev", "mid", "late", "planting", "region"}}};
  return keys;
}

class DataTable {
 public:
  DataTable(std::string_view csv, std::string name) : name_(std::move(name)) {
    Read<CsvTable> read = split_csv(csv, name_);
    for (const Finding& finding : read.findings) faults_.push_back(to_text(finding));
    if (read.value) table_ = std::move(*read.value);
  }

  std::vector<std::string> faults() {
    if (!faults_.empty()) return faults_;
    if (table_.rows() == 0) fault("there are no rows");
    if (table_.column("source") < 0) fault("no column source");
    if (!faults_.empty()) return faults_;
    check_sources();
    check_names();
    for (const CsvCell& header : table_.header()) check_range(std::string(header.text));
    return faults_;
  }

 private:
  void fault(std::string says) { faults_.push_back(name_ + ": " + std::move(says)); }

  [[nodiscard]] std::string_view cell(std::size_t row, std::string_view column) const {
    return table_.row(row)[static_cast<std::size_t>(table_.column(column))].text;
  }

  void check_sources() {
    for (std::size_t i = 0; i < table_.rows(); ++i)
      if (cell(i, "source").empty()) fault("a row has no source");
  }

  void check_names() {
    std::set<std::string> seen;
    const auto known = keys().find(name_);
    for (std::size_t i = 0; i < table_.rows(); ++i) {
      std::string key;
      if (known == keys().end()) {
        key = lower(table_.row(i)[0].text);
      } else {
        for (const std::string& column : known->second) key += lower(cell(i, column)) + "|";
      }
      if (!seen.insert(key).second) fault(key + " is there twice");
    }
  }

  /// "kc_mid_low" goes with "kc_mid_high" and, where there is one, bounds "kc_mid".
  void check_range(const std::string& low) {
    const std::size_t at = low.find("low");
    const bool part_of_name = at != std::string::npos && (at == 0 || low[at - 1] == '_');
    if (!part_of_name) return;
    std::string high = low;
    high.replace(at, 3, "high");
    if (table_.column(high) < 0) return;
    std::string value = "factor";
    if (at > 0) (value = low).erase(at - 1, 4);
    if (value == "root_m") value = "root_depth_m";
    for (std::size_t i = 0; i < table_.rows(); ++i) {
      const auto least = parse_number(cell(i, low));
      const auto most = parse_number(cell(i, high));
      if (!least && !most) continue;
      if (!least || !most || *least > *most) {
        fault(low + " and " + high + " are no range");
        continue;
      }
      if (table_.column(value) < 0) continue;
      const auto taken = parse_number(cell(i, value));
      if (!taken || *taken < *least || *taken > *most)
        fault(value + " lies outside " + low + " to " + high);
    }
  }

  std::string name_;
  CsvTable table_;
  std::vector<std::string> faults_;
};

std::size_t faults(const std::string& csv, const std::string& name = "bad") {
  return DataTable(csv, name).faults().size();
}

}  // namespace

TEST_SUITE("data") {
  TEST_CASE("every table of data - sources and ranges and names") {
    int tables = 0;
    for (const auto& entry : std::filesystem::directory_iterator(RUNNEL_SOURCE_DIR "/data")) {
      if (entry.path().extension() != ".csv") continue;
      const std::string text = read_file(entry.path().string());
      for (const std::string& fault : DataTable(text, entry.path().stem().string()).faults())
        FAIL_CHECK(fault);
      ++tables;
    }
    CHECK(tables >= 11);
  }

  TEST_CASE("the check of data tables finds each fault") {
    const std::string header = "name,kc,kc_low,kc_high,h_m,h_low_m,h_high_m,source\n";
    const std::string good = "a,0.5,0.4,0.6,1,1,1,FAO-56\n";
    CHECK(faults(header + good) == 0);
    CHECK(faults(header) == 1);                                          // no rows
    CHECK(faults(header + good + "b,0.5,0.4,0.6,1,1,1,\n") == 1);        // no source
    CHECK(faults(header + good + "b,0.7,0.4,0.6,1,1,1,FAO-56\n") == 1);  // above its range
    CHECK(faults(header + good + "b,0.3,0.4,0.6,1,1,1,FAO-56\n") == 1);  // below its range
    CHECK(faults(header + good + "b,,0.4,0.6,1,1,1,FAO-56\n") == 1);     // not there
    CHECK(faults(header + good + "b,0.5,0.6,0.4,1,1,1,FAO-56\n") == 1);  // a range upside down
    CHECK(faults(header + good + "b,0.5,0.4,,1,1,1,FAO-56\n") == 1);     // half a range
    CHECK(faults(header + good + "b,0.5,0.4,0.6,2,1,1,FAO-56\n") == 1);  // with a unit behind
    CHECK(faults(header + good + "A,0.5,0.4,0.6,1,1,1,FAO-56\n") == 1);  // twice
    CHECK(faults(header + good + "b,0.5,0.4,0.6,1,1,FAO-56\n") == 1);    // a field too few
    CHECK(faults("name,kc\na,0.5\n") == 1);                              // no column source
    CHECK(faults("words,factor,low,high,source\na,0.9,0.1,0.8,x\n") == 1);
    CHECK(faults("kind,root_depth_m,root_low_m,root_high_m,source\na,0.9,0.1,0.8,x\n") == 1);
    const std::string intake = "texture,arrival,source\nsand,drip,x\nsand,overhead,x\n";
    CHECK(faults(intake, "intake") == 0);
    CHECK(faults(intake + "sand,drip,x\n", "intake") == 1);
  }
}

}  // namespace runnel

#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/finding.hpp"
#include "runnel/units/quantity.hpp"

namespace runnel {

/// One can of a catch-can test, and where it stood.
struct CatchCan {
  std::string name;
  double depth_mm;  ///< caught, over its mouth
  std::optional<double> x_m, y_m;
};

/// Cans set out over a zone while its valve ran.
struct CatchCanTest {
  std::vector<CatchCan> cans;
  Duration run;
  [[nodiscard]] bool has_positions() const;  ///< of every can
};

/// What the test shows.
struct CatchCanResult {
  std::size_t cans, low_cans;  ///< all, and those of the low quarter (n / 4, to the nearest)
  double mean_mm, low_quarter_mm;
  Rate rate;  ///< mean depth / time: net of evaporation and drift
  double du;  ///< low-quarter distribution uniformity, 0-1
  double cu;  ///< Christiansen's coefficient, 0-1
};
/// @throws std::invalid_argument unless the time is > 0 and some can caught water.
[[nodiscard]] CatchCanResult catch_can_result(const CatchCanTest& test);

/// What a test file need not say because the command line does.
struct CatchCanLayout {
  std::optional<Duration> run;
  std::optional<Area> mouth;  ///< of a can; only volumes need it
};

/// Cans the result can be trusted with: at least 20 in a zone. University of Minnesota Extension,
/// Auditing home lawn irrigation systems. Fewer are a doubt.
constexpr std::size_t cans_wanted = 20;
/// Fewer are an error: without four there is no low quarter.
constexpr std::size_t cans_needed = 4;

/// Reads a test: a CSV with the columns `can` and `volume` or `depth`, optionally `x` and `y`,
/// each but `can` with its unit in brackets ("volume [mL]", "depth [in]", "x [m]"). Comment lines
/// may state "# run: 5 min" and "# mouth: 16.6 sq in", or the diameter, "# mouth: 11.7 cm"; what
/// `layout` says goes before them. Errors: what split_csv refuses, a column missing or without a
/// unit, a value that is no number or below 0, a can or a place twice, fewer than four cans, none
/// with water in it, no time or mouth, or one that is not above 0.
/// @param name of the file, for the findings.
[[nodiscard]] Read<CatchCanTest> parse_catch_cans(std::string_view csv, std::string_view name,
                                                  const CatchCanLayout& layout);

/// Area of a mouth from its area or its diameter: "16.6 sq in", "11.7 cm".
struct MouthOrFault {
  std::optional<Area> mouth;
  std::string fault, mend;
};
/// The mouth, or what is wrong with the text in words that fit an error message.
[[nodiscard]] MouthOrFault parse_mouth(std::string_view text);

}  // namespace runnel

#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/garden/plan_garden.hpp"

namespace runnel {

/// A row of data/doubts.csv.
struct DoubtRow {
  std::string doubt;  ///< its name
  std::string input;  ///< as the garden file calls it
  std::optional<double> low, high;
  std::string how, write, source;
};
using DoubtTable = std::vector<DoubtRow>;
/// Errors: as parse_soil_table; further half a range, or one upside down.
[[nodiscard]] Read<DoubtTable> parse_doubt_table(std::string_view csv, std::string_view name);
/// The table compiled in, read once.
[[nodiscard]] const DoubtTable& doubt_table();
/// @throws std::invalid_argument when there is none of that name.
[[nodiscard]] const DoubtRow& doubt_row(std::string_view doubt);

/// An input that can be moved: its value as taken and at both ends, and how a garden gets those.
struct UncertainInput {
  const DoubtRow* row;
  std::optional<std::size_t> zone;  ///< nothing: the garden's own, for which weather is read anew
  std::string taken, low, high;     ///< values with their units
  std::function<void(Garden&)> put_low, put_high;
  std::string input = {};  ///< where the row's name for it is not the one
};

/// One zone of a planned garden, and the inputs that are found in doubt.
class UncertainZone {
 public:
  UncertainZone(const Garden& garden, const GardenPlan& planned, std::size_t index,
                std::vector<UncertainInput>& inputs)
      : garden_(garden), planned_(planned), index_(index), inputs_(inputs) {}

  [[nodiscard]] const Garden& garden() const { return garden_; }
  [[nodiscard]] const GardenPlan& planned() const { return planned_; }
  [[nodiscard]] std::size_t index() const { return index_; }
  [[nodiscard]] const Zone& zone() const { return garden_.zones[index_]; }
  [[nodiscard]] const PreparedZone& prepared() const { return planned_.zones[index_]; }
  [[nodiscard]] bool in_pots() const { return zone().containers.has_value(); }
  /// Whether the garden file states that entry of the zone: "soil.slope".
  [[nodiscard]] bool states(const std::string& key) const;

  using Text = std::function<std::string(double)>;
  using Put = std::function<void(Zone&, double)>;
  /// With its unit, as the garden is displayed.
  [[nodiscard]] Text shown_as(Shown kind, int decimals) const;
  /// A value that runs from low to high, and as far as what is taken; nothing where these do not
  /// differ.
  void add(std::string_view doubt, double taken, double low, double high, const Text& text,
           const Put& put) const;
  /// The same with the range of the row. @throws std::invalid_argument where it has none.
  void add(std::string_view doubt, double taken, const Text& text, const Put& put) const;
  /// One that has no figure for its ends.
  void add(UncertainInput input) const;

 private:
  const Garden& garden_;
  const GardenPlan& planned_;
  std::size_t index_;
  std::vector<UncertainInput>& inputs_;
};

// By subject, each in a file of its own.
void add_uncertain_delivery(const UncertainZone& of);
void add_uncertain_plants(const UncertainZone& of);
void add_uncertain_ground(const UncertainZone& of);
void add_uncertain_pots(const UncertainZone& of);
void add_uncertain_exposure(const UncertainZone& of);
[[nodiscard]] std::vector<UncertainInput> uncertain_site(const Garden& garden,
                                                         const GardenPlan& planned);

/// "65 %".
[[nodiscard]] std::string in_percent(double share);
/// "0.50".
[[nodiscard]] std::string as_factor(double factor);

}  // namespace runnel

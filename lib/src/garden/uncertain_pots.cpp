#include "runnel/demand/containers.hpp"
#include "runnel/units/number.hpp"
#include "uncertain_inputs.hpp"
#include "zone_parts.hpp"

namespace runnel {
namespace {

void add_shape(const UncertainZone& of, const ContainersEntry& entry) {
  const Containers pots = pots_of(entry);
  if (!entry.canopy_diameter_m) {
    const DoubtRow& row = doubt_row("canopy");
    of.add("canopy", pots.canopy_diameter_m, row.low.value() * entry.mouth_diameter_m,
           row.high.value() * entry.mouth_diameter_m, of.shown_as(Shown::size, 0),
           [](Zone& zone, double across_m) { zone.containers->canopy_diameter_m = across_m; });
  }
  if (!entry.height_m && !entry.easily_available) {
    const DoubtRow& row = doubt_row("height");
    const auto height_m = [&entry](double taper) {
      return pot_height_m(entry.volume_l, entry.mouth_diameter_m, taper);
    };
    of.add("height", pots.height_m, height_m(row.high.value()), height_m(row.low.value()),
           of.shown_as(Shown::size, 0),
           [](Zone& zone, double up_m) { zone.containers->height_m = up_m; });
  }
}

/// What a pot of that height holds easily when the medium is one of the range.
void add_medium(const UncertainZone& of, const ContainersEntry& entry) {
  if (entry.easily_available) return;
  const MediaTable media = media_table();
  const Medium& medium = *find_medium(media, entry.medium);
  const Containers pots = pots_of(entry);
  const auto drained = [&](double easily_available) {
    Medium other = medium;
    other.easily_available = easily_available;
    return drained_pot(pots, other).easily_available;
  };
  of.add("medium", drained(medium.easily_available), drained(medium.easily_available_low),
         drained(medium.easily_available_high), in_percent,
         [](Zone& zone, double share) { zone.containers->easily_available = share; });
}

void add_place(const UncertainZone& of, const ContainersEntry& entry) {
  if (of.zone().plants.coefficient) return;
  const PotPlaceTable places = pot_place_table();
  const PotPlace& place = *find_pot_place(places, entry.placed);
  of.add("placed", place.factor, place.low, place.high, as_factor,
         [factor = place.factor](Zone& zone, double value) {
           zone.plants.times_coefficient = value / factor;
         });
}

}  // namespace

void add_uncertain_pots(const UncertainZone& of) {
  if (!of.in_pots()) return;
  const ContainersEntry& entry = *of.zone().containers;
  add_shape(of, entry);
  add_medium(of, entry);
  add_place(of, entry);
  if (!of.states("containers.leaching"))
    of.add("leaching", entry.leaching_share, in_percent,
           [](Zone& zone, double share) { zone.containers->leaching_share = share; });
}

}  // namespace runnel

// A depth over an area is a volume: an inch of water over 1000 square feet.
// 623.4 gal = 1000 x 144 / 231, by the definitions of foot, inch and US gallon (NIST SP 811).
#include <iostream>

#include "runnel/units/number.hpp"
#include "runnel/units/quantity.hpp"
#include "runnel/units/unit_table.hpp"

int main() {
  using namespace runnel;
  const Depth depth = Depth::mm(parse_measure("1 in", Dimension::depth).value);
  const Area area = Area::m2(parse_measure("1000 sq ft", Dimension::area).value);
  const Volume water = depth * area;
  const double litres_per_gallon = find_unit("gal", Dimension::volume)->factor;
  std::cout << fixed(water.litres(), 1) << " L, " << fixed(water.litres() / litres_per_gallon, 1)
            << " gal\n";

  const MeasureOrFault bare = parse_measure("18", Dimension::area);
  std::cout << bare.fault << " (" << bare.mend << ")\n";
}

// From a garden file to the week's programme: garden GARDEN.yaml
#include "runnel/garden/garden.hpp"

#include <iostream>

#include "runnel/garden/files.hpp"
#include "runnel/garden/plan_garden.hpp"

int main(int count, char** words) {
  using namespace runnel;
  if (count != 2) return 2;
  try {
    std::vector<Finding> findings;
    const Garden garden = value_or_throw(read_garden(read_file(words[1]), words[1]), findings);
    const Plan plan = plan_garden(garden, {}).plan;
    std::cout << garden.name << ", from " << short_date(plan.from) << '\n';
    for (const ValveTimes& valve : plan.valves) {
      std::cout << "valve " << valve.valve << ": " << to_text(valve.days);
      for (const ValveTimes::Opening& opening : valve.openings)
        std::cout << ", " << clock(opening.start) << " for " << opening.length.count() << " min";
      std::cout << '\n';
    }
  } catch (const InputError& error) {
    std::cerr << error.what() << '\n';
    return 3;
  }
}

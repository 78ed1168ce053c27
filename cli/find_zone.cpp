#include "find_zone.hpp"

#include <algorithm>
#include <string_view>
#include <vector>

#include "runnel/units/nearest.hpp"

namespace runnel::cli {

std::size_t find_zone(const Garden& garden, const std::string& name) {
  std::vector<std::string_view> names;
  for (const Zone& zone : garden.zones) names.push_back(zone.name);
  const auto found = std::find(names.begin(), names.end(), name);
  if (found != names.end()) return static_cast<std::size_t>(found - names.begin());
  std::string mend;
  if (const auto near = nearest(name, names)) {
    mend = "did you mean " + quoted(*near) + "?";
  } else {
    for (const std::string_view zone : names)
      mend += (mend.empty() ? "its zones: " : ", ") + std::string(zone);
  }
  throw InputError(Finding{.kind = Finding::Kind::error,
                           .at = in_file(garden.file),
                           .says = "no zone is called " + quoted(name),
                           .mend = mend});
}

}  // namespace runnel::cli

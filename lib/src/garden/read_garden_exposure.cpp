#include "read_garden_parts.hpp"
#include "runnel/units/number.hpp"

namespace runnel {
namespace {

// Limits against slips of the pen (a unit mistaken, a digit too many); no source.
constexpr Range any_exposure{.least = 0.05, .most = 2.0};

}  // namespace

ExposureEntry read_exposure(YamlField field) {
  ExposureEntry exposure;
  exposure.at = field.or_else("open to the sky all day: exposure factor 1").place();
  if (!field.is_map()) {
    const auto words = field.written() ? field.text() : std::nullopt;
    if (!words) return exposure;
    exposure.words = *words;
    exposure.factor = exposure_factor(field).value_or(1.0);
    return exposure;
  }
  YamlMap map = field.map();
  const YamlField factor = map.field("factor").needed("factor: 0.8");
  exposure.factor = factor.number(any_exposure).value_or(1.0);
  map.refuse_others();
  // Costello et al. (2000) give 0.5-1.4 for their microclimate factor; computed deep shade lies
  // lower.
  if (exposure.factor < 0.4 || exposure.factor > 1.4) {
    factor.doubt("an exposure factor of " + shortest(exposure.factor) + " is out of the ordinary",
                 "deep shade is about 0.4, a hot paved court about 1.4");
  }
  return exposure;
}

}  // namespace runnel

#include "runnel/demand/exposure_words.hpp"
#include "runnel/units/number.hpp"
#include "zone_parts.hpp"

namespace runnel {

ZoneExposure zone_exposure(const ZoneContext& context) {
  const ExposureEntry& entry = context.zone.exposure;
  std::string source = own_figure;
  if (!entry.words.empty()) {
    const ExposureTable table = exposure_table();
    source = find_exposure(table, entry.words)->source;
  }
  context.fact("exposure factor", fixed(entry.factor, 2), source);
  return {.factor = Column::Constant(context.days(), entry.factor),
          .et_mm = context.weather.eto_mm * entry.factor};
}

}  // namespace runnel

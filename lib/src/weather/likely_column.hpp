#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "runnel/weather/series.hpp"

namespace runnel {

/// What a header that is none of the known spellings probably means.
struct LikelyColumn {
  Variable variable;
  std::string mapping;  ///< the header as a mapping takes it: "Max Temp F [degF]"
};
/// By the words of the header: "Max Temp F" is the highest temperature, in degF. Nothing where they
/// say too little.
[[nodiscard]] std::optional<LikelyColumn> likely_column(std::string_view header);

}  // namespace runnel

#include "runnel/demand/growth_stages.hpp"

#include <algorithm>
#include <stdexcept>

namespace runnel {
namespace {

/// FAO-56 Eq. 66 at any moment; a stage of no days is a step.
double value_at(double day, const StageLengths& lengths, const StageValues& values) {
  double stage_day = day - lengths.ini;
  if (stage_day <= 0.0) return values.ini;
  if (stage_day < lengths.dev)
    return values.ini + stage_day / lengths.dev * (values.mid - values.ini);
  stage_day -= lengths.dev + lengths.mid;
  if (stage_day <= 0.0) return values.mid;
  if (stage_day < lengths.late)
    return values.mid + stage_day / lengths.late * (values.end - values.mid);
  return values.end;
}

}  // namespace

double stage_value(int day, const StageLengths& lengths, const StageValues& values) {
  return value_at(day, lengths, values);
}

double mean_stage_value(double from_day, double to_day, const StageLengths& lengths,
                        const StageValues& values) {
  if (!(from_day < to_day)) throw std::invalid_argument("mean_stage_value: from must be before to");
  // Between the ends of stages the line is straight, so that the value half-way is the mean.
  const double dev = lengths.ini, mid = dev + lengths.dev, late = mid + lengths.mid,
               after = late + lengths.late;
  double sum = 0.0;
  double piece_from = from_day;
  for (const double knot : {dev, mid, late, after, to_day}) {
    const double piece_to = std::min(knot, to_day);
    if (piece_to <= piece_from) continue;
    sum += (piece_to - piece_from) * value_at(0.5 * (piece_from + piece_to), lengths, values);
    piece_from = piece_to;
  }
  return sum / (to_day - from_day);
}

}  // namespace runnel

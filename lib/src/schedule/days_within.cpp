#include "runnel/schedule/days_within.hpp"

namespace runnel {
namespace {

Column head(const Column& column, Eigen::Index days) {
  return column.size() == 0 ? column : Column(column.head(days));
}

}  // namespace

Outcome first_days(const ZoneTask& task, const Waterings& waterings, Eigen::Index days) {
  const ZoneModel model{.kc = head(task.model.kc, days),
                        .taw_mm = head(task.model.taw_mm, days),
                        .kc_max = head(task.model.kc_max, days),
                        .cover = head(task.model.cover, days)};
  const Horizon horizon{.et_mm = task.horizon.et_mm.leftCols(days),
                        .rain_mm = task.horizon.rain_mm.leftCols(days)};
  Waterings first = waterings;
  if (first.net_mm.size() > 0) first.net_mm = Eigen::ArrayXXd(waterings.net_mm.leftCols(days));
  return balance(task.root_zone, task.start, model, horizon, first);
}

Eigen::Index futures_beyond(const Outcome& outcome) { return (outcome.days_beyond > 0).count(); }

bool stays_within(const Outcome& outcome, double risk) {
  return futures_beyond(outcome) <= allowed_beyond(outcome.days_beyond.size(), risk);
}

int days_within(const ZoneTask& task, const Waterings& waterings, double risk) {
  // Once beyond, a future has been beyond: more days never have fewer such futures.
  Eigen::Index within = 0;
  Eigen::Index beyond = task.horizon.et_mm.cols() + 1;
  while (within + 1 < beyond) {
    const Eigen::Index middle = within + (beyond - within) / 2;
    (stays_within(first_days(task, waterings, middle), risk) ? within : beyond) = middle;
  }
  return static_cast<int>(within);
}

}  // namespace runnel

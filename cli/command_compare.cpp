#include <ostream>

#include "commands.hpp"
#include "compare_report.hpp"
#include "find_zone.hpp"
#include "planned_garden.hpp"
#include "print.hpp"
#include "runnel/garden/files.hpp"
#include "runnel/garden/plan_garden.hpp"
#include "sheet/compare_page.hpp"

namespace runnel::cli {
namespace {

std::string zones_report(const std::string& format, const Garden& garden,
                         const GardenPlan& planned) {
  if (format == "csv") return compare_csv(planned);
  if (format == "json") return compare_json(garden, planned);
  if (format == "html") return compare_html(garden, planned);
  return compare_text(garden, planned);
}

std::string pair_report(const std::string& format, const Garden& garden, const GardenPlan& planned,
                        const ZonePair& pair) {
  if (format == "csv") return between_csv(planned, pair);
  if (format == "json") return between_json(planned, pair);
  return between_text(garden, planned, pair);
}

}  // namespace

int compare(const CompareOptions& options, const Streams& streams) {
  if (!options.between.empty() && options.format == "html") {
    streams.err << "runnel compare: --between has no html form (text, csv or json)\n";
    return wrong_usage;
  }
  std::vector<Finding> findings;
  const Garden garden = displayed_garden(options.garden, options.display, options.format, findings);
  std::optional<ZonePair> pair;
  if (!options.between.empty())
    pair = ZonePair{.zone = find_zone(garden, options.between.at(0)),
                    .other = find_zone(garden, options.between.at(1))};
  const GardenPlan planned = plan_garden(garden, {.from = options.from});
  findings.insert(findings.end(), planned.findings.begin(), planned.findings.end());

  streams.out << (pair ? pair_report(options.format, garden, planned, *pair)
                       : zones_report(options.format, garden, planned));
  print_doubts(findings, streams.err);
  return done;
}

}  // namespace runnel::cli

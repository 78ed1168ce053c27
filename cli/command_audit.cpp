#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "audit_report.hpp"
#include "commands.hpp"
#include "print.hpp"
#include "runnel/garden/files.hpp"
#include "runnel/units/nearest.hpp"
#include "runnel/units/published_table.hpp"
#include "runnel/units/unit_table.hpp"

namespace runnel::cli {
namespace {

/// A mistake on the command line.
struct Usage {
  std::string says;
};

CatchCanLayout layout_of(const AuditOptions& options) {
  CatchCanLayout layout;
  if (!options.run.empty()) {
    const MeasureOrFault run = parse_measure(options.run, Dimension::duration);
    if (!run.fault.empty()) throw Usage{"--run: " + run.fault + " (" + run.mend + ")"};
    if (!(run.value > 0.0))
      throw Usage{"--run: " + options.run + " is no time at all (state how long the valve ran)"};
    layout.run = Duration::minutes(run.value);
  }
  if (!options.mouth.empty()) {
    const MouthOrFault mouth = parse_mouth(options.mouth);
    if (!mouth.mouth) throw Usage{"--mouth: " + mouth.fault + " (" + mouth.mend + ")"};
    if (!(mouth.mouth->m2() > 0.0))
      throw Usage{"--mouth: " + options.mouth + " is no size (measure the can across)"};
    layout.mouth = mouth.mouth;
  }
  return layout;
}

EmitterType type_of(const std::string& name) {
  const std::vector<EmitterType> types = emitter_types(published_table("emitters"));
  if (const EmitterType* type = find_emitter_type(types, name)) return *type;
  std::vector<std::string_view> known;
  std::string listed;
  for (const EmitterType& type : types) {
    known.push_back(type.name);
    listed += (listed.empty() ? "" : ", ") + type.name;
  }
  const auto guess = nearest(name, known);
  throw Usage{"--type: no type of emitter is called " + quoted(name) +
              (guess ? " (did you mean " + quoted(*guess) + "?)" : " (known: " + listed + ")")};
}

std::optional<UniformityRating> rating_of(const EmitterType& type) {
  for (UniformityRating& rating : uniformity_ratings(published_table("uniformity_ratings")))
    if (rating.type == type.name) return std::move(rating);
  return std::nullopt;
}

}  // namespace

int audit(const AuditOptions& options, const Streams& streams) {
  try {
    const CatchCanLayout layout = layout_of(options);
    const EmitterType type = type_of(options.type);
    std::vector<Finding> findings;
    const std::string text = read_file(options.file);
    CatchCanTest test = value_or_throw(parse_catch_cans(text, options.file, layout), findings);
    const CatchCanResult result = catch_can_result(test);
    const Audit audit{.file = options.file,
                      .test = std::move(test),
                      .result = result,
                      .type = type,
                      .rating = rating_of(type)};
    if (options.format == "csv") {
      streams.out << audit_csv(audit);
    } else {
      streams.out << (options.format == "json" ? audit_json(audit)
                                               : audit_text(audit, options.display));
    }
    print_doubts(findings, streams.err);
    return done;
  } catch (const Usage& usage) {
    streams.err << "runnel audit: " << usage.says << '\n';
    return wrong_usage;
  }
}

}  // namespace runnel::cli

#include "runnel/delivery/emitters.hpp"

#include <cmath>
#include <stdexcept>

#include "runnel/demand/table_reader.hpp"
#include "runnel/units/number.hpp"

namespace runnel {
namespace {

double positive(double value, const char* what) {
  if (!(std::isfinite(value) && value > 0.0)) {
    throw std::invalid_argument(std::string("zone_flow: ") + what + " must be > 0");
  }
  return value;
}

struct FlowOver {
  Area area;

  Flow operator()(const Drippers& drippers) const {
    positive(drippers.each.litres_per_hour(), "a dripper's flow");
    return drippers.each * positive(drippers.count, "the number of drippers");
  }
  Flow operator()(const Dripline& line) const {
    positive(line.each.litres_per_hour(), "an emitter's flow");
    const Area ground_of_one = Area::m2(positive(line.spacing_m, "the emitter spacing") *
                                        positive(line.row_spacing_m, "the row spacing"));
    return line.each / ground_of_one * area;
  }
  Flow operator()(const SoakerHose& hose) const {
    positive(hose.per_metre.litres_per_hour(), "a hose's flow per metre");
    return hose.per_metre * positive(hose.length_m, "the hose's length");
  }
  Flow operator()(const Heads& all) const {
    positive(static_cast<double>(all.heads.size()), "the number of heads");
    Flow flow = Flow::litres_per_hour(0.0);
    for (const Head& head : all.heads) {
      positive(head.each.litres_per_hour(), "a head's flow");
      flow = flow + head.each * positive(head.count, "the number of heads");
    }
    return flow;
  }
  Flow operator()(const MeasuredFlow& measured) const {
    positive(measured.total.litres_per_hour(), "the measured flow");
    return measured.total;
  }
  Flow operator()(const MeasuredRate& measured) const {
    positive(measured.rate.mm_per_hour(), "the measured rate");
    return measured.rate * area;
  }
};

bool yes_or_no(TableReader& reader, std::string_view column) {
  const std::string text = reader.text(column);
  if (!text.empty() && text != "yes" && text != "no") {
    reader.fault(column, quoted(text) + " is neither yes nor no");
  }
  return text == "yes";
}

EmitterType read_type(TableReader& reader) {
  EmitterType type{
      .name = reader.text("type"),
      .drip = yes_or_no(reader, "drip"),
      .du = reader.number_within("du", "du_low", "du_high"),
      .du_low = reader.number_if_any("du_low").value_or(0.0),
      .du_high = reader.number_if_any("du_high").value_or(0.0),
      .rate_low_mm_h = reader.number("rate_low_mm_h"),
      .rate_high_mm_h = reader.number("rate_high_mm_h"),
      .fw = reader.number_within("fw", "fw_low", "fw_high"),
      .fw_low = reader.number_if_any("fw_low").value_or(0.0),
      .fw_high = reader.number_if_any("fw_high").value_or(0.0),
      .source = reader.text("source"),
  };
  if (!(type.du_low > 0.0)) reader.fault("du_low", "must be > 0");
  if (!(type.du_high <= 1.0)) reader.fault("du_high", "must be <= 1");
  if (!(type.rate_low_mm_h > 0.0)) reader.fault("rate_low_mm_h", "must be > 0");
  if (!(type.rate_high_mm_h >= type.rate_low_mm_h)) {
    reader.fault("rate_high_mm_h", "is below rate_low_mm_h");
  }
  if (!(type.fw_low > 0.0)) reader.fault("fw_low", "must be > 0");
  if (!(type.fw_high <= 1.0)) reader.fault("fw_high", "must be <= 1");
  return type;
}

}  // namespace

Flow zone_flow(const EmitterSpec& spec, Area area) {
  positive(area.m2(), "the area");
  return std::visit(FlowOver{area}, spec);
}

bool is_rated(const EmitterSpec& spec) {
  return !std::holds_alternative<MeasuredFlow>(spec) && !std::holds_alternative<MeasuredRate>(spec);
}

std::vector<EmitterType> emitter_types(std::string_view csv) {
  TableReader reader(csv, "emitters.csv",
                     {"type", "drip", "du", "du_low", "du_high", "rate_low_mm_h", "rate_high_mm_h",
                      "fw", "fw_low", "fw_high", "source"});
  std::vector<EmitterType> types;
  while (reader.next()) {
    EmitterType type = read_type(reader);
    if (find_emitter_type(types, type.name) != nullptr) {
      reader.fault("type", quoted(type.name) + " stands here twice");
    }
    types.push_back(std::move(type));
  }
  std::vector<Finding> findings;
  return value_or_throw(finish(reader, std::move(types)), findings);
}

const EmitterType* find_emitter_type(std::span<const EmitterType> types, std::string_view name) {
  const std::string wanted = lower(trimmed(name));
  for (const EmitterType& type : types) {
    if (lower(type.name) == wanted) return &type;
  }
  return nullptr;
}

}  // namespace runnel

#pragma once

#include <iosfwd>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/calendar.hpp"
#include "runnel/units/display.hpp"

namespace runnel::cli {

/// What the program ends with.
enum Exit : int {
  done = 0,
  falls_short = 1,  ///< done, but the plan cannot keep every zone unharmed
  wrong_usage = 2,
  unusable_input = 3,  ///< nothing was written
};

/// Results go to `out`, remarks and errors to `err`.
struct Streams {
  std::ostream& out;
  std::ostream& err;
  bool err_is_terminal = false;
};

struct NewOptions {
  std::string folder = ".";
  bool replace = false;
};
/// Writes an invented garden to start with: all of its files or none.
[[nodiscard]] int new_garden(const NewOptions& options, const Streams& streams);

struct PlanOptions {
  std::string garden;
  std::optional<Date> from, until;
  double risk = 0.10;
  std::string format = "text";  ///< text, csv, json, html or ics
  std::string save;             ///< file for the plan, or a folder for it; empty = none
  bool replace = false;
  std::string after;                  ///< plan file to carry on from, or its folder; empty = none
  std::string explain;                ///< a zone's name; empty = none
  int threads = 0;                    ///< for many gardens; 0 = as many as there are processors
  bool doubts = false;                ///< what to measure first, in place of the programme
  bool every_watering = false;        ///< in a calendar, beside the days to act
  std::optional<int> alarm_min = {};  ///< in a calendar, minutes before a day to act begins
  Display display = {};
};
[[nodiscard]] int plan(const PlanOptions& options, const Streams& streams);
/// What to change in the middle of a week. `after` must be given, `explain` is not looked at.
[[nodiscard]] int replan(const PlanOptions& options, const Streams& streams);
/// Several gardens on one sheet; `save` and `after` are folders, `garden` is not looked at. Ends
/// with 3 when a garden could not be planned (the others are), else 1 when one falls short.
[[nodiscard]] int plan_many(const std::vector<std::string>& gardens, PlanOptions options,
                            const Streams& streams);

struct CompareOptions {
  std::string garden;
  std::optional<Date> from;
  std::vector<std::string> between;  ///< names of two zones, or none
  std::string format = "text";
  Display display = {};
};
[[nodiscard]] int compare(const CompareOptions& options, const Streams& streams);

struct EtOptions {
  std::string weather;
  double latitude_deg = 0.0;
  std::string elevation;       ///< "95 m", "310 ft"
  double longitude_deg = 0.0;  ///< hourly files only
  double utc_offset_h = 0.0;   ///< hourly files only
  bool has_longitude = false, has_utc_offset = false;
  std::string wind_height = "2 m";
  std::string method = "fao56";      ///< fao56, asce-short, asce-tall, temperature
  std::vector<std::string> columns;  ///< "tmax=MX [degF]"
  bool hour_label_is_end = false, coast = false, dry_air = false;
  bool steps = false;
  std::string format = "text";
};
[[nodiscard]] int et(const EtOptions& options, const Streams& streams);

struct AuditOptions {
  std::string file;   ///< catch-can test
  std::string run;    ///< "15 min"; empty: the file states it
  std::string mouth;  ///< "11 cm", "16.6 sq in"; empty: the file states it, or has depths
  std::string type = "spray";
  std::string format = "text";  ///< text, csv or json
  Display display = {};
};
[[nodiscard]] int audit(const AuditOptions& options, const Streams& streams);

struct CheckOptions {
  std::string garden;
  Display display = {};
};
[[nodiscard]] int check(const CheckOptions& options, const Streams& streams);

/// Texts as typed; empty = not given.
struct LogOptions {
  std::string garden;
  std::string date, zone, note;
  bool did_not_run = false;
  std::string ran, by_hand, rain, depletion, feel, meter;
};
[[nodiscard]] int log(const LogOptions& options, const Streams& streams);

struct PlantsOptions {
  std::string word;             ///< part of a name or group; empty = all
  std::string format = "text";  ///< text or csv
};
[[nodiscard]] int plants(const PlantsOptions& options, const Streams& streams);

}  // namespace runnel::cli

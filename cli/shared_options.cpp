#include "shared_options.hpp"

#include "option_checks.hpp"

namespace runnel::cli {

void add_garden(CLI::App& command, std::string& garden) {
  add_value(command, "garden", garden, "Garden file (default: garden.yaml in this folder)",
            "GARDEN");
}

void add_from(CLI::App& command, std::string& date) {
  add_value(command, "--from", date, "First day (default: the day after the last observed one)",
            "DATE")
      ->check(is_date);
}

void add_format(CLI::App& command, std::string& format, const std::vector<std::string>& forms,
                const std::string& says) {
  command.add_option("--format", format, says)->check(CLI::IsMember(forms))->type_name("FORM");
}

void add_display(CLI::App& command, Display& display) {
  command
      .add_option_function<std::string>(
          "--units",
          [&display](const std::string& units) {
            display.units = units == "us" ? UnitSystem::us : UnitSystem::metric;
          },
          "metric (default) or us: inches, gallons, degrees F; csv and json stay metric")
      ->check(CLI::IsMember({"metric", "us"}))
      ->type_name("UNITS");
  command
      .add_option_function<std::string>(
          "--clock", [&display](const std::string& hours) { display.twelve_hours = hours == "12"; },
          "24 (default) or 12: times of day as 16:30 or 4:30 pm; csv and json keep 24")
      ->check(CLI::IsMember({"24", "12"}))
      ->type_name("HOURS");
}

void add_risk(CLI::App& command, PlanOptions& options) {
  add_value(command, "--risk", options.risk,
            "Share of futures that may go beyond a zone's limit (default 10%)", "SHARE")
      ->transform(is_risk);
}

void add_save(CLI::App& command, PlanOptions& options, const std::string& saves) {
  add_value(command, "--save", options.save, saves, "FILE");
  command.add_flag("--replace", options.replace, "Let --save write over existing files");
}

void add_calendar(CLI::App& command, PlanOptions& options) {
  command.add_flag("--every-watering", options.every_watering,
                   "With --format ics: each watering too, not only the days on which to act");
  add_value(command, "--alarm", options.alarm_min,
            "With --format ics: an alarm so long before each day on which to act begins, at "
            "midnight: \"4 h\" rings the evening before",
            "TIME")
      ->transform(is_lead_time);
}

}  // namespace runnel::cli

#include "command_line.hpp"
#include "option_checks.hpp"
#include "shared_options.hpp"

namespace runnel::cli {

CLI::App* add_new(CLI::App& app, CommandLine& line) {
  CLI::App* command = app.add_subcommand(
      "new", "An invented garden to start with: commented garden file, weather, a can test");
  add_value(*command, "folder", line.start.folder, "Where to (default: this folder)", "FOLDER");
  command->add_flag("--replace", line.start.replace, "Write over existing files");
  command->footer(
      "Examples:\n"
      "  runnel new\n"
      "  runnel new my-garden");
  return command;
}

CLI::App* add_et(CLI::App& app, CommandLine& line) {
  EtOptions& et = line.et;
  CLI::App* command = app.add_subcommand("et", "Reference evapotranspiration of a weather file");
  add_value(*command, "weather", et.weather, "Weather file (CSV)", "WEATHER")->required();
  add_value(*command, "--latitude", et.latitude_deg, "Degrees, north positive", "DEG")
      ->required()
      ->check(is_number);
  add_value(*command, "--elevation", et.elevation,
            R"(Above sea level, with unit: "95 m", "310 ft")", "LENGTH")
      ->required();
  auto* longitude = add_value(*command, "--longitude", et.longitude_deg,
                              "Degrees, east positive; hourly files", "DEG")
                        ->check(is_number);
  auto* offset = add_value(*command, "--utc-offset", et.utc_offset_h,
                           "Hours of the file's clock, east positive; hourly files", "HOURS")
                     ->check(is_number);
  add_value(*command, "--wind-height", et.wind_height,
            "Height of the anemometer, with unit (default 2 m)", "LENGTH");
  add_value(*command, "--method", et.method, "fao56, asce-short, asce-tall or temperature",
            "METHOD")
      ->check(CLI::IsMember({"fao56", "asce-short", "asce-tall", "temperature"}));
  add_value(*command, "--column", et.columns,
            "What a column holds: \"tmax=MX [degF]\"; may be repeated", "NAME=HEADER");
  command->add_flag("--label-ends", et.hour_label_is_end,
                    "An hour is labelled by its end, not its beginning");
  command->add_flag("--coast", et.coast,
                    "Radiation from temperature as at the coast (FAO-56 Eq. 50: 0.19)");
  command->add_flag("--dry-air", et.dry_air,
                    "Dew point from Tmin as in dry air (FAO-56 Eq. 48: 2 degC lower)");
  command->add_flag("--steps", et.steps, "Every intermediate value");
  add_format(*command, et.format, {"text", "csv"}, "text or csv");
  command->parse_complete_callback([&et, longitude, offset] {
    et.has_longitude = longitude->count() > 0;
    et.has_utc_offset = offset->count() > 0;
  });
  command->footer(
      "Examples:\n"
      "  runnel et weather.csv --latitude 45 --elevation \"210 m\"\n"
      "  runnel et weather.csv --latitude 45 --elevation \"690 ft\" --method asce-tall --steps");
  return command;
}

CLI::App* add_check(CLI::App& app, CommandLine& line) {
  CLI::App* check =
      app.add_subcommand("check", "All that is wrong or doubtful with a garden's files");
  add_garden(*check, line.check.garden);
  add_display(*check, line.check.display);
  check->footer(
      "Examples:\n"
      "  runnel check garden.yaml\n"
      "  runnel check my-garden/garden.yaml");
  return check;
}

CLI::App* add_plants(CLI::App& app, CommandLine& line) {
  CLI::App* plants =
      app.add_subcommand("plants", "The plant table: names, coefficients, roots, sources");
  add_value(*plants, "word", line.plants.word, "Part of a name or group (default: all plants)",
            "WORD");
  add_format(*plants, line.plants.format, {"text", "csv"}, "text or csv");
  plants->footer(
      "Examples:\n"
      "  runnel plants lawn\n"
      "  runnel plants tomato --format csv");
  return plants;
}

CLI::App* add_audit(CLI::App& app, CommandLine& line) {
  AuditOptions& audit = line.audit;
  CLI::App* command = app.add_subcommand(
      "audit", "What a zone's valve really delivers, from a test with catch cans");
  add_value(*command, "cans", audit.file,
            "Catch-can test (CSV): can, volume [mL] or depth [mm], and x [m], y [m] if known",
            "CANS")
      ->required();
  add_value(*command, "--run", audit.run,
            R"(How long the valve was open, with unit: "15 min" (or a line "# run: 15 min"))",
            "TIME");
  add_value(*command, "--mouth", audit.mouth,
            R"(A can's mouth, its area "95 cm2" or across "11 cm" (or "# mouth: 11 cm"))", "SIZE");
  add_value(*command, "--type", audit.type, "Type of emitter (default spray)", "TYPE");
  add_format(*command, audit.format, {"text", "csv", "json"}, "text, csv or json");
  add_display(*command, audit.display);
  command->footer(
      "Examples:\n"
      "  runnel audit cans.csv\n"
      "  runnel audit cans.csv --run \"15 min\" --mouth \"11 cm\" --type rotor");
  return command;
}

CLI::App* add_log(CLI::App& app, CommandLine& line) {
  LogOptions& log = line.log;
  CLI::App* command = app.add_subcommand(
      "log", "Add one entry to a garden's water log: what ran otherwise, or was read off");
  add_value(*command, "garden", log.garden,
            "Garden file, which names the log (default: garden.yaml in this folder)", "GARDEN");
  add_value(*command, "--date", log.date, "Day it was (needed: the program reads no clock)",
            "DATE");
  add_value(*command, "--zone", log.zone, R"(Name of a zone, or "valve 2" for all zones on it)",
            "ZONE");
  command->add_flag("--did-not-run", log.did_not_run, "That day's planned watering fell out");
  add_value(*command, "--ran", log.ran,
            R"(In place of what was planned: "20 min", "40 L" or "5 mm")", "AMOUNT");
  add_value(
      *command, "--by-hand", log.by_hand,
      R"(Besides the timer, in place of a run by hand the plan asked for: "5 L", "10 min" or "3 mm")",
      "AMOUNT");
  add_value(*command, "--rain", log.rain, R"(What a rain gauge caught: "12 mm", "0.5 in")",
            "DEPTH");
  add_value(*command, "--depletion", log.depletion,
            R"(A moisture reading in the evening: "8 mm" are missing)", "DEPTH");
  add_value(*command, "--feel", log.feel,
            "A finger test in the evening: dry, slightly moist, moist or wet", "WORDS");
  add_value(*command, "--meter", log.meter,
            R"(What the water meter showed in the evening: "12345 L")", "VOLUME");
  add_value(*command, "--note", log.note, "Anything worth remembering", "TEXT");
  command->footer(
      "Examples:\n"
      "  runnel log garden.yaml --date 2027-07-06 --zone \"sunny bed\" --ran \"20 min\"\n"
      "  runnel log garden.yaml --date 2027-07-07 --rain \"12 mm\" --note \"gauge by the shed\"");
  return command;
}

CLI::App* add_completion(CLI::App& app, CommandLine& line) {
  CLI::App* command =
      app.add_subcommand("completion", "What makes a shell complete commands, options and files");
  add_value(*command, "shell", line.shell, "bash, zsh or fish", "SHELL")
      ->required()
      ->check(CLI::IsMember({"bash", "zsh", "fish"}));
  command->footer(
      "Examples:\n"
      "  source <(runnel completion bash)\n"
      "  runnel completion zsh > _runnel\n"
      "  runnel completion fish > runnel.fish");
  return command;
}

CLI::App* add_manual(CLI::App& app) {
  CLI::App* command = app.add_subcommand("manual", "This program's page for man");
  command->footer(
      "Examples:\n"
      "  runnel manual > runnel.1\n"
      "  runnel manual | man -l -");
  return command;
}

}  // namespace runnel::cli

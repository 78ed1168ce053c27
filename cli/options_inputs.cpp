#include "command_line.hpp"
#include "option_checks.hpp"

namespace runnel::cli {

CLI::App* add_new(CLI::App& app, CommandLine& line) {
  CLI::App* command = app.add_subcommand(
      "new", "An invented garden to start with: commented garden file, weather, a can test");
  command->add_option("folder", line.start.folder, "Where to (default: this folder)")
      ->type_name("FOLDER");
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
  command->add_option("weather", et.weather, "Weather file (CSV)")
      ->required()
      ->type_name("WEATHER");
  command->add_option("--latitude", et.latitude_deg, "Degrees, north positive")
      ->required()
      ->check(is_number)
      ->type_name("DEG");
  command
      ->add_option("--elevation", et.elevation, R"(Above sea level, with unit: "95 m", "310 ft")")
      ->required()
      ->type_name("LENGTH");
  auto* longitude =
      command->add_option("--longitude", et.longitude_deg, "Degrees, east positive; hourly files")
          ->check(is_number)
          ->type_name("DEG");
  auto* offset = command
                     ->add_option("--utc-offset", et.utc_offset_h,
                                  "Hours of the file's clock, east positive; hourly files")
                     ->check(is_number)
                     ->type_name("HOURS");
  command
      ->add_option("--wind-height", et.wind_height,
                   "Height of the anemometer, with unit (default 2 m)")
      ->type_name("LENGTH");
  command->add_option("--method", et.method, "fao56, asce-short, asce-tall or temperature")
      ->check(CLI::IsMember({"fao56", "asce-short", "asce-tall", "temperature"}))
      ->type_name("METHOD");
  command
      ->add_option("--column", et.columns,
                   "What a column holds: \"tmax=MX [degF]\"; may be repeated")
      ->type_name("NAME=HEADER");
  command->add_flag("--label-ends", et.hour_label_is_end,
                    "An hour is labelled by its end, not its beginning");
  command->add_flag("--coast", et.coast,
                    "Radiation from temperature as at the coast (FAO-56 Eq. 50: 0.19)");
  command->add_flag("--dry-air", et.dry_air,
                    "Dew point from Tmin as in dry air (FAO-56 Eq. 48: 2 degC lower)");
  command->add_flag("--steps", et.steps, "Every intermediate value");
  command->add_option("--format", et.format, "text or csv")
      ->check(CLI::IsMember({"text", "csv"}))
      ->type_name("FORM");
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
  check
      ->add_option("garden", line.check.garden, "Garden file (default: garden.yaml in this folder)")
      ->type_name("GARDEN");
  check->footer(
      "Examples:\n"
      "  runnel check garden.yaml\n"
      "  runnel check my-garden/garden.yaml");
  return check;
}

CLI::App* add_plants(CLI::App& app, CommandLine& line) {
  CLI::App* plants =
      app.add_subcommand("plants", "The plant table: names, coefficients, roots, sources");
  plants->add_option("word", line.plants.word, "Part of a name or group (default: all plants)")
      ->type_name("WORD");
  plants->add_option("--format", line.plants.format, "text or csv")
      ->check(CLI::IsMember({"text", "csv"}))
      ->type_name("FORM");
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
  command
      ->add_option(
          "cans", audit.file,
          "Catch-can test (CSV): can, volume [mL] or depth [mm], and x [m], y [m] if known")
      ->required()
      ->type_name("CANS");
  command
      ->add_option(
          "--run", audit.run,
          R"(How long the valve was open, with unit: "15 min" (or a line "# run: 15 min"))")
      ->type_name("TIME");
  command
      ->add_option("--mouth", audit.mouth,
                   R"(A can's mouth, its area "95 cm2" or across "11 cm" (or "# mouth: 11 cm"))")
      ->type_name("SIZE");
  command->add_option("--type", audit.type, "Type of emitter (default spray)")->type_name("TYPE");
  command->add_option("--format", audit.format, "text, csv or json")
      ->check(CLI::IsMember({"text", "csv", "json"}))
      ->type_name("FORM");
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
  command
      ->add_option("garden", log.garden,
                   "Garden file, which names the log (default: garden.yaml in this folder)")
      ->type_name("GARDEN");
  command->add_option("--date", log.date, "Day it was (needed: the program reads no clock)")
      ->type_name("DATE");
  command->add_option("--zone", log.zone, R"(Name of a zone, or "valve 2" for all zones on it)")
      ->type_name("ZONE");
  command->add_flag("--did-not-run", log.did_not_run, "That day's planned watering fell out");
  const auto amount = [command](const char* name, std::string& into, const char* says,
                                const char* type) {
    command->add_option(name, into, says)->type_name(type);
  };
  amount("--ran", log.ran, R"(In place of what was planned: "20 min", "40 L" or "5 mm")", "AMOUNT");
  amount("--by-hand", log.by_hand, R"(Besides what was planned: "5 L", "10 min" or "3 mm")",
         "AMOUNT");
  amount("--rain", log.rain, R"(What a rain gauge caught: "12 mm", "0.5 in")", "DEPTH");
  amount("--depletion", log.depletion, R"(A moisture reading in the evening: "8 mm" are missing)",
         "DEPTH");
  amount("--feel", log.feel, "A finger test in the evening: dry, slightly moist, moist or wet",
         "WORDS");
  amount("--meter", log.meter, R"(What the water meter showed in the evening: "12345 L")",
         "VOLUME");
  command->add_option("--note", log.note, "Anything worth remembering")->type_name("TEXT");
  command->footer(
      "Examples:\n"
      "  runnel log garden.yaml --date 2027-07-06 --zone \"sunny bed\" --ran \"20 min\"\n"
      "  runnel log garden.yaml --date 2027-07-07 --rain \"12 mm\" --note \"gauge by the shed\"");
  return command;
}

CLI::App* add_completion(CLI::App& app, CommandLine& line) {
  CLI::App* command =
      app.add_subcommand("completion", "What makes a shell complete commands, options and files");
  command->add_option("shell", line.shell, "bash, zsh or fish")
      ->required()
      ->check(CLI::IsMember({"bash", "zsh", "fish"}))
      ->type_name("SHELL");
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

#include "plan_files.hpp"

#include <cstddef>
#include <filesystem>
#include <map>
#include <set>
#include <system_error>

#include "runnel/garden/files.hpp"
#include "runnel/garden/plan_file.hpp"

namespace runnel::cli {
namespace {

namespace fs = std::filesystem;

bool is_folder(const std::string& path) {
  std::error_code fault;
  return path.ends_with('/') || fs::is_directory(path, fault);
}

[[noreturn]] void unusable(const std::string& path, std::string says, std::string mend = {}) {
  throw InputError(Finding{.kind = Finding::Kind::error,
                           .at = in_file(path),
                           .says = std::move(says),
                           .mend = std::move(mend)});
}

void require_folder(const std::string& path) {
  std::error_code fault;
  if (!fs::is_directory(path, fault))
    unusable(path, "there is no such folder",
             "check its name; leave --after out where there is no plan of the week before");
}

std::string in_folder(const std::string& folder, const std::string& garden) {
  return (fs::path(folder) / plan_file_name(garden)).string();
}

fs::path real_path(const std::string& path) {
  std::error_code fault;
  const fs::path real = fs::weakly_canonical(path, fault);
  return fault ? fs::path(path) : real;
}

/// Two gardens with one plan file; empty: none.
std::string clash(const std::vector<std::string>& gardens) {
  std::map<std::string, std::string> by_name;
  for (const std::string& garden : gardens) {
    const auto [other, is_new] = by_name.emplace(plan_file_name(garden), garden);
    if (is_new) continue;
    return other->second + " and " + garden + " would both have the plan file " + other->first +
           " (rename one of them; a garden.yaml has the name of its folder)";
  }
  return {};
}

/// A plan that would be written over a garden.
std::string overwritten_garden(const std::vector<std::string>& gardens, const std::string& folder) {
  std::map<fs::path, std::string> files;
  for (const std::string& garden : gardens) files.emplace(real_path(garden), garden);
  for (const std::string& garden : gardens)
    if (const auto hit = files.find(real_path(in_folder(folder, garden))); hit != files.end())
      return "--save " + folder + " would write a plan over the garden " + hit->second +
             " (name another folder)";
  return {};
}

/// The garden file and all that it names.
std::vector<std::string> files_of(const Garden& garden) {
  std::vector<std::string> files{garden.file, path_beside(garden.file, garden.weather.observed)};
  for (const auto& other : {garden.weather.forecast, garden.weather.record, garden.log})
    if (other) files.push_back(path_beside(garden.file, *other));
  return files;
}

void require_new(const std::vector<std::string>& gardens, const std::string& folder) {
  std::string first;
  int others = -1;
  for (const std::string& garden : gardens) {
    const std::string path = in_folder(folder, garden);
    std::error_code fault;
    if (!fs::exists(path, fault)) continue;
    if (first.empty()) first = path;
    ++others;
  }
  if (first.empty()) return;
  if (others > 0)
    throw FileExists(first + " and " + std::to_string(others) + " more exist already");
  throw FileExists(first + " exists already");
}

}  // namespace

std::string plan_file_name(const std::string& garden) {
  std::error_code fault;
  const fs::path path = fs::absolute(garden, fault).lexically_normal();
  const fs::path folder = path.parent_path().filename();
  fs::path name = path.stem();
  if (name == "garden" && !folder.empty()) name = folder;
  name += ".yaml";
  return name.string();
}

std::string save_path(const PlanOptions& options) {
  return is_folder(options.save) ? in_folder(options.save, options.garden) : options.save;
}

std::string after_path(const PlanOptions& options, std::vector<Finding>& findings) {
  if (!is_folder(options.after)) return options.after;
  require_folder(options.after);
  std::string path = in_folder(options.after, options.garden);
  std::error_code fault;
  if (fs::exists(path, fault)) return path;
  findings.push_back({.kind = Finding::Kind::doubt,
                      .at = in_file(path),
                      .says = "there is no plan of the week before: planned afresh",
                      .mend = {}});
  return {};
}

void save_plan(const PlanOptions& options, const Garden& garden, const GardenPlan& plan) {
  if (options.save.empty()) return;
  const std::string path = save_path(options);
  for (const std::string& input : files_of(garden))
    if (real_path(path) == real_path(input))
      unusable(path, "is what the plan is made from, over which none is written",
               "name another file");
  if (path != options.save) {
    std::error_code fault;
    fs::create_directories(options.save, fault);
    if (fault)
      unusable(options.save, "cannot be made: " + fault.message(),
               "name a folder that can be written in");
  }
  write_file(path, plan_file_text(garden, plan), options.replace);
}

std::string fault_of_folders(const std::vector<std::string>& gardens, const PlanOptions& options) {
  std::set<fs::path> once;
  for (const std::string& garden : gardens)
    if (!once.insert(real_path(garden)).second) return garden + " is given twice";
  if (options.save.empty() && options.after.empty()) return {};
  if (std::string fault = clash(gardens); !fault.empty()) return fault;
  if (!options.after.empty()) require_folder(options.after);
  if (options.save.empty()) return {};
  const fs::path folder = fs::path(options.save).parent_path();  // without the slash at its end
  std::error_code ignored;
  if (fs::exists(folder, ignored) && !fs::is_directory(folder, ignored))
    return "--save " + folder.string() + " is a file (several gardens are saved in a folder)";
  if (std::string fault = overwritten_garden(gardens, options.save); !fault.empty()) return fault;
  if (!options.replace) require_new(gardens, options.save);
  return {};
}

}  // namespace runnel::cli

// Stands in for libFuzzer: runs the target over files and the files in folders.

#include <algorithm>
#include <cstdint>
#include <filesystem>
#include <iostream>
#include <string>
#include <vector>

#include "fuzz_support.hpp"
#include "runnel/garden/files.hpp"

namespace {

std::vector<std::string> files_in(const std::string& path) {
  if (!std::filesystem::is_directory(path)) return {path};
  std::vector<std::string> files;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(path)) {
    if (entry.is_regular_file()) files.push_back(entry.path().string());
  }
  std::sort(files.begin(), files.end());
  return files;
}

}  // namespace

int main(int argc, char** argv) {
  int runs = 0;
  for (int i = 1; i < argc; ++i) {
    for (const std::string& file : files_in(argv[i])) {
      // Before the run: when it crashes, this is the last line.
      std::cerr << file << std::endl;
      const std::string text = runnel::read_file(file);
      LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(text.data()), text.size());
      ++runs;
    }
  }
  std::cout << runs << " inputs\n";
  return runs > 0 ? 0 : 1;
}

#pragma once

#include <doctest/doctest.h>

#include <fstream>
#include <iterator>
#include <string>

namespace runnel {

/// A file of tests/reference.
inline std::string reference_text(const std::string& name) {
  std::ifstream file{std::string{RUNNEL_REFERENCE_DIR} + "/" + name, std::ios::binary};
  REQUIRE_MESSAGE(file.good(), name);
  return {std::istreambuf_iterator<char>{file}, std::istreambuf_iterator<char>{}};
}

}  // namespace runnel

#pragma once

#include "commands.hpp"

namespace runnel::cli {

/// Reads the command line and runs the command it names. @return what the program ends with.
[[nodiscard]] int run_command_line(int argc, char** argv, const Streams& streams);

}  // namespace runnel::cli

#include <unistd.h>

#include <exception>
#include <iostream>

#include "commands.hpp"
#include "options.hpp"
#include "print.hpp"
#include "runnel/garden/away.hpp"
#include "runnel/garden/files.hpp"
#include "runnel/units/finding.hpp"

int main(int argc, char** argv) {
  using namespace runnel::cli;
  const Streams streams{
      .out = std::cout, .err = std::cerr, .err_is_terminal = isatty(STDERR_FILENO) != 0};
  try {
    const int code = run_command_line(argc, argv, streams);
    std::cout.flush();
    if (!std::cout) {
      std::cerr << "runnel: the output could not be written\n";
      return unusable_input;
    }
    return code;
  } catch (const runnel::InputError& error) {
    print_doubts(error.findings(), std::cerr);
    return unusable_input;
  } catch (const runnel::FileExists& error) {
    std::cerr << "runnel: " << error.what() << " (--replace writes over what is there)\n";
    return wrong_usage;
  } catch (const runnel::WrongDays& error) {
    std::cerr << "runnel: " << error.what() << '\n';
    return wrong_usage;
  } catch (const std::exception& error) {
    std::cerr << "runnel: this should not happen, please report it: " << error.what() << '\n';
    return unusable_input;
  }
}

#pragma once

#include <atomic>
#include <cstddef>
#include <string>
#include <thread>

#include "commands.hpp"

namespace runnel::cli {

/// A line on the terminal that says how far work is, once it takes longer than a second; gone when
/// the work is. Nothing is written where errors go to a file or a pipe.
class Progress {
 public:
  /// @param what is counted, "gardens"; of work in one piece the seconds are counted
  /// @param count of them; 0: work in one piece
  Progress(const Streams& streams, std::string what, std::size_t count = 0);
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  /// One more is done; from any thread.
  void step() { ++done_; }

 private:
  void show(const std::stop_token& stop) const;
  [[nodiscard]] std::string line(long seconds) const;

  const Streams& streams_;
  std::string what_;
  std::size_t count_;
  std::atomic<std::size_t> done_ = 0;
  std::jthread shower_;
};

}  // namespace runnel::cli

#include "progress.hpp"

#include <chrono>
#include <condition_variable>
#include <mutex>
#include <ostream>
#include <utility>

namespace runnel::cli {

Progress::Progress(const Streams& streams, std::string what, std::size_t count)
    : streams_(streams), what_(std::move(what)), count_(count) {
  if (streams.err_is_terminal)
    shower_ = std::jthread([this](const std::stop_token& stop) { show(stop); });
}

Progress::~Progress() {
  shower_.request_stop();
  if (shower_.joinable()) shower_.join();
}

std::string Progress::line(long seconds) const {
  if (count_ == 0) return what_ + ", " + std::to_string(seconds) + " s";
  return std::to_string(done_) + " of " + std::to_string(count_) + " " + what_;
}

void Progress::show(const std::stop_token& stop) const {
  using std::chrono::seconds;
  constexpr seconds pause{1};
  const auto began = std::chrono::steady_clock::now();
  std::mutex mutex;
  std::condition_variable_any stopped;
  std::unique_lock lock(mutex);
  bool shown = false;
  while (!stopped.wait_for(lock, stop, pause, [&stop] { return stop.stop_requested(); })) {
    const auto taken = std::chrono::steady_clock::now() - began;
    // To the line's begin, and what stood there is erased to its end (ECMA-48 EL).
    streams_.err << "\r\033[K" << line(std::chrono::floor<seconds>(taken).count()) << std::flush;
    shown = true;
  }
  if (shown) streams_.err << "\r\033[K" << std::flush;
}

}  // namespace runnel::cli

#include "in_parallel.hpp"

#include <algorithm>
#include <atomic>
#include <thread>
#include <vector>

namespace runnel::cli {

void in_parallel(std::size_t count, int threads, const std::function<void(std::size_t)>& work) {
  std::atomic<std::size_t> next = 0;
  const auto take_turns = [&] {
    for (std::size_t mine = next++; mine < count; mine = next++) work(mine);
  };
  const std::size_t workers = std::min(count, static_cast<std::size_t>(std::max(1, threads)));
  std::vector<std::jthread> running;
  running.reserve(workers);
  for (std::size_t i = 0; i < workers; ++i) running.emplace_back(take_turns);
}

int usual_threads() { return std::max(1, static_cast<int>(std::thread::hardware_concurrency())); }

}  // namespace runnel::cli

#include "in_parallel.hpp"

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <mutex>
#include <thread>
#include <vector>

namespace runnel::cli {

void in_parallel(std::size_t count, int threads, const std::function<void(std::size_t)>& work,
                 const std::function<void(std::size_t)>& watch) {
  std::mutex held;
  std::condition_variable all_done;
  std::size_t next = 0;
  std::size_t done = 0;
  const auto take_turns = [&] {
    std::unique_lock lock(held);
    while (next < count) {
      const std::size_t mine = next++;
      lock.unlock();
      work(mine);
      lock.lock();
      if (++done == count) all_done.notify_one();
    }
  };
  const std::size_t workers = std::min(count, static_cast<std::size_t>(std::max(1, threads)));
  std::vector<std::jthread> running;
  running.reserve(workers);
  for (std::size_t i = 0; i < workers; ++i) running.emplace_back(take_turns);
  std::unique_lock lock(held);
  while (!all_done.wait_for(lock, std::chrono::milliseconds{100}, [&] { return done == count; })) {
    const std::size_t so_far = done;
    lock.unlock();
    watch(so_far);
    lock.lock();
  }
}

int usual_threads() { return std::max(1, static_cast<int>(std::thread::hardware_concurrency())); }

}  // namespace runnel::cli

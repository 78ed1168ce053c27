#pragma once

#include <cstddef>
#include <functional>

namespace runnel::cli {

/// Calls `work(i)` once for each i below `count`, on as many threads as said, in no certain order;
/// comes back when all are done. `work` must not throw, and may touch nothing that the work on
/// another i touches.
void in_parallel(std::size_t count, int threads, const std::function<void(std::size_t)>& work);

/// As many threads as this process has processors for.
[[nodiscard]] int usual_threads();

}  // namespace runnel::cli

// SPDX-License-Identifier: GPL-3.0-or-later
// Runs each piece of work in a child process, because limits and crashes can only be held from outside: GMP ends the process
// when memory runs out, and no factoring can be interrupted. Whatever becomes of a child, the parent learns which of six
// ends it came to, with all that the child had told until then.
#pragma once

#include <chrono>
#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>

namespace cutproof {

struct SupervisorLimits {
  std::optional<std::chrono::milliseconds> time;  ///< of one child, by the clock
  std::optional<std::size_t> memory;              ///< bytes of data of one child
  int jobs = 1;                                   ///< children at once
  /// Bytes of results of one child, because the parent holds them several times over while it writes reports.
  std::size_t most_told() const;
};

struct ChildEnd {
  enum class Kind { finished, time_limit, memory_limit, too_much_told, interrupted, died };
  Kind kind = Kind::died;
  std::string result;   ///< the last line, when finished
  std::string how;      ///< when died: `signal SEGV`, `exit code 3`, ...
  bool started = true;  ///< false when the interrupt came first
};

class Supervisor {
 public:
  using Send = std::function<void(std::string_view line)>;
  /// Runs in the child; its lines arrive in order; what it returns is the last one. Lines hold no line ends.
  using Work = std::function<std::string(std::size_t task, const Send& send)>;

  explicit Supervisor(SupervisorLimits limits) : limits_(limits) {}

  /// In the parent: called with each line, at each end, and about ten times a second in between.
  std::function<void(std::size_t task, std::string_view line)> on_line;
  std::function<void(std::size_t task, const ChildEnd& end)> on_end;
  std::function<void()> on_tick;

  /// Runs tasks 0 to count - 1, started in this order. Must be called before the process has threads.
  void run(std::size_t count, const Work& work);

 private:
  SupervisorLimits limits_;
};

}  // namespace cutproof

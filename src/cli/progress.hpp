// SPDX-License-Identifier: GPL-3.0-or-later
// One changing line on a terminal for what takes longer than a second; nothing anywhere else.
#pragma once

#include <chrono>
#include <string>

namespace cutproof {

class ProgressLine {
 public:
  /// Shows nothing unless standard error is a terminal and `wanted`.
  explicit ProgressLine(bool wanted);
  ~ProgressLine() { clear(); }
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;

  void show(const std::string& text);
  void clear();

 private:
  bool active_;
  std::string shown_;
  std::chrono::steady_clock::time_point begin_ = std::chrono::steady_clock::now();
};

/// Columns of the terminal behind the descriptor; `COLUMNS` where that is set to a number; 100 where it is no terminal.
int columns_of(int descriptor);
/// A terminal that is not dumb, unless the environment has a non-empty NO_COLOR.
bool wants_colour(int descriptor);

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/progress.hpp"

#include "cli/report_files.hpp"
#include "report/escape.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <cstring>

namespace cutproof {

ProgressLine::ProgressLine(bool wanted) : active_(wanted && isatty(STDERR_FILENO) == 1) {}

void ProgressLine::show(const std::string& text) {
  const auto running = std::chrono::steady_clock::now() - begin_;
  if (!active_ || running < std::chrono::seconds(1)) return;
  const std::size_t room = static_cast<std::size_t>(std::max(columns_of(STDERR_FILENO) - 10, 20));
  std::string line = escaped(text);
  for (std::size_t keep = room; display_width(line) > room; --keep) line = escaped_prefix(text, keep);
  line += " (" + std::to_string(std::chrono::duration_cast<std::chrono::seconds>(running).count()) + " s)";
  if (line == shown_) return;
  write_fully(STDERR_FILENO, "\r\033[K" + line);
  shown_ = line;
}

void ProgressLine::clear() {
  if (!shown_.empty()) write_fully(STDERR_FILENO, "\r\033[K");
  shown_.clear();
}

int columns_of(int descriptor) {
  if (const char* set = std::getenv("COLUMNS")) {
    const int columns = std::atoi(set);
    if (columns > 0) return std::clamp(columns, 20, 10000);
  }
  winsize size = {};
  if (ioctl(descriptor, TIOCGWINSZ, &size) == 0 && size.ws_col > 0) return std::max<int>(size.ws_col, 20);
  return 100;
}

bool wants_colour(int descriptor) {
  const char* no_colour = std::getenv("NO_COLOR");
  const char* terminal = std::getenv("TERM");
  if (no_colour != nullptr && *no_colour != '\0') return false;
  return isatty(descriptor) == 1 && (terminal == nullptr || std::strcmp(terminal, "dumb") != 0);
}

}  // namespace cutproof

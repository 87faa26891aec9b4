// SPDX-License-Identifier: GPL-3.0-or-later
// What every harness shares: a demand that ends the process when it does not hold, and places that must lie in a text.
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>
#include <vector>

/// What libFuzzer and the replay call: 0 for an input that was tried, -1 for one that is not worth keeping.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace cutproof::fuzz {

/// Aborts with the message unless `holds`: libFuzzer and the replay both keep the input then.
inline void demand(bool holds, const std::string& message) {
  if (holds) return;
  std::fprintf(stderr, "does not hold: %s\n", message.c_str());
  std::abort();
}

/// The lines of a text as editors count them: `\n`, `\r\n` and `\r` end one; a byte order mark is no column.
class Lines {
 public:
  explicit Lines(std::string_view text) {
    if (text.substr(0, 3) == "\xEF\xBB\xBF") text.remove_prefix(3);
    std::size_t code_points = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
      const bool ends = text[i] == '\n' || (text[i] == '\r' && (i + 1 == text.size() || text[i + 1] != '\n'));
      if (ends) {
        lengths_.push_back(code_points);
        code_points = 0;
      } else if ((static_cast<unsigned char>(text[i]) & 0xC0) != 0x80 && text[i] != '\r') {
        ++code_points;
      }
    }
    lengths_.push_back(code_points);
  }
  /// True for the place of a character, and for the place behind the last one of a line.
  bool hold(int line, int column) const {
    if (line < 1 || static_cast<std::size_t>(line) > lengths_.size() || column < 1) return false;
    return static_cast<std::size_t>(column) <= lengths_[static_cast<std::size_t>(line) - 1] + 1;
  }

 private:
  std::vector<std::size_t> lengths_;
};

}  // namespace cutproof::fuzz

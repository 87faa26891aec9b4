// SPDX-License-Identifier: GPL-3.0-or-later
// Files as they come from strangers: only regular ones are read, and never more than the limit.
#pragma once

#include <cstddef>
#include <string>

namespace cutproof {

/// The whole file; `-` is standard input, up to its end. Throws InvalidInput for a file that is missing, unreadable, a
/// folder, a device or a pipe, and LimitReached
/// (`plan-size`) for one that is larger than `most_bytes`.
std::string read_file(const std::string& path, std::size_t most_bytes);
/// The same for a file that a plan names; `-` is a name like others.
std::string read_side_file(const std::string& path, std::size_t most_bytes);

}  // namespace cutproof

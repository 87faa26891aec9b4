// SPDX-License-Identifier: GPL-3.0-or-later
// The files that a plan names, and which of them may be read: those in the folder of the plan, links followed, and below it.
#pragma once

#include "plan/meshes.hpp"

#include <cstddef>
#include <memory>
#include <string>

namespace cutproof {

/// For a plan at `plan_path`; a plan from standard input (`-`) or without a path has the working folder. `outside`: files
/// anywhere may be read. Files larger than `most_bytes` are not read.
std::shared_ptr<SideFiles> plan_folder(const std::string& plan_path, bool outside, std::size_t most_bytes);

}  // namespace cutproof

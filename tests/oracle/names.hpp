// SPDX-License-Identifier: GPL-3.0-or-later
// Which names a plan's pieces can have when every step runs fully: the oracle's own reading of what is invalid input.
#pragma once

#include "plan/exact_plan.hpp"

#include <string>

namespace cutproof::oracle {

/// `*` stands for any run of characters; `all` for any name.
bool fits(const std::string& pattern, const std::string& name);

/// Why some step asks for a piece that cannot be there, makes one that certainly is there, or moves one twice; empty
/// otherwise.
std::string impossible_name(const ExactPlan& plan);

}  // namespace cutproof::oracle

// SPDX-License-Identifier: GPL-3.0-or-later
// Commands for people who write plans.
#pragma once

#include "cli/arguments.hpp"

#include <string>

namespace cutproof {

/// Does what the command says and gives the exit code.
int run_for_writers(const Arguments& arguments);

/// A text for standard output; the exit code is 0 unless it could not be written.
int print_text(const std::string& text);

}  // namespace cutproof

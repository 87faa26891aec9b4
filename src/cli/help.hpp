// SPDX-License-Identifier: GPL-3.0-or-later
// What `--help` prints: of the program, and of each command with its own examples.
#pragma once

namespace CLI {
class App;
}

namespace cutproof {

/// Gives the program and its commands, whose options are all known, these texts. Options are listed with their descriptions
/// as they stand.
void write_help(CLI::App* program);

}  // namespace cutproof

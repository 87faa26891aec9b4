// SPDX-License-Identifier: GPL-3.0-or-later
// The command line as data.
#pragma once

#include "cli/supervisor.hpp"
#include "cutproof/solids.hpp"
#include "report/formats.hpp"

#include <cstddef>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

namespace cutproof {

/// Wrong usage of the command line: exit code 2, and no report is written.
class WrongUsage : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

enum class Command { check, measure, compare, expand, format, start_new, explain };

/// Those that make texts for people who write plans, and no results.
inline bool is_for_writers(Command command) {
  return command != Command::check && command != Command::measure && command != Command::compare;
}

struct RequestedReport {
  const ReportFormat* format = nullptr;
  std::string path;  ///< `-`: standard output
};

/// `--shard k/n`: the inputs k, k + n, k + 2n, ... of the list, counted from 1.
struct Shard {
  std::size_t index = 1, count = 1;
  bool given = false;
};

struct Arguments {
  Command command = Command::check;
  std::vector<std::string> inputs;  ///< plans; solids of measure; the left side of compare; what the other commands take
  std::vector<std::string> with;    ///< the right side of compare
  std::optional<std::string> angles, except;
  std::optional<Congruence> demand;  ///< of compare
  std::vector<RequestedReport> reports;
  CheckSettings settings;
  SupervisorLimits limits;
  Shard shard;
  bool quiet = false, verbose = false;
  bool no_mends = false;               ///< of check
  std::optional<std::string> against;  ///< of check: an older report
  bool full = false;                   ///< of check
  bool certificates = true;
  bool only_check = false;  ///< of format
};

/// What `main` has to do: run, or print a text that was asked for (`--help`, `--version`).
struct ParsedCommandLine {
  std::optional<Arguments> arguments;
  std::string text;
};

/// `FILE`, `FILE#SOLID`, `PLAN@PLACE` or `PLAN@PLACE#PIECE`, where PLACE is `start`, `goal`, `end` or the number of a step.
/// A path that leads to a file is that file, whatever signs it holds.
SolidReference solid_reference(const std::string& input);

/// Throws WrongUsage.
ParsedCommandLine parse_command_line(int count, const char* const* words);

}  // namespace cutproof

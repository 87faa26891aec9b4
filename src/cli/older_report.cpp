// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/older_report.hpp"

#include "cli/arguments.hpp"
#include "files/read_file.hpp"
#include "number/errors.hpp"
#include "report/against.hpp"

#include <variant>

namespace cutproof {
namespace {

constexpr std::size_t most_bytes = 64u << 20;

std::vector<ReportedPlan> read(const std::string& path) {
  const std::string which = "the older report `" + path + "` cannot be used: ";
  try {
    return read_check_report(read_file(path, most_bytes));
  } catch (const NoReport& error) {
    throw WrongUsage(which + error.what() + "; --against takes a file that `check --report json=FILE` wrote");
  } catch (const LimitReached&) {
    throw WrongUsage(which + "it is larger than 64 MB; `--no-certificates` makes reports shorter");
  } catch (const std::runtime_error& error) {
    throw WrongUsage(which + error.what());
  }
}

}  // namespace

OlderReport::OlderReport(const std::optional<std::string>& path) {
  if (path) plans_ = read(*path);
}

void OlderReport::hold_against(Results* results) const {
  auto* checks = std::get_if<std::vector<CheckResult>>(results);
  if (plans_ && checks != nullptr) cutproof::hold_against(*plans_, checks);
}

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// The report that `--against` names: read and judged before anything else is done.
#pragma once

#include "report/formats.hpp"
#include "report/report_reader.hpp"

#include <optional>
#include <string>
#include <vector>

namespace cutproof {

class OlderReport {
 public:
  /// Without a path it holds nothing against anything. Throws WrongUsage for a file that cannot be read, is larger than
  /// 64 MB or is no JSON report of `check` that this program knows.
  explicit OlderReport(const std::optional<std::string>& path);

  /// Puts into the results of checks what differs.
  void hold_against(Results* results) const;

 private:
  std::optional<std::vector<ReportedPlan>> plans_;
};

}  // namespace cutproof

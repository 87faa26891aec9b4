// SPDX-License-Identifier: GPL-3.0-or-later
// Reports that cannot lie: an old one is gone before anything is read, a new one appears whole and last, and when one cannot
// be written the others say so.
#pragma once

#include "cli/arguments.hpp"
#include "report/formats.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace cutproof {

class ReportFiles {
 public:
  /// Judges usage without touching anything: throws WrongUsage for the same file twice, an input's own path, a folder for a
  /// report that is one file, two `-`; and for a report that is a folder where anything else is in its place, and where an
  /// input or another report lies in it.
  ReportFiles(const std::vector<RequestedReport>& reports, const std::vector<std::string>& inputs, ReportStyle style = {});

  /// True when a report takes standard output, so that the text for people goes to standard error.
  bool takes_standard_output() const;

  /// Removes old reports that are regular files, links or report folders. One that cannot be removed is emptied; the reason
  /// comes back.
  std::optional<std::string> remove_old();

  /// Writes all reports and the text for people. Where one cannot be written, the fault `report-not-written` is added to the
  /// results, and what can still be written says `failed`. `text` renders the results for people, and `complete` adds to
  /// them what follows from them; both are called again when a failure changed the results.
  void publish(Results* results, const std::function<std::string(const Results&)>& text,
               const std::function<void(Results*)>& complete = {});
  bool text_failed() const { return text_broken_; }

 private:
  enum class Kind { standard_output, in_place, regular, folder };
  struct Target {
    const ReportFormat* format;
    std::string path;
    Kind kind;
    bool broken = false, done = false;
    std::string temporary;
  };
  int write_temporary(Target* target, const Results& results);
  int put_in_place(Target* target);
  bool write_all(Results* results, const std::function<std::string(const Results&)>& text);
  void give_up(Target* target, Results* results, int error);
  void drop_temporaries();

  ReportStyle style_;
  std::vector<Target> targets_;
  bool text_broken_ = false;
};

/// Writes everything to the descriptor; the error number, or 0.
int write_fully(int descriptor, const std::string& content);

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// One plan on a page: the parts of its sheet, from the verdict to what it rests on.
#pragma once

#include "cutproof/result.hpp"

#include <cstddef>
#include <string>

namespace cutproof {

/// A plan and its place on the page.
struct Sheet {
  const CheckResult& result;
  std::size_t number = 0;  ///< from 0
  bool alone = true;       ///< the page has this plan only: its title is the page's
};

/// `Verified`, with a mark, in the outcome's colour: for headings and tables.
std::string outcome_mark(Outcome outcome);

/// Verdict, title, and one sentence.
std::string sheet_head(const Sheet& sheet);
/// What comes before the view (what was found, the start and the end) and what comes after it (steps, pieces, what the
/// verdict rests on).
struct SheetBody {
  std::string before_view, after_view;
};
SheetBody sheet_body(const Sheet& sheet);

/// The title, or the path where there is none.
std::string title_of(const CheckResult& result);

/// What a step did, in words: `cut slab into wedge, middle`. Names are in elements of their own when `markup`.
std::string deed(const StepResult& step, bool markup);

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// What several formats tell about a finding in the same way: its identity, its place, and its kind.
#pragma once

#include "cutproof/result.hpp"

#include <string>
#include <vector>

namespace cutproof {

/// For each of the result's findings a text that stays the same when other parts of the plan are edited: the code and a
/// digest of the step's kind and title and of the pieces, and a number from the second of those that are alike on. No line
/// and no step's number goes into it.
std::vector<std::string> finding_ids(const CheckResult& result);

/// Where a reader should look; `line` and `column` are 0 where there is none.
struct FindingPlace {
  std::string file;  ///< byte for byte as given
  int line = 0, column = 0;
};
/// The place of its likeliest suspect, else its own.
FindingPlace place_of(const CheckResult& result, const Finding& finding);
/// Where it was found.
FindingPlace own_place_of(const CheckResult& result, const Finding& finding);

/// The finding as if it stood at the place of its likeliest suspect: its step, line, column and the plan's text there;
/// itself where it has none.
Finding at_suspect(Finding finding);

/// True when the finding is about the goal as a whole and not about a step.
bool concerns_goal(const Finding& finding);
/// True when it is about the dissection, at a step or at the start.
bool is_about_a_step(const Finding& finding);

/// Findings that say the same of different things: their messages differ in what stands in back quotes only, and what is
/// to be done about them is the same.
struct AlikeFindings {
  std::vector<const Finding*> findings;  ///< at least one
  /// The first one's, and of which others the same is true.
  std::string message() const;
};
/// Those of one code, one form of message and one hint together, in the order of the first of each.
std::vector<AlikeFindings> fold_alike(const std::vector<const Finding*>& findings);

/// The finding as it stands in the report for people, without colours, and where to look; lines end with a line end each.
std::string finding_paragraphs(const CheckResult& result, const Finding& finding);

/// `7 pieces of 5 shapes and the mirror image of one`, `6 pieces of one shape and its mirror image`; empty where
/// shapes were not asked for.
std::string shapes_text(const CheckResult& result);
/// The same of so many pieces, in shapes that are no mirror images of others and in such as are.
std::string shapes_text(std::size_t pieces, std::size_t plain, std::size_t mirrored);

/// What a code of a finding means, for formats that carry explanations with them.
struct FindingKind {
  const char* code;
  const char* meaning;
  const char* advice;
  bool of_plan;  ///< false: about the run or the plan's text, not about the dissection
};
/// All codes that there are, in the order of docs/findings.md.
const std::vector<FindingKind>& finding_kinds();
/// Its entry of these; the last one, a fault of the tool, where the code is not known.
const FindingKind& kind_of(const Finding& finding);

}  // namespace cutproof

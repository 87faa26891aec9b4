// SPDX-License-Identifier: GPL-3.0-or-later
// What an outcome means, in the one wording that the texts for people and the page share.
#pragma once

#include "cutproof/result.hpp"

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

namespace cutproof {

/// All findings about the plan, also those that are only counted. Of a refuted plan a limit that ended the run is none: it
/// says nothing about the plan.
std::size_t finding_count(const CheckResult& result);

/// A sentence or two: what the outcome says of the plan, and how far the run came. No text of the plan is in it.
std::string verdict_sentence(const CheckResult& result);

/// ` with n = 3, e = 1`: values of parameters, cut where there are many; empty without any.
std::string values_text(const std::vector<std::pair<std::string, std::string>>& parameters);
/// `case 2 with n = 3, e = 1`: of a plan with `cases`; of one whose parameters were set `with n = 3`; else empty.
std::string case_words(const CheckResult& result);
/// The same with `, ` before it where there is one: behind the plan's path.
std::string case_text(const CheckResult& result);
/// `, equicomplementary` beside the verdict of a verified plan that adds the same to both sides; else empty.
std::string proof_text(const CheckResult& result);
/// The path, the case, and that.
std::string plan_and_case(const CheckResult& result);

/// How often steps of this kind did something.
std::size_t times_done(const CheckResult& result, const char* kind);

/// `Note: this plan cuts nothing.`: of a run that came to its end; more often a slip than meant. Else empty.
std::string idle_note(const CheckResult& result);

/// `5 plans: 3 verified, 2 refuted`.
/// `strip (strip.yaml) with s = 1: verified, used 3 times`; names and values as they stand in plans.
std::string lemma_text(const LemmaResult& lemma);

std::string tally(const std::vector<CheckResult>& results);

/// `case 2: `, which parts what is said of the cases of one plan where the plan's name alone would not; empty without cases.
std::string case_prefix(const CheckResult& result);

/// Each mesh with what `snap` did to it: `block.stl: 12 coordinates snapped, by at most 1/1000`.
std::vector<std::string> mesh_words(const std::vector<MeshResult>& meshes);

}  // namespace cutproof

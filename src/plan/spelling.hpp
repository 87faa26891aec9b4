// SPDX-License-Identifier: GPL-3.0-or-later
// Which known word a mistyped one may be meant for.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace cutproof {

/// The word of `candidates` nearest to `word` (edit distance at most 2 and less than half its length), else the first of
/// which `word` is a part between hyphens (`hull` of `convex-hull`); empty when none is near.
std::string nearest_word(std::string_view word, const std::vector<std::string>& candidates);
/// The words by their edit distance from `word`, nearest first; as they stood where these are equal.
std::vector<std::string> nearest_first(std::string_view word, std::vector<std::string> words);

}  // namespace cutproof

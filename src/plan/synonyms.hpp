// SPDX-License-Identifier: GPL-3.0-or-later
// Which word of the language somebody means who writes another one. For hints only.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace cutproof {

/// The one among `words` that is nearest in spelling, else nearest in meaning (`translate`: translation; `target`: goal);
/// empty when there is none.
std::string word_meant(std::string_view written, const std::vector<std::string>& words);

}  // namespace cutproof

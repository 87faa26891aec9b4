// SPDX-License-Identifier: GPL-3.0-or-later
// Which version of the plan language brought which word. A plan of an older version keeps its meaning when the language
// grows: there a newer word is no word, and using it is an error that says so.
#pragma once

#include <string_view>

namespace cutproof {

constexpr int newest_version = 2;

/// The version that brought a word; 1 for all that the table does not hold. `place` is what has the word, as messages say
/// it: `a plan`, `a step`, `a solid`, `a motion`, `expect` in back quotes, `a function`.
int version_of_word(std::string_view place, std::string_view word);

}  // namespace cutproof

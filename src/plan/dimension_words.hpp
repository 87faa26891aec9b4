// SPDX-License-Identifier: GPL-3.0-or-later
// The words of the dimension: messages and reports are written once, for space; of a plan of dimension 2 they speak of
// lines, figures, edges and areas. One table has all the words.
#pragma once

#include <string>
#include <string_view>

namespace cutproof {

/// A sentence about space in the words of a dimension (2 or 3; in 3 it stays as it is). What stands in back quotes or in
/// braces is somebody else's text, and stays.
std::string in_dimension(int dimension, std::string_view sentence);
/// The same of a hint, in which the examples in back quotes that the table knows are exchanged, too.
std::string hint_in_dimension(int dimension, std::string_view hint);

/// Of which dimension alone this word of the language is; 0: it is a word in both. `meant` is the word of the other
/// dimension for the same thing, empty where there is none.
int dimension_of_word(std::string_view word, std::string_view* meant);

}  // namespace cutproof

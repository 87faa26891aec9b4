// SPDX-License-Identifier: GPL-3.0-or-later
// Strangers' text (titles, notes, names, paths, messages that quote them) must not be able to move the cursor, recolour the
// terminal, reverse the reading direction or fake a line of a report: the one function that everything shown passes through.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace cutproof {

/// Valid UTF-8 on one line: control characters, bidirectional controls, line separators and invisible characters appear as
/// `\n`, `\t`, `\u202e`, ...; bytes that are not UTF-8 as `\xff`. Everything else stays as it is.
std::string escaped(std::string_view text);

/// The same for the first `code_points` code points only: where a caret under escaped text has to stand.
std::string escaped_prefix(std::string_view text, std::size_t code_points);

/// For XML and HTML, as text or in an attribute's quotes. What XML forbids must have been made visible by `escaped`, which
/// lets no control character through.
std::string in_markup(std::string_view shown);

/// True iff every byte belongs to a well-formed sequence.
bool is_utf8(std::string_view text);

/// Columns that valid UTF-8 takes on a terminal: 2 for East Asian wide characters and emoji, 0 for combining marks, else 1.
std::size_t display_width(std::string_view text);

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// Files that people keep are replaced as a whole or not at all.
#pragma once

#include <string>

namespace cutproof {

/// Puts a text in place of a regular file's content: written beside it first, then renamed, so that whoever reads the file
/// finds the one or the other. A link goes on leading to the file; permissions stay. Returns what went wrong, or nothing.
std::string replace_file(const std::string& path, const std::string& text);

/// Makes a file, unless something of its name is there. Returns what went wrong, or nothing.
std::string create_file(const std::string& path, const std::string& text, bool* is_there);

}  // namespace cutproof

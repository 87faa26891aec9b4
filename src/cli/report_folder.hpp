// SPDX-License-Identifier: GPL-3.0-or-later
// Reports that are folders: one that is there is only touched when it is an older report and nothing else.
#pragma once

#include "report/formats.hpp"

#include <optional>
#include <string>
#include <vector>

namespace cutproof {

/// The file in a report folder that lists all others.
constexpr const char* folder_list_name = "cutproof-folder.json";

/// Why no report folder can be put in this place, or nothing: there is none yet, or there is an empty folder, or one that
/// holds only files that its own list names. Touches nothing.
std::optional<std::string> objection_to_folder(const std::string& path);
/// True iff the path lies in the folder or is the folder itself, whether they are there or not.
bool lies_in_folder(const std::string& path, const std::string& folder);

/// Removes the files that the folder's list names, and the folders that are empty then; nothing else. The error number, or
/// 0. A folder that is not there is no error.
int remove_report_folder(const std::string& path);

/// Writes the files and their list into a new folder beside `path` and sets `temporary` to its path, also where it could not
/// be filled. The error number, or 0.
int write_temporary_folder(const std::string& path, const std::vector<ReportFile>& files, std::string* temporary);
/// Removes what `write_temporary_folder` made.
void drop_temporary_folder(const std::string& temporary);

}  // namespace cutproof

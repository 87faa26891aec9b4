// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/report_folder.hpp"

#include "cli/report_files.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>

namespace cutproof {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;

constexpr std::uintmax_t longest_list = 16u << 20;  // bytes

// Without a slash at the end, which would make a parent of it.
fs::path plain(const std::string& path) {
  fs::path folder = fs::path(path).lexically_normal();
  if (!folder.has_filename() && folder.has_parent_path()) folder = folder.parent_path();
  return folder;
}

// The files that the folder's list names, as paths within it, the list itself among them; nothing where there is no list
// that can be trusted.
std::optional<std::set<fs::path>> listed_files(const fs::path& folder) {
  std::error_code error;
  const fs::path list = folder / folder_list_name;
  if (fs::symlink_status(list, error).type() != fs::file_type::regular) return std::nullopt;
  if (fs::file_size(list, error) > longest_list || error) return std::nullopt;
  std::ifstream stream(list, std::ios::binary);
  const std::string text((std::istreambuf_iterator<char>(stream)), std::istreambuf_iterator<char>());
  const Json json = Json::parse(text, nullptr, /*allow_exceptions=*/false);
  if (!json.is_object() || json.value("format", Json()) != "cutproof-folder" || !json.value("files", Json()).is_array())
    return std::nullopt;
  std::set<fs::path> files = {folder_list_name};
  for (const Json& each : json["files"]) {
    if (!each.is_string()) return std::nullopt;
    const fs::path path = each.get<std::string>();
    const bool leads_out = path.empty() || path.is_absolute() || std::find(path.begin(), path.end(), "..") != path.end();
    if (leads_out) return std::nullopt;
    files.insert(path.lexically_normal());
  }
  return files;
}

}  // namespace

std::optional<std::string> objection_to_folder(const std::string& path) {
  if (path == "-") return "it is a folder of files and cannot go to standard output";
  const fs::path folder = plain(path);
  std::error_code error;
  const fs::file_type type = fs::symlink_status(folder, error).type();
  if (type == fs::file_type::not_found) return std::nullopt;
  if (type == fs::file_type::symlink) return "there is a link in its place";
  if (type != fs::file_type::directory) return "there is something in its place that is no folder";
  const fs::path name = folder.filename();
  if (name.empty() || name == "." || name == ".." || fs::equivalent(folder, fs::current_path(error), error))
    return "it is the folder in which the program works";
  const std::optional<std::set<fs::path>> listed = listed_files(folder);
  fs::recursive_directory_iterator each(folder, error);
  for (; !error && each != fs::recursive_directory_iterator(); each.increment(error)) {
    const fs::path inner = each->path().lexically_relative(folder);
    const fs::file_type kind = each->symlink_status(error).type();
    if (kind == fs::file_type::directory) {
      const bool holds_listed =
          listed && std::any_of(listed->begin(), listed->end(), [&](const fs::path& file) {
            return std::mismatch(inner.begin(), inner.end(), file.begin(), file.end()).first == inner.end();
          });
      if (holds_listed) continue;
    }
    if (kind != fs::file_type::regular || !listed || listed->count(inner) == 0)
      return "the folder is there, and `" + inner.string() + "` in it is no part of an older report";
  }
  if (error) return "the folder is there and cannot be looked into";
  return std::nullopt;
}

bool lies_in_folder(const std::string& path, const std::string& folder) {
  std::error_code error;
  const fs::path inner = fs::weakly_canonical(fs::absolute(path, error), error),
                 outer = plain(fs::weakly_canonical(fs::absolute(folder, error), error).string());
  return std::mismatch(outer.begin(), outer.end(), inner.begin(), inner.end()).first == outer.end();
}

int remove_report_folder(const std::string& path) {
  const fs::path folder = plain(path);
  std::error_code error;
  if (fs::symlink_status(folder, error).type() != fs::file_type::directory) return 0;
  std::set<fs::path> folders;
  if (const auto listed = listed_files(folder)) {
    for (const fs::path& file : *listed) {
      for (fs::path above = file.parent_path(); !above.empty(); above = above.parent_path()) folders.insert(above);
      if (file != folder_list_name && unlink((folder / file).c_str()) != 0 && errno != ENOENT) return errno;
    }
    // The list last: what is left of an interrupted removal can be removed again.
    for (auto inner = folders.rbegin(); inner != folders.rend(); ++inner)
      if (rmdir((folder / *inner).c_str()) != 0 && errno != ENOENT) return errno;
    if (unlink((folder / folder_list_name).c_str()) != 0 && errno != ENOENT) return errno;
  }
  return rmdir(folder.c_str()) == 0 || errno == ENOENT ? 0 : errno;
}

namespace {

int write_file(const fs::path& path, const std::string& content) {
  const int file = open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW, 0666);
  if (file < 0) return errno;
  int error = write_fully(file, content);
  if (close(file) != 0 && error == 0) error = errno;
  return error;
}

}  // namespace

int write_temporary_folder(const std::string& path, const std::vector<ReportFile>& files, std::string* temporary) {
  std::string name = (plain(path).parent_path() / ".cutproof-XXXXXX").string();
  if (mkdtemp(name.data()) == nullptr) return errno;
  *temporary = name;
  const mode_t mask = umask(0);
  umask(mask);
  if (chmod(name.c_str(), 0777 & ~mask) != 0) return errno;
  Json list = {{"format", "cutproof-folder"}, {"version", 1}, {"files", Json::array()}};
  for (const ReportFile& file : files) {
    const fs::path inner = fs::path(name) / file.path;
    std::error_code error;
    fs::create_directories(inner.parent_path(), error);
    if (error) return error.value();
    if (const int failed = write_file(inner, file.content)) return failed;
    list["files"].push_back(file.path);
  }
  return write_file(fs::path(name) / folder_list_name, list.dump(1) + "\n");
}

void drop_temporary_folder(const std::string& temporary) {
  std::error_code error;
  fs::remove_all(temporary, error);
}

}  // namespace cutproof

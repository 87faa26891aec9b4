// SPDX-License-Identifier: GPL-3.0-or-later
// Paths are followed twice: as they are written, so that `..` means the same on every machine and nothing outside is even
// looked at, and as the file system has them, so that no link leads out.
#include "files/plan_folder.hpp"

#include "files/digest.hpp"
#include "files/read_file.hpp"
#include "number/errors.hpp"

#include <filesystem>
#include <map>
#include <system_error>

namespace cutproof {

namespace {

using Path = std::filesystem::path;

bool is_below(const Path& path, const Path& folder) {
  const Path relative = path.lexically_relative(folder);
  return !relative.empty() && *relative.begin() != "..";
}

constexpr const char* how_to_allow = "keep the file in the plan's folder or below it, or allow others with --outside";

/// What all files of one plan share.
struct Shelf {
  Path root;  ///< empty: the working folder
  bool outside;
  std::size_t most_bytes;
  std::map<std::string, SideFiles::File> files;
};

class FolderFiles final : public SideFiles {
 public:
  FolderFiles(std::shared_ptr<Shelf> shelf, Path folder) : shelf_(std::move(shelf)), folder_(std::move(folder)) {}

  const File& read(const std::string& written) override {
    const Path own = path_of(written), shown = own.is_absolute() ? own : (shelf_->root / own).lexically_normal();
    const auto known = shelf_->files.find(shown.string());
    if (known != shelf_->files.end()) return known->second;
    std::error_code error;
    const Path real = std::filesystem::canonical(shown, error);
    if (error == std::errc::no_such_file_or_directory || error == std::errc::not_a_directory)
      throw InvalidInput("there is no such file",
                         "paths are relative to the file that names them: `" + shown.string() + "`");
    if (error) throw InvalidInput("the file cannot be found: " + error.message());
    if (!shelf_->outside) {
      const Path root = std::filesystem::canonical(shelf_->root.empty() ? Path(".") : shelf_->root, error);
      if (error || !is_below(real, root)) throw InvalidInput("a link leads out of the plan's folder", how_to_allow);
    }
    File file;
    file.path = shown.string();
    file.bytes = read_side_file(real.string(), shelf_->most_bytes);
    file.sha256 = sha256(file.bytes);
    return shelf_->files.emplace(file.path, std::move(file)).first->second;
  }

  std::shared_ptr<SideFiles> beside(const std::string& path) override {
    return std::make_shared<FolderFiles>(shelf_, path_of(path).parent_path());
  }

 private:
  /// From the plan's folder.
  Path path_of(const std::string& written) const {
    const Path path(written);
    if (written.empty()) throw InvalidInput("a file has a name");
    if (path.is_absolute()) {
      if (!shelf_->outside)
        throw InvalidInput("the path is absolute",
                           "write it relative to the file that names it, or allow others with --outside");
      return path.lexically_normal();
    }
    Path own = (folder_ / path).lexically_normal();
    if (!shelf_->outside && !own.is_absolute() && *own.begin() == "..")
      throw InvalidInput("the path leads out of the plan's folder", how_to_allow);
    return own;
  }

  std::shared_ptr<Shelf> shelf_;
  Path folder_;  ///< of the file that names others, from the plan's
};

}  // namespace

std::shared_ptr<SideFiles> plan_folder(const std::string& plan_path, bool outside, std::size_t most_bytes) {
  const Path root = plan_path == "-" ? Path() : Path(plan_path).parent_path();
  return std::make_shared<FolderFiles>(std::make_shared<Shelf>(Shelf{root, outside, most_bytes, {}}), Path());
}

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// Files that a plan names beside itself, and the meshes in them. A plan is read twice, and a mesh may be used often: each
// file is read and checked once.
#pragma once

#include "solid/boundary.hpp"
#include "solid/mesh/mesh.hpp"

#include <cstddef>
#include <map>
#include <memory>
#include <string>
#include <vector>

namespace cutproof {

/// Where the files that a plan names come from; what may be read is decided there.
class SideFiles {
 public:
  SideFiles() = default;
  SideFiles(const SideFiles&) = delete;
  SideFiles& operator=(const SideFiles&) = delete;
  virtual ~SideFiles() = default;

  struct File {
    std::string path;  ///< for reports: that of the plan's folder as it was given, and the file's own
    std::string bytes, sha256;
  };
  /// The file that a path means which is relative to the file that names it. Throws InvalidInput where there is none or it
  /// may not be read, and LimitReached (`plan-size`). The file lives as long as this.
  virtual const File& read(const std::string& path) = 0;
  /// The same files for one of them, whose paths are relative to its own folder.
  virtual std::shared_ptr<SideFiles> beside(const std::string& path) = 0;
};

/// A mesh that a plan uses, for reports.
struct MeshUse {
  std::string file, sha256;
  bool snapped = false;
  std::size_t changed = 0;                     ///< coordinates that `snap` changed
  std::string largest_exact, largest_decimal;  ///< by how much at most
};

class Meshes {
 public:
  Meshes(std::shared_ptr<SideFiles> files, std::size_t max_bits) : files_(std::move(files)), max_bits_(max_bits) {}

  SideFiles& files() { return *files_; }
  /// What stands in a file. Throws InvalidInput and LimitReached, each time for the same file.
  const Mesh& read(const SideFiles::File& file);
  /// The boundary that a mesh has as it is written, all its numbers in Q; null before it was checked.
  std::shared_ptr<const Boundary>& boundary(const SideFiles::File& file) { return boundaries_[file.path]; }
  /// Told once for each mesh, and for each of the ways in which it was snapped.
  void note(const MeshUse& use);
  const std::vector<MeshUse>& uses() const { return uses_; }

 private:
  std::shared_ptr<SideFiles> files_;
  std::size_t max_bits_;
  std::map<std::string, Mesh> meshes_;
  std::map<std::string, std::shared_ptr<const Boundary>> boundaries_;
  std::vector<MeshUse> uses_;
};

}  // namespace cutproof

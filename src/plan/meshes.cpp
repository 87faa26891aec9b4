// SPDX-License-Identifier: GPL-3.0-or-later
#include "plan/meshes.hpp"

#include <algorithm>
#include <tuple>

namespace cutproof {

const Mesh& Meshes::read(const SideFiles::File& file) {
  const auto known = meshes_.find(file.path);
  return known != meshes_.end() ? known->second : meshes_.emplace(file.path, read_mesh(file.bytes, max_bits_)).first->second;
}

void Meshes::note(const MeshUse& use) {
  const auto all = [](const MeshUse& each) {
    return std::tie(each.file, each.sha256, each.snapped, each.changed, each.largest_exact);
  };
  if (std::none_of(uses_.begin(), uses_.end(), [&](const MeshUse& each) { return all(each) == all(use); }))
    uses_.push_back(use);
}

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// Solids whose surface stands in a file of its own.
#include "plan/resolver.hpp"

#include "number/print.hpp"
#include "number/whole.hpp"
#include "plan/complaints.hpp"
#include "plan/meshes.hpp"
#include "plan/source_text.hpp"
#include "solid/boundary_check.hpp"

#include <algorithm>
#include <utility>

namespace cutproof {

namespace {

/// How `snap` changes a coordinate.
struct Snap {
  std::optional<Number> grid;  ///< to the nearest multiple of this,
  std::vector<Number> values;  ///< or to the one of these that is at most `within` away
  std::optional<Number> within;
};

std::string shown(const Number& number) {
  const std::string exact = to_exact(number);
  return exact.size() <= 40 ? exact : to_decimal(number, 10) + "...";
}

Number on_grid(const Number& coordinate, const Snap& snap) {
  const Number half = Number::fraction(1, 2), steps = divide(coordinate, *snap.grid) + half, whole = floor_of(steps);
  if (whole == steps)
    throw InvalidInput("lies midway between the multiples " + shown((whole - Number(1)) * *snap.grid) + " and " +
                           shown(whole * *snap.grid) + " of the grid",
                       "choose a grid that says which one is meant");
  const Number snapped = whole * *snap.grid;
  if (snap.within && absolute(snapped - coordinate) > *snap.within)
    throw InvalidInput("lies farther than `within` from " + shown(snapped) + ", the nearest multiple of the grid",
                       "it is " + to_decimal(absolute(snapped - coordinate), 6) + " away");
  return snapped;
}

Number at_value(const Number& coordinate, const Snap& snap) {
  std::optional<Number> found;
  for (const Number& value : snap.values) {
    if (absolute(value - coordinate) > *snap.within || (found && *found == value)) continue;
    if (found)
      throw InvalidInput("lies within that distance of two values, " + shown(*found) + " and " + shown(value),
                         "make `within` smaller");
    found = value;
  }
  if (found) return *found;
  const Number nearest = *std::min_element(snap.values.begin(), snap.values.end(), [&](const Number& a, const Number& b) {
    return absolute(a - coordinate) < absolute(b - coordinate);
  });
  throw InvalidInput("lies within that distance of none of the values",
                     "the nearest is " + shown(nearest) + ", " + to_decimal(absolute(nearest - coordinate), 6) + " away");
}

/// Moves each coordinate that faces use to where `snap` wants it.
void snap_points(WrittenSurface* surface, const Snap& snap, MeshUse* use) {
  use->snapped = true;
  std::vector<char> used(surface->points.size(), 0);
  for (const auto& face : surface->faces)
    for (const auto& cycle : face)
      for (const int corner : cycle) used[static_cast<std::size_t>(corner)] = 1;
  Number largest;
  for (std::size_t i = 0; i < used.size(); ++i) {
    if (used[i] == 0) continue;
    const std::pair<const char*, Number*> coordinates[] = {
        {"x", &surface->points[i].x}, {"y", &surface->points[i].y}, {"z", &surface->points[i].z}};
    for (const auto& [axis, coordinate] : coordinates) {
      try {
        const Number snapped = snap.grid ? on_grid(*coordinate, snap) : at_value(*coordinate, snap);
        if (snapped == *coordinate) continue;
        ++use->changed;
        if (const Number change = absolute(snapped - *coordinate); largest < change) largest = change;
        *coordinate = snapped;
      } catch (const InvalidInput& error) {
        throw InvalidInput(std::string(axis) + " = " + shown(*coordinate) + " of the point " + surface->point_names[i] +
                               " " + told(error).sentence,
                           told(error).hint);
      }
    }
  }
  use->largest_exact = to_exact(largest);
  use->largest_decimal = to_decimal(largest);
}

WrittenSurface surface_of(const Mesh& mesh) {
  WrittenSurface surface;
  const auto number = [](const Rational& value) { return Number(value, Field::rational()); };
  for (std::size_t i = 0; i < mesh.points.size(); ++i) {
    const auto& [x, y, z] = mesh.points[i];
    surface.points.push_back({number(x), number(y), number(z)});
    surface.point_names.push_back(mesh.point_name(i));
  }
  for (std::size_t i = 0; i < mesh.faces.size(); ++i) {
    surface.faces.push_back({mesh.faces[i]});
    surface.face_names.push_back(mesh.face_name(i));
  }
  return surface;
}

}  // namespace

SolidPointer Resolver::mesh(const Node& node) {
  index_.mapping(node, "a mesh", "as in `{ file: block.off }`");
  index_.allow_keys(node, "a mesh", {"file", "snap"});
  const Node& file_node = index_.required(node, "file", "a mesh");
  const std::string path = index_.word(file_node, "the path of a file");
  const Node* const snap_node = node.find("snap");
  std::optional<Snap> snap;
  if (snap_node != nullptr) {
    snap.emplace();
    index_.mapping(*snap_node, "`snap`", "as in `{ grid: 1/1000 }`");
    index_.allow_keys(*snap_node, "`snap`", {"grid", "to", "within"});
    const Node *grid = snap_node->find("grid"), *to = snap_node->find("to"), *within = snap_node->find("within");
    if ((grid == nullptr) == (to == nullptr))
      index_.fail(*snap_node, grid != nullptr ? "`snap` has either `grid` or `to`, not both" : "`snap` needs `grid` or `to`",
                  "as in `{ grid: 1/1000 }` or `{ to: [1, sqrt(2)/2], within: 1e-6 }`");
    if (within != nullptr) {
      snap->within = number(*within);
      if (snap->within->sign() < 0) fault(*within, "`within` is " + to_exact(*snap->within) + ", which is negative");
    }
    if (grid != nullptr) {
      snap->grid = number(*grid);
      if (snap->grid->sign() <= 0) fault(*grid, "the grid is " + to_exact(*snap->grid) + ", which is not positive");
    } else {
      index_.require(*snap_node, {"to", "within"}, "`snap`");
      index_.sequence(*to, "the list of values of `to`", "write them as in `[1, sqrt(2)/2]`; their negatives count, too");
      for (const Node::Entry& entry : to->entries) {
        const Number value = number(entry.value);
        snap->values.push_back(value);
        if (!value.is_zero()) snap->values.push_back(-value);
      }
    }
  }
  Meshes* const meshes = index_.meshes();
  if (meshes == nullptr) index_.fail(file_node, "no file can be read here", "write the surface into the plan, as `faces`");
  return placed(file_node, [&]() -> SolidPointer {
    MeshUse use;
    const auto note = [&] {
      if (!use.file.empty()) meshes->note(use);
    };
    const std::string prefix = "the mesh " + quoted_text(path) + ": ";
    try {
      const SideFiles::File& file = meshes->files().read(path);
      use.file = file.path;
      use.sha256 = file.sha256;
      const Mesh& mesh = meshes->read(file);
      std::shared_ptr<const Boundary> plain;
      std::shared_ptr<const Boundary>& known = snap ? plain : meshes->boundary(file);
      if (known == nullptr) {
        WrittenSurface surface = surface_of(mesh);
        if (snap) snap_points(&surface, *snap, &use);
        known = std::make_shared<const Boundary>(checked_boundary(surface));
      }
      note();
      return make_solid(SurfaceDescription{*known});
    } catch (const InvalidInput& error) {
      note();
      throw InvalidInput(prefix + told(error).sentence, told(error).hint);
    } catch (const LimitReached& error) {
      note();
      throw LimitReached(error.limit(), prefix + told(error).sentence, told(error).hint);
    }
  });
}

}  // namespace cutproof

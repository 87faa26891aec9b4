// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/painter.hpp"

#include "solid/parts/algebra.hpp"
#include "solid/parts/separate.hpp"

#include <algorithm>
#include <unordered_set>
#include <utility>

namespace cutproof {

std::vector<OwnedPart> parted(const std::vector<OwnedPart>& parts) {
  CellList cells;
  for (const OwnedPart& part : parts) cells.push_back(part.cell);
  std::vector<std::vector<std::size_t>> earlier(parts.size());  // parts that keep what they share with this one
  for_each_close_pair(cells, [&](std::size_t i, std::size_t j) {
    if (interiors_meet(cells[i], cells[j])) earlier[j].push_back(i);
  });
  std::vector<OwnedPart> result;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (earlier[i].empty()) {
      result.push_back(parts[i]);
      continue;
    }
    std::sort(earlier[i].begin(), earlier[i].end());  // close pairs come in no particular order
    CellList others;
    for (const std::size_t other : earlier[i]) others.push_back(cells[other]);
    for (const CellPointer& rest : difference({cells[i]}, others)) result.push_back({rest, parts[i].owner});
  }
  return result;
}

namespace {

/// Where a part lies: it may have interior points on both sides.
struct Sides {
  bool positive = false, negative = false;
};

Sides sides_of(const ConvexPart& part, const FacePlane& plane) {
  for (const CellFace& face : part.faces())
    if (face.plane.get() == &plane) return {face.flipped, !face.flipped};
  Sides sides;
  for (const CornerPointer& corner : part.corners()) {
    const int s = side(plane, *corner);
    sides.positive = sides.positive || s > 0;
    sides.negative = sides.negative || s < 0;
    if (sides.positive && sides.negative) break;
  }
  return sides;
}

/// How a plane divides parts: by how many it splits, and how many are left in the larger half.
struct Division {
  std::size_t split = 0, positive = 0, negative = 0;
  bool divides() const { return positive + split > 0 && negative + split > 0; }
  bool better_than(const Division& other) const {
    if (split != other.split) return split < other.split;
    return std::max(positive, negative) < std::max(other.positive, other.negative);
  }
};

Division divide(const std::vector<OwnedPart>& parts, const FacePlane& plane, std::size_t most_split) {
  Division division;
  for (const OwnedPart& part : parts) {
    const Sides sides = sides_of(*part.cell, plane);
    if (sides.positive && sides.negative) {
      if (++division.split > most_split) break;  // no better than what is known
    } else {
      ++(sides.positive ? division.positive : division.negative);
    }
  }
  return division;
}

/// The plane to divide by, among as many as keep the work in proportion to the parts. At least one divides: whatever lies
/// outside a convex part lies beyond one of its planes. One that splits nothing and halves well ends the search.
PlanePointer best_plane(const std::vector<OwnedPart>& parts) {
  std::vector<PlanePointer> planes;
  std::unordered_set<const FacePlane*> seen;
  for (const OwnedPart& part : parts)
    for (const CellFace& face : part.cell->faces())
      if (seen.insert(face.plane.get()).second) planes.push_back(face.plane);
  constexpr std::size_t work = 60000, fewest_tried = 48;
  const std::size_t tried = std::max(fewest_tried, work / parts.size());
  PlanePointer best;
  Division best_division;
  const auto consider = [&](const PlanePointer& plane) {
    const Division division = divide(parts, *plane, best ? best_division.split : parts.size());
    if (division.divides() && (!best || division.better_than(best_division))) {
      best = plane;
      best_division = division;
    }
  };
  const std::size_t stride = planes.size() <= tried ? 1 : planes.size() / tried + 1;
  for (std::size_t first = 0; first < stride; ++first) {
    for (std::size_t i = first; i < planes.size(); i += stride) {
      consider(planes[i]);
      if (best && best_division.split == 0 && 4 * std::min(best_division.positive, best_division.negative) >= parts.size())
        return best;
    }
    if (best) return best;
  }
  return best;
}

}  // namespace

struct PaintersTree::Node {
  PlanePointer plane;
  OwnedPart part;  ///< of a leaf
  std::unique_ptr<Node> positive, negative;

  static std::unique_ptr<Node> of(std::vector<OwnedPart> parts) {
    if (parts.empty()) return nullptr;
    auto node = std::make_unique<Node>();
    if (parts.size() == 1) {
      node->part = std::move(parts.front());
      return node;
    }
    node->plane = best_plane(parts);
    if (!node->plane) throw ToolFault("parts to be painted overlap");
    std::vector<OwnedPart> above, below;
    for (OwnedPart& part : parts) {
      CellHalves halves = split(part.cell, node->plane);
      if (halves.positive) above.push_back({std::move(halves.positive), part.owner});
      if (halves.negative) below.push_back({std::move(halves.negative), part.owner});
    }
    parts.clear();
    parts.shrink_to_fit();
    node->positive = of(std::move(above));
    node->negative = of(std::move(below));
    return node;
  }

  void paint(const Vector3& toward_viewer, std::vector<OwnedPart>& order) const {
    if (part.cell) {
      order.push_back(part);
      return;
    }
    const bool positive_is_near = dot(plane->plane.normal, toward_viewer).sign() > 0;
    (positive_is_near ? negative : positive)->paint(toward_viewer, order);
    (positive_is_near ? positive : negative)->paint(toward_viewer, order);
  }
};

PaintersTree::PaintersTree(std::vector<OwnedPart> parts) : root_(Node::of(std::move(parts))) {}
PaintersTree::PaintersTree(PaintersTree&&) noexcept = default;
PaintersTree& PaintersTree::operator=(PaintersTree&&) noexcept = default;
PaintersTree::~PaintersTree() = default;

std::vector<OwnedPart> PaintersTree::order(const Vector3& toward_viewer) const {
  std::vector<OwnedPart> order;
  if (root_) root_->paint(toward_viewer, order);
  return order;
}

}  // namespace cutproof

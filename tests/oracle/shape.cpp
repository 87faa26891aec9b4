// SPDX-License-Identifier: GPL-3.0-or-later
// Everything in quadratic loops over cells: what is tested with this matters, its speed does not.
#include "oracle/shape.hpp"

#include <algorithm>
#include <array>
#include <numeric>

namespace cutproof::oracle {
namespace {

using Triangle = std::array<Vector3, 3>;

/// A face as signed triangles: every edge of every cycle, seen from the first corner. Where they go over points outside the
/// face, they cancel.
struct Face {
  Plane plane;
  std::vector<Triangle> triangles;
};

std::vector<Face> faces_of(const Boundary& boundary) {
  std::vector<Face> faces;
  for (const Facet& facet : boundary.facets) {
    Face face{facet.plane, {}};
    const Vector3& apex = boundary.vertices[facet.cycles.front().front()];
    for (const std::vector<int>& cycle : facet.cycles)
      for (std::size_t i = 0; i < cycle.size(); ++i) {
        const Triangle triangle{apex, boundary.vertices[cycle[i]], boundary.vertices[cycle[(i + 1) % cycle.size()]]};
        if (!is_zero(cross(triangle[1] - apex, triangle[2] - apex))) face.triangles.push_back(triangle);
      }
    faces.push_back(std::move(face));
  }
  return faces;
}

Number determinant(const Vector3& a, const Vector3& b, const Vector3& c) {
  return dot(a, cross(b, c));
}

// Whether the face may reach into the cell; never false when it does.
bool may_enter(const Face& face, const Cell& cell) {
  return std::any_of(face.triangles.begin(), face.triangles.end(), [&](const Triangle& triangle) {
    return std::none_of(cell.planes.begin(), cell.planes.end(), [&](const Plane& plane) {
      return std::all_of(triangle.begin(), triangle.end(), [&](const Vector3& p) { return side_of(plane, p) >= 0; });
    });
  });
}

// How often the surface goes round a point that is not on it: signed crossings of a ray. False when the ray meets an edge.
bool count_windings(const std::vector<Face>& faces, const Vector3& from, const Vector3& direction, int* windings) {
  *windings = 0;
  for (const Face& face : faces)
    for (const Triangle& triangle : face.triangles) {
      bool positive = false, negative = false, zero = false;
      for (int i = 0; i < 3; ++i) {
        const int side = determinant(direction, triangle[i] - from, triangle[(i + 1) % 3] - from).sign();
        positive = positive || side > 0;
        negative = negative || side < 0;
        zero = zero || side == 0;
      }
      if (positive && negative) continue;
      if (zero) return false;
      const Vector3 normal = cross(triangle[1] - triangle[0], triangle[2] - triangle[0]);
      const int leaves = dot(normal, direction).sign();
      if (dot(normal, triangle[0] - from).sign() == leaves) *windings += leaves;
    }
  return true;
}

bool is_inside(const std::vector<Face>& faces, const Vector3& point) {
  for (int attempt = 1; attempt < 1000; ++attempt) {
    int windings = 0;
    const Vector3 direction{Number(101 + 7 * attempt), Number(53 - attempt * attempt), Number(29 * attempt - 17)};
    if (count_windings(faces, point, direction, &windings)) return windings != 0;
  }
  throw ToolFault("the oracle found no ray that misses all edges");
}

void cut_out(const std::vector<Face>& faces, const Cell& cell, Shape* inside) {
  for (const Face& face : faces) {
    if (!may_enter(face, cell)) continue;
    const Sides sides = split(cell, face.plane);
    if (!sides.below || !sides.above) continue;
    cut_out(faces, *sides.below, inside);
    cut_out(faces, *sides.above, inside);
    return;
  }
  if (is_inside(faces, middle(cell))) inside->push_back(cell);
}

Shape build_surface(const Boundary& boundary) {
  const std::vector<Face> faces = faces_of(boundary);
  const Box box = box_around(boundary.vertices);
  const Vector3 &low = box.minimum, &high = box.maximum;
  Shape inside;
  cut_out(faces,
          hull({low,
                {high.x, low.y, low.z},
                {low.x, high.y, low.z},
                {low.x, low.y, high.z},
                high,
                {low.x, high.y, high.z},
                {high.x, low.y, high.z},
                {high.x, high.y, low.z}}),
          &inside);
  std::vector<Number> signed_tetrahedra;
  for (const Face& face : faces)
    for (const Triangle& t : face.triangles) signed_tetrahedra.push_back(determinant(t[0] - low, t[1] - low, t[2] - low));
  if (volume(inside) != Number::fraction(1, 6) * balanced_sum(signed_tetrahedra))
    throw ToolFault("the oracle's cells do not add up to the surface's volume");
  return inside;
}

Shape common_part(const Shape& a, const Shape& b) {
  Shape shared;
  for (const Cell& x : a)
    for (const Cell& y : b)
      if (std::optional<Cell> both = common(x, y)) shared.push_back(std::move(*both));
  return shared;
}

bool linked(const Cell& a, const Cell& b) {
  return share_area(a, b) || common(a, b).has_value();
}

/// Groups of numbers that hang together.
class Groups {
 public:
  explicit Groups(std::size_t size) : parent_(size) { std::iota(parent_.begin(), parent_.end(), std::size_t{0}); }
  std::size_t of(std::size_t i) {
    while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
    return i;
  }
  void link(std::size_t i, std::size_t j) { parent_[of(i)] = of(j); }

 private:
  std::vector<std::size_t> parent_;
};

struct OrderedPart {
  Shape cells;
  Vector3 smallest, centroid;
  Number volume;
};

bool comes_before(const OrderedPart& a, const OrderedPart& b) {
  if (const int by_corner = compare(a.smallest, b.smallest)) return by_corner < 0;
  if (const int by_volume = compare(a.volume, b.volume)) return by_volume < 0;
  return a.centroid < b.centroid;
}

OrderedPart ordered(Shape cells) {
  OrderedPart part;
  part.smallest = cells.front().corners.front().at;
  for (const Cell& cell : cells)
    for (const Cell::Corner& corner : cell.corners)
      if (corner.at < part.smallest) part.smallest = corner.at;
  Vector3 moment;
  for (const Cell& cell : region(cells)) {
    const Measure measured = measure(cell);
    part.volume += measured.volume;
    moment = moment + measured.moment;
  }
  part.centroid = divide(Number(1), part.volume) * moment;
  part.cells = std::move(cells);
  return part;
}

}  // namespace

Number volume(const Shape& shape) {
  std::vector<Number> volumes;
  for (const Cell& cell : shape) volumes.push_back(measure(cell).volume);
  return balanced_sum(volumes);
}

Shape region(const Shape& shape) {
  Shape result;
  for (const Cell& cell : shape)
    for (Cell& fresh : difference(Shape{cell}, result)) result.push_back(std::move(fresh));
  return result;
}

Shape difference(const Shape& minuend, const Shape& subtrahend) {
  Shape rest = minuend;
  for (const Cell& cell : subtrahend) {
    Shape next;
    for (const Cell& part : rest)
      for (Cell& piece : difference(part, cell)) next.push_back(std::move(piece));
    rest = std::move(next);
  }
  return rest;
}

Number common_volume(const Shape& a, const Shape& b) {
  return volume(common_part(region(a), region(b)));
}

bool share_interior_points(const Shape& a, const Shape& b) {
  return std::any_of(a.begin(), a.end(), [&](const Cell& x) {
    return std::any_of(b.begin(), b.end(), [&](const Cell& y) { return common(x, y).has_value(); });
  });
}

std::vector<Shape> connected_components(const Shape& shape) {
  Groups groups(shape.size());
  for (std::size_t i = 0; i < shape.size(); ++i)
    for (std::size_t j = i + 1; j < shape.size(); ++j)
      if (groups.of(i) != groups.of(j) && linked(shape[i], shape[j])) groups.link(i, j);
  std::vector<OrderedPart> parts;
  for (std::size_t root = 0; root < shape.size(); ++root) {
    Shape cells;
    for (std::size_t i = 0; i < shape.size(); ++i)
      if (groups.of(i) == root) cells.push_back(shape[i]);
    if (!cells.empty()) parts.push_back(ordered(std::move(cells)));
  }
  std::sort(parts.begin(), parts.end(), comes_before);
  std::vector<Shape> result;
  for (OrderedPart& part : parts) result.push_back(std::move(part.cells));
  return result;
}

std::size_t count_linked_groups(const std::vector<Shape>& shapes) {
  Groups groups(shapes.size());
  for (std::size_t i = 0; i < shapes.size(); ++i)
    for (std::size_t j = i + 1; j < shapes.size(); ++j) {
      if (groups.of(i) == groups.of(j)) continue;
      const bool touch = std::any_of(shapes[i].begin(), shapes[i].end(), [&](const Cell& a) {
        return std::any_of(shapes[j].begin(), shapes[j].end(), [&](const Cell& b) { return linked(a, b); });
      });
      if (touch) groups.link(i, j);
    }
  std::size_t count = 0;
  for (std::size_t i = 0; i < shapes.size(); ++i) count += groups.of(i) == i ? 1 : 0;
  return count;
}

Shape build(const SolidDescription& solid) {
  if (const auto* points = std::get_if<HullDescription>(&solid.kind)) return {hull(points->points)};
  if (const auto* surface = std::get_if<SurfaceDescription>(&solid.kind)) return build_surface(surface->boundary);
  if (const auto* copy = std::get_if<PlacedDescription>(&solid.kind)) {
    Shape shape;
    for (const Cell& cell : build(*copy->solid)) shape.push_back(placed(cell, copy->motion, copy->factor, copy->about));
    return shape;
  }
  const auto& combination = std::get<BooleanDescription>(solid.kind);
  Shape result = build(*combination.operands.front());
  for (std::size_t i = 1; i < combination.operands.size(); ++i) {
    const Shape operand = build(*combination.operands[i]);
    switch (combination.kind) {
      case BooleanKind::union_of_all: {
        const Shape more = difference(operand, result);
        result.insert(result.end(), more.begin(), more.end());
        break;
      }
      case BooleanKind::intersection_of_all:
        result = common_part(result, operand);
        break;
      case BooleanKind::first_minus_others:
        result = difference(result, operand);
        break;
    }
  }
  return result;
}

}  // namespace cutproof::oracle

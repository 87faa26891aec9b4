// SPDX-License-Identifier: GPL-3.0-or-later
#include "plan/exact_value.hpp"

#include "number/exact_text.hpp"
#include "number/print.hpp"
#include "solid/shapes.hpp"

#include <algorithm>
#include <functional>
#include <optional>
#include <set>

namespace cutproof {

namespace {

PlanValue mapping(std::initializer_list<std::pair<const char*, PlanValue>> fields) {
  PlanValue result = PlanValue::mapping();
  for (const auto& [key, value] : fields) result.add(key, value);
  return result;
}

PlanValue point_list(const std::vector<Vector3>& points) {
  PlanValue result = PlanValue::list();
  for (const Vector3& point : points) result.add(written_value(point));
  return result;
}

/// Adds `factor*name` to a sum.
void add_term(std::string* sum, const Number& factor, const char* name) {
  if (factor.is_zero()) return;
  std::string text = to_exact(factor);
  if (is_sum(text)) text = "(" + text + ")";
  if (text == "1" || text == "-1") {
    text.pop_back();
  } else {
    text += "*";
  }
  text += name;
  if (sum->empty()) {
    *sum = text;
  } else {
    *sum += text.front() == '-' ? " - " + text.substr(1) : " + " + text;
  }
}

/// Where a copy puts each point, and whether it is a mirror image.
struct Copy {
  std::function<Vector3(const Vector3&)> image;
  bool mirrored = false;
};

std::vector<Vector3> images(const std::vector<Vector3>& points, const Copy& copy) {
  std::vector<Vector3> result;
  for (const Vector3& point : points) result.push_back(copy.image(point));
  return result;
}

/// The box whose corners these are; nothing when they are not those of a box along the axes.
std::optional<PlanValue> box_of(const std::vector<Vector3>& points) {
  const Box around = box_around(points);
  const auto is_corner = [&](const Vector3& point) {
    for (const int axis : {0, 1, 2}) {
      const Number& along = coordinate(point, axis);
      if (along != coordinate(around.minimum, axis) && along != coordinate(around.maximum, axis)) return false;
    }
    return true;
  };
  constexpr std::size_t corners_of_a_box = 8;
  const std::set<Vector3> different(points.begin(), points.end());
  if (different.size() != corners_of_a_box || !std::all_of(different.begin(), different.end(), is_corner))
    return std::nullopt;
  PlanValue box = mapping({{"size", written_value(around.maximum - around.minimum)}});
  if (!is_zero(around.minimum)) box.add("at", written_value(around.minimum));
  return mapping({{"box", box}});
}

PlanValue write(const HullDescription& hull, const Copy& copy) {
  const std::vector<Vector3> points = images(hull.points, copy);
  if (std::optional<PlanValue> box = box_of(points)) return *box;
  return mapping({{"convex-hull", point_list(points)}});
}

bool same(const Boundary& a, const Boundary& b) {
  return a.vertices == b.vertices &&
         std::equal(a.facets.begin(), a.facets.end(), b.facets.begin(), b.facets.end(),
                    [](const Facet& left, const Facet& right) { return left.cycles == right.cycles; });
}

/// Whether a solid is the surface that `make` makes of the first corners and of one more thing.
template <class Make>
bool is_made_of(const Boundary& surface, std::size_t corners, const Vector3& other, const Make& make) {
  try {
    const SolidPointer made = make({surface.vertices.begin(), surface.vertices.begin() + static_cast<long>(corners)}, other);
    const auto* its = std::get_if<SurfaceDescription>(&made->kind);
    return its != nullptr && same(its->boundary, surface);
  } catch (const InvalidInput&) {
    return false;
  }
}

/// A prism or a pyramid that was written as one.
std::optional<PlanValue> short_form(const Boundary& surface, const Copy& copy) {
  const std::size_t count = surface.vertices.size(), half = count / 2;
  const auto base_of = [&](std::size_t corners) {
    return images({surface.vertices.begin(), surface.vertices.begin() + static_cast<long>(corners)}, copy);
  };
  if (count == 2 * half && surface.facets.size() == half + 2 &&
      is_made_of(surface, half, surface.vertices[half] - surface.vertices[0], make_prism)) {
    if (half == 4 && surface.facets.size() == 6)
      if (std::optional<PlanValue> box = box_of(images(surface.vertices, copy)); box) return box;
    const std::vector<Vector3> base = base_of(half);
    const Vector3 along = copy.image(surface.vertices[half]) - base.front();
    const bool upright = along.x.is_zero() && along.y.is_zero() && along.z.sign() > 0 &&
                         std::all_of(base.begin(), base.end(), [](const Vector3& corner) { return corner.z.is_zero(); });
    if (!upright) return mapping({{"prism", mapping({{"base", point_list(base)}, {"along", written_value(along)}})}});
    PlanValue flat = PlanValue::list();
    for (const Vector3& corner : base) flat.add(PlanValue::list({to_exact(corner.x), to_exact(corner.y)}));
    return mapping({{"prism", mapping({{"base", flat}, {"height", to_exact(along.z)}})}});
  }
  if (count > 3 && surface.facets.size() == count && is_made_of(surface, count - 1, surface.vertices.back(), make_pyramid))
    return mapping({{"pyramid", mapping({{"base", point_list(base_of(count - 1))},
                                         {"apex", written_value(copy.image(surface.vertices.back()))}})}});
  return std::nullopt;
}

PlanValue write(const SurfaceDescription& surface, const Copy& copy) {
  if (std::optional<PlanValue> form = short_form(surface.boundary, copy)) return *form;
  PlanValue faces = PlanValue::list();
  for (const Facet& facet : surface.boundary.facets) {
    std::vector<PlanValue> cycles;
    for (std::vector<int> cycle : facet.cycles) {
      if (copy.mirrored) std::reverse(cycle.begin(), cycle.end());
      cycles.push_back(PlanValue::list({cycle.begin(), cycle.end()}));
    }
    PlanValue outer = cycles.front();
    if (cycles.size() > 1) {
      cycles.erase(cycles.begin());
      outer = mapping({{"outer", outer}, {"holes", PlanValue::list(cycles)}});
    }
    faces.add(outer);
  }
  return mapping({{"faces", mapping({{"points", point_list(images(surface.boundary.vertices, copy))}, {"faces", faces}})}});
}

PlanValue write(const SolidDescription& solid, const Copy& copy);

PlanValue write(const BooleanDescription& combination, const Copy& copy) {
  PlanValue operands = PlanValue::list();
  for (const SolidPointer& operand : combination.operands) operands.add(write(*operand, copy));
  switch (combination.kind) {
    case BooleanKind::union_of_all:
      return mapping({{"union", operands}});
    case BooleanKind::intersection_of_all:
      return mapping({{"intersection", operands}});
    case BooleanKind::first_minus_others:
      break;
  }
  return mapping({{"difference", operands}});
}

PlanValue write(const PlacedDescription& placed, const Copy& copy) {
  Copy inner;
  inner.image = [&](const Vector3& point) {
    return copy.image(placed.motion(placed.about + placed.factor * (point - placed.about)));
  };
  inner.mirrored = copy.mirrored == placed.motion.is_proper();
  return write(*placed.solid, inner);
}

PlanValue write(const SolidDescription& solid, const Copy& copy) {
  return std::visit([&](const auto& kind) { return write(kind, copy); }, solid.kind);
}

}  // namespace

PlanValue written_value(const Vector3& point) {
  return PlanValue::list({to_exact(point.x), to_exact(point.y), to_exact(point.z)});
}

PlanValue written_value(const Plane& plane) {
  const Plane shorter = reduced(plane);
  std::string sum;
  add_term(&sum, shorter.normal.x, "x");
  add_term(&sum, shorter.normal.y, "y");
  add_term(&sum, shorter.normal.z, "z");
  return mapping({{"equation", sum + " = " + to_exact(shorter.offset)}});
}

PlanValue written_value(const Motion& motion) {
  const std::array<Vector3, 3> from = {Vector3{Number(0), Number(0), Number(0)}, Vector3{Number(1), Number(0), Number(0)},
                                       Vector3{Number(0), Number(1), Number(0)}};
  const std::vector<Vector3> to = {motion(from[0]), motion(from[1]), motion(from[2])};
  if (motion.is_proper() && to[1] - to[0] == from[1] && to[2] - to[0] == from[2])
    return mapping({{"translation", written_value(motion.shift())}});
  const PlanValue map =
      mapping({{"map", mapping({{"from", point_list({from.begin(), from.end()})}, {"to", point_list(to)}})}});
  if (motion.is_proper()) return map;
  // The three points lie in the mirror.
  return PlanValue::list({mapping({{"reflection", mapping({{"equation", "z = 0"}})}}), map});
}

PlanValue written_value(const SolidDescription& solid) {
  return write(solid, {[](const Vector3& point) { return point; }, false});
}

}  // namespace cutproof

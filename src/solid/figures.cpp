// SPDX-License-Identifier: GPL-3.0-or-later
// What is wrong with a figure is told in the words of the plane.
#include "solid/figures.hpp"

#include "number/angle.hpp"
#include "number/print.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <string>

namespace cutproof {

namespace {

using Cycle = std::vector<Vector3>;

std::string point_text(const Vector3& p) {
  return "(" + to_exact(p.x) + ", " + to_exact(p.y) + ")";
}

std::string corner_text(const Cycle& cycle, std::size_t i) {
  return "corner " + std::to_string(i + 1) + " " + point_text(cycle[i]);
}

std::string edge_text(const Cycle& cycle, std::size_t i) {
  return "from corner " + std::to_string(i + 1) + " to " + std::to_string((i + 1) % cycle.size() + 1);
}

/// Positive when r lies to the left of the way from p to q.
int turn(const Vector3& p, const Vector3& q, const Vector3& r) {
  return cross_component(q - p, r - p, 2).sign();
}

/// Whether the closed segments ab and cd have a point in common.
bool segments_meet(const Vector3& a, const Vector3& b, const Vector3& c, const Vector3& d) {
  const auto within = [](const Vector3& p, const Vector3& q, const Vector3& r) { return dot(p - r, q - r).sign() <= 0; };
  const int abc = turn(a, b, c), abd = turn(a, b, d), cda = turn(c, d, a), cdb = turn(c, d, b);
  if (abc * abd < 0 && cda * cdb < 0) return true;
  return (abc == 0 && within(a, b, c)) || (abd == 0 && within(a, b, d)) || (cda == 0 && within(c, d, a)) ||
         (cdb == 0 && within(c, d, b));
}

/// Twice the area, negative for a clockwise cycle.
Number doubled_area(const Cycle& cycle) {
  std::vector<Number> terms;
  for (std::size_t i = 1; i + 1 < cycle.size(); ++i)
    terms.push_back(cross_component(cycle[i] - cycle[0], cycle[i + 1] - cycle[0], 2));
  return balanced_sum(std::move(terms));
}

/// Refuses what is no simple polygon; `what` is its name in messages.
void check_simple(const Cycle& cycle, const std::string& what) {
  const std::size_t n = cycle.size();
  if (n < 3) throw InvalidInput(what + " needs at least three corners");
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = i + 1; j < n; ++j)
      if (cycle[i] == cycle[j])
        throw InvalidInput(what + " has one corner twice: " + corner_text(cycle, i) + " and corner " + std::to_string(j + 1),
                           "leave one of them out");
  bool in_line = true;
  for (std::size_t i = 2; i < n && in_line; ++i) in_line = turn(cycle[0], cycle[1], cycle[i]) == 0;
  if (in_line) throw InvalidInput("the corners of " + what + " lie on one line");
  const auto at = [&](std::size_t i) -> const Vector3& { return cycle[i % n]; };
  for (std::size_t i = 0; i < n; ++i) {
    if (turn(at(i), at(i + 1), at(i + 2)) == 0 && dot(at(i + 1) - at(i), at(i + 2) - at(i + 1)).sign() < 0)
      throw InvalidInput(what + " turns back on itself at " + corner_text(cycle, (i + 1) % n));
    for (std::size_t j = i + 2; j < n; ++j) {
      if (i == 0 && j == n - 1) continue;
      if (segments_meet(at(i), at(i + 1), at(j), at(j + 1)))
        throw InvalidInput(
            what + " crosses or touches itself: its edges " + edge_text(cycle, i) + " and " + edge_text(cycle, j) + " meet",
            "give the corners in order round the polygon");
    }
  }
}

void check_apart(const Cycle& a, const std::string& a_name, const Cycle& b, const std::string& b_name) {
  for (std::size_t i = 0; i < a.size(); ++i)
    for (std::size_t j = 0; j < b.size(); ++j)
      if (segments_meet(a[i], a[(i + 1) % a.size()], b[j], b[(j + 1) % b.size()]))
        throw InvalidInput(a_name + " meets " + b_name + ": the edge " + edge_text(a, i) + " of the one and that " +
                               edge_text(b, j) + " of the other have a point in common",
                           "a figure that touches itself is a `union` or a `difference`");
}

/// Whether a point that lies on no edge is inside: edges above it are counted.
bool is_inside(const Vector3& point, const Cycle& cycle) {
  bool inside = false;
  for (std::size_t i = 0; i < cycle.size(); ++i) {
    const Vector3 &p = cycle[i], &q = cycle[(i + 1) % cycle.size()];
    const bool p_is_left = p.x <= point.x, q_is_left = q.x <= point.x;
    if (p_is_left == q_is_left) continue;
    if (turn(p_is_left ? p : q, p_is_left ? q : p, point) < 0) inside = !inside;
  }
  return inside;
}

/// The upright surface over cycles, the first counterclockwise and the others clockwise.
SolidPointer thickened(const std::vector<Cycle>& cycles) {
  Boundary boundary;
  Facet bottom{{{0, 0, -1}, Number(0)}, {}}, top{{{0, 0, 1}, Number(1)}, {}};
  std::vector<Facet> sides;
  for (const Cycle& cycle : cycles) {
    const int first = static_cast<int>(boundary.vertices.size()), n = static_cast<int>(cycle.size());
    for (const Vector3& corner : cycle) boundary.vertices.push_back({corner.x, corner.y, Number(0)});
    for (const Vector3& corner : cycle) boundary.vertices.push_back({corner.x, corner.y, Number(1)});
    std::vector<int> below, above;
    for (int i = 0; i < n; ++i) {
      below.push_back(first + n - 1 - i);
      above.push_back(first + n + i);
      const int j = (i + 1) % n;
      const Plane left = line_through(cycle[static_cast<std::size_t>(i)], cycle[static_cast<std::size_t>(j)]);
      sides.push_back({opposite(left), {{first + i, first + j, first + n + j, first + n + i}}});
    }
    bottom.cycles.push_back(std::move(below));
    top.cycles.push_back(std::move(above));
  }
  boundary.facets = {std::move(bottom), std::move(top)};
  for (Facet& side : sides) boundary.facets.push_back(std::move(side));
  return make_solid(SurfaceDescription{std::move(boundary)});
}

class Scaling {
 public:
  Scaling(const Number& factor, const Vector3& about) : factor_(factor), about_(about) {}

  SolidPointer operator()(const SolidPointer& figure) {
    const auto known = done_.find(figure.get());
    if (known != done_.end()) return known->second;
    SolidPointer result = std::visit([this](const auto& kind) { return scaled(kind); }, figure->kind);
    done_.emplace(figure.get(), result);
    return result;
  }

 private:
  Vector3 scaled_point(const Vector3& p) const {
    const Vector3 flat{p.x, p.y, Number(0)};
    const Vector3 image = about_ + factor_ * (flat - about_);
    return {image.x, image.y, p.z};
  }
  SolidPointer scaled(const HullDescription& hull) const {
    HullDescription result;
    for (const Vector3& point : hull.points) result.points.push_back(scaled_point(point));
    return make_solid(std::move(result));
  }
  SolidPointer scaled(const SurfaceDescription& surface) const {
    Boundary boundary = surface.boundary;
    for (Vector3& vertex : boundary.vertices) vertex = scaled_point(vertex);
    for (Facet& facet : boundary.facets) {
      if (facet.plane.normal.x.is_zero() && facet.plane.normal.y.is_zero()) continue;  // bottom and top stay
      const Vector3& corner = boundary.vertices[static_cast<std::size_t>(facet.cycles.front().front())];
      facet.plane.offset = dot(facet.plane.normal, corner);
      facet.plane = reduced(facet.plane);
    }
    return make_solid(SurfaceDescription{std::move(boundary)});
  }
  SolidPointer scaled(const BooleanDescription& combination) {
    BooleanDescription result{combination.kind, {}};
    for (const SolidPointer& operand : combination.operands) result.operands.push_back((*this)(operand));
    return make_solid(std::move(result));
  }
  /// First moved and then scaled is first scaled and then moved, with another shift.
  SolidPointer scaled(const PlacedDescription& placed) {
    if (placed.factor != Number(1)) throw ToolFault("a figure is scaled where it is made");
    const Motion& motion = placed.motion;
    const Vector3 shift = (Number(1) - factor_) * (about_ - motion.direction(about_)) + factor_ * motion.shift();
    const Motion linear = motion.then(Motion::translation(-motion.shift()));
    return make_solid(PlacedDescription{(*this)(placed.solid), linear.then(Motion::translation(shift)), Number(1), {}});
  }

  Number factor_;
  Vector3 about_;
  std::map<const SolidDescription*, SolidPointer> done_;
};

}  // namespace

SolidPointer make_rectangle(const Vector3& size, const Vector3& lowest) {
  for (const auto& [length, name] : {std::pair<const Number*, const char*>{&size.x, "first"}, {&size.y, "second"}})
    if (length->sign() <= 0)
      throw InvalidInput("the " + std::string(name) + " size of this box is " + to_exact(*length) +
                         ", which is not positive");
  const Vector3 x{size.x, 0, 0}, y{0, size.y, 0};
  return thickened({{lowest, lowest + x, lowest + x + y, lowest + y}});
}

SolidPointer make_polygon(const std::vector<Vector3>& outer, const std::vector<std::vector<Vector3>>& holes) {
  std::vector<Cycle> cycles = {outer};
  cycles.insert(cycles.end(), holes.begin(), holes.end());
  const auto name = [&](std::size_t i) {
    return i == 0 ? std::string("the polygon") : holes.size() == 1 ? "the hole" : "hole " + std::to_string(i);
  };
  for (std::size_t i = 0; i < cycles.size(); ++i) check_simple(cycles[i], name(i));
  for (std::size_t i = 0; i < cycles.size(); ++i)
    for (std::size_t j = i + 1; j < cycles.size(); ++j) {
      check_apart(cycles[j], name(j), cycles[i], name(i));
      const bool inside = is_inside(cycles[j].front(), cycles[i]);
      if (i == 0 && !inside) throw InvalidInput(name(j) + " lies outside the polygon");
      if (i > 0 && (inside || is_inside(cycles[i].front(), cycles[j])))
        throw InvalidInput("of " + name(i) + " and " + name(j) + " one lies inside the other",
                           "what stands in a hole is a figure of its own: `union` takes several");
    }
  for (std::size_t i = 0; i < cycles.size(); ++i)
    if ((doubled_area(cycles[i]).sign() > 0) != (i == 0)) std::reverse(cycles[i].begin(), cycles[i].end());
  return thickened(cycles);
}

SolidPointer make_flat_hull(const std::vector<Vector3>& points) {
  const auto other = std::find_if(points.begin(), points.end(), [&](const Vector3& p) { return p != points.front(); });
  const bool in_line = other == points.end() || std::all_of(points.begin(), points.end(), [&](const Vector3& p) {
                         return turn(points.front(), *other, p) == 0;
                       });
  if (in_line) throw InvalidInput("all points of this convex hull lie on one line", "a hull needs three corners");
  HullDescription hull;
  for (const Vector3& point : points)
    for (const long height : {0L, 1L}) hull.points.push_back({point.x, point.y, Number(height)});
  return make_solid(std::move(hull));
}

SolidPointer make_regular_polygon(long sides, const Number& edge, const Vector3& centre, FieldTower& tower) {
  if (edge.sign() <= 0)
    throw InvalidInput("the edge of this regular polygon is " + to_exact(edge) + ", which is not positive");
  // Sides are edge times (cos k*t, sin k*t), and the distance of a side from the centre is edge/2 * (1 + cos t)/sin t.
  const auto direction = [&](long k) {
    const Angle angle = pi_angle(Number::fraction(2 * k, sides));
    const Number cosine = tower.cosine(angle), sine = tower.sine(angle);
    return Vector3{cosine, sine, Number(0)};
  };
  const Vector3 first = direction(1);
  const Number half = Number::fraction(1, 2) * edge;
  const Number height = divide(tower.lifted(half * (Number(1) + first.x)), tower.lifted(first.y));
  Cycle corners = {centre + Vector3{-half, -height, Number(0)}};
  for (long k = 0; k + 1 < sides; ++k) corners.push_back(corners.back() + edge * direction(k));
  for (Vector3& corner : corners) corner = {tower.lifted(corner.x), tower.lifted(corner.y), Number(0)};
  return thickened({corners});
}

SolidPointer scaled_figure(const SolidPointer& figure, const Number& factor, const Vector3& about) {
  return Scaling(factor, about)(figure);
}

Plane line_through(const Vector3& p, const Vector3& q) {
  if (p == q) throw InvalidInput("the two points are equal, so they fix no line");
  const Vector3 normal{p.y - q.y, q.x - p.x, Number(0)};
  return reduced({normal, dot(normal, p)});
}

}  // namespace cutproof

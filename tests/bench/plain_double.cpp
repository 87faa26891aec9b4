// SPDX-License-Identifier: GPL-3.0-or-later
// A baseline, never a part of the tool: the parts engine's algorithms with doubles and a tolerance in place of exact
// numbers. Usage: plain_double PLAN. It says "ok" to wrong plans too, when they are wrong by less than the tolerance.
#include "bench_plan.hpp"

#include <CGAL/Box_intersection_d/Box_d.h>
#include <CGAL/box_intersection_d.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iostream>
#include <map>

namespace {

using namespace cutproof;
constexpr double tolerance = 1e-9;

struct Point {
  double x, y, z;
};
Point operator-(const Point& a, const Point& b) {
  return {a.x - b.x, a.y - b.y, a.z - b.z};
}
Point operator+(const Point& a, const Point& b) {
  return {a.x + b.x, a.y + b.y, a.z + b.z};
}
Point operator*(double k, const Point& a) {
  return {k * a.x, k * a.y, k * a.z};
}
double dot(const Point& a, const Point& b) {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}
Point cross(const Point& a, const Point& b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}

/// normal . p - offset, with a normal of length 1.
struct Sheet {
  Point normal;
  double offset;
  int side(const Point& p) const {
    const double value = dot(normal, p) - offset;
    return value > tolerance ? 1 : value < -tolerance ? -1 : 0;
  }
};
Sheet operator-(const Sheet& s) {
  return {-1 * s.normal, -s.offset};
}

Point point(const Vector3& v) {
  return {v.x.approximate(), v.y.approximate(), v.z.approximate()};
}
Sheet sheet(const Plane& p) {
  const Point normal = point(p.normal);
  const double length = std::sqrt(dot(normal, normal));
  return {1 / length * normal, p.offset.approximate() / length};
}

/// A face that looks outward, and its range of `cycles`.
struct Face {
  Sheet sheet;
  int begin, end;
};
struct Part {
  std::vector<Point> corners;
  std::vector<Face> faces;
  std::vector<int> cycles;
  std::array<double, 3> lower, upper;

  int next(const Face& face, int i) const { return cycles[i + 1 < face.end ? i + 1 : face.begin]; }
  void enclose() {
    lower = {INFINITY, INFINITY, INFINITY};
    upper = {-INFINITY, -INFINITY, -INFINITY};
    for (const Point& p : corners)
      for (int axis = 0; axis < 3; ++axis) {
        const double value = axis == 0 ? p.x : axis == 1 ? p.y : p.z;
        lower[axis] = std::min(lower[axis], value);
        upper[axis] = std::max(upper[axis], value);
      }
  }
  bool box_meets(const Part& other) const {
    for (int axis = 0; axis < 3; ++axis)
      if (upper[axis] <= other.lower[axis] + tolerance || other.upper[axis] <= lower[axis] + tolerance) return false;
    return true;
  }
  double volume() const {
    double sum = 0;
    for (const Face& face : faces)
      for (int i = face.begin + 1; i + 1 < face.end; ++i) {
        const Point &o = corners.front(), &a = corners[cycles[face.begin]], &b = corners[cycles[i]],
                    &c = corners[cycles[i + 1]];
        sum += dot(a - o, cross(b - o, c - o)) / 6;
      }
    return sum;
  }
};
using Parts = std::vector<Part>;

/// What of the part lies on the side `wanted` of a sheet that passes through it.
Part half(const Part& part, const Sheet& by, const std::vector<int>& sides, int wanted) {
  Part result;
  std::vector<int> numbers(part.corners.size(), -1);
  std::map<std::pair<int, int>, int> crossings;
  std::vector<std::pair<int, int>> cap;
  std::vector<char> on_sheet;
  const auto add = [&](const Point& p, bool on) {
    result.corners.push_back(p);
    on_sheet.push_back(on);
    return static_cast<int>(result.corners.size()) - 1;
  };
  for (const Face& face : part.faces) {
    if (std::none_of(part.cycles.begin() + face.begin, part.cycles.begin() + face.end,
                     [&](int c) { return sides[c] == wanted; }))
      continue;
    const int begin = static_cast<int>(result.cycles.size());
    for (int i = face.begin; i < face.end; ++i) {
      const int from = part.cycles[i], to = part.next(face, i);
      if (sides[from] != -wanted) {
        if (numbers[from] < 0) numbers[from] = add(part.corners[from], sides[from] == 0);
        result.cycles.push_back(numbers[from]);
      }
      if (sides[from] * sides[to] < 0) {
        const auto [place, fresh] = crossings.try_emplace(std::minmax(from, to), -1);
        if (fresh) {
          const Point &p = part.corners[from], &q = part.corners[to];
          const double at_p = dot(by.normal, p) - by.offset, at_q = dot(by.normal, q) - by.offset;
          place->second = add(p + at_p / (at_p - at_q) * (q - p), true);
        }
        result.cycles.push_back(place->second);
      }
    }
    const Face kept{face.sheet, begin, static_cast<int>(result.cycles.size())};
    for (int i = kept.begin; i < kept.end; ++i)
      if (on_sheet[result.cycles[i]] && on_sheet[result.next(kept, i)])
        cap.emplace_back(result.next(kept, i), result.cycles[i]);
    result.faces.push_back(kept);
  }
  std::vector<int> after(result.corners.size(), -1);
  for (const auto& [from, to] : cap) after[from] = to;
  const int begin = static_cast<int>(result.cycles.size());
  for (int corner = cap.empty() ? -1 : cap.front().first; corner >= 0 && result.cycles.size() < begin + cap.size();
       corner = after[corner])
    result.cycles.push_back(corner);
  result.faces.push_back({wanted > 0 ? -by : by, begin, static_cast<int>(result.cycles.size())});
  result.enclose();
  return result;
}

struct Halves {
  Parts positive, negative;  // at most one part each
};
Halves split(const Part& part, const Sheet& by, bool want_positive = true) {
  std::vector<int> sides;
  for (const Point& p : part.corners) sides.push_back(by.side(p));
  if (std::find(sides.begin(), sides.end(), -1) == sides.end()) return {{part}, {}};
  if (std::find(sides.begin(), sides.end(), 1) == sides.end()) return {{}, {part}};
  return {want_positive ? Parts{half(part, by, sides, 1)} : Parts{}, {half(part, by, sides, -1)}};
}

bool separated_by_face(const Part& a, const Part& b) {
  return std::any_of(a.faces.begin(), a.faces.end(), [&](const Face& face) {
    return std::all_of(b.corners.begin(), b.corners.end(), [&](const Point& p) { return face.sheet.side(p) >= 0; });
  });
}

bool separated_by_edges(const Part& a, const Part& b) {
  const auto edges = [](const Part& part) {
    std::vector<Point> result;
    for (const Face& face : part.faces)
      for (int i = face.begin; i < face.end; ++i)
        if (part.cycles[i] < part.next(face, i))
          result.push_back(part.corners[part.next(face, i)] - part.corners[part.cycles[i]]);
    return result;
  };
  const auto extent = [](const Part& part, const Point& direction) {
    std::pair<double, double> range{INFINITY, -INFINITY};
    for (const Point& p : part.corners)
      range = {std::min(range.first, dot(direction, p)), std::max(range.second, dot(direction, p))};
    return range;
  };
  const std::vector<Point> edges_of_a = edges(a), edges_of_b = edges(b);
  for (const Point& e : edges_of_a)
    for (const Point& f : edges_of_b) {
      Point direction = cross(e, f);
      const double length = std::sqrt(dot(direction, direction));
      if (length < tolerance) continue;
      direction = 1 / length * direction;
      const auto over_a = extent(a, direction), over_b = extent(b, direction);
      if (over_a.second <= over_b.first + tolerance || over_b.second <= over_a.first + tolerance) return true;
    }
  return false;
}

bool interiors_meet(const Part& a, const Part& b) {
  if (!a.box_meets(b) || separated_by_face(a, b) || separated_by_face(b, a) || separated_by_edges(a, b)) return false;
  Part rest = a;
  for (const Face& face : b.faces) {
    Halves halves = split(rest, face.sheet, false);
    if (halves.negative.empty()) return false;
    rest = std::move(halves.negative.front());
  }
  return rest.volume() > tolerance;
}

using SweepBox = CGAL::Box_intersection_d::Box_with_handle_d<double, 3, const Part*>;
std::vector<SweepBox> sweep_boxes(const Parts& parts) {
  std::vector<SweepBox> boxes;
  for (const Part& part : parts) {
    auto lower = part.lower, upper = part.upper;
    boxes.emplace_back(lower.data(), upper.data(), &part);
  }
  return boxes;
}

Parts difference(Parts parts, const Parts& others) {
  std::vector<SweepBox> a = sweep_boxes(parts), b = sweep_boxes(others);
  std::vector<std::vector<const Part*>> close(parts.size());
  CGAL::box_intersection_d(a.begin(), a.end(), b.begin(), b.end(), [&](const SweepBox& x, const SweepBox& y) {
    close[x.handle() - parts.data()].push_back(y.handle());
  });
  Parts result;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    Parts rest{parts[i]};
    for (const Part* other : close[i]) {
      Parts next;
      for (Part& part : rest) {
        if (!interiors_meet(part, *other)) {
          next.push_back(std::move(part));
          continue;
        }
        for (const Face& face : other->faces) {
          Halves halves = split(part, face.sheet);
          next.insert(next.end(), halves.positive.begin(), halves.positive.end());
          if (halves.negative.empty()) break;
          part = std::move(halves.negative.front());
        }
      }
      rest = std::move(next);
    }
    result.insert(result.end(), rest.begin(), rest.end());
  }
  return result;
}

void move(Parts& parts, const Motion& motion) {
  const Point x = point(motion.rows()[0]), y = point(motion.rows()[1]), z = point(motion.rows()[2]),
              shift = point(motion.shift());
  const auto turned = [&](const Point& p) { return Point{dot(x, p), dot(y, p), dot(z, p)}; };
  for (Part& part : parts) {
    for (Point& p : part.corners) p = turned(p) + shift;
    for (Face& face : part.faces) {
      face.sheet.normal = turned(face.sheet.normal);
      face.sheet.offset += dot(face.sheet.normal, shift);
    }
    part.enclose();
  }
}

Parts build(const SolidDescription& solid) {
  if (const auto boundary = convex_boundary(solid)) {
    Part part;
    for (const Vector3& vertex : boundary->vertices) part.corners.push_back(point(vertex));
    for (const Facet& facet : boundary->facets) {
      const int begin = static_cast<int>(part.cycles.size());
      part.cycles.insert(part.cycles.end(), facet.cycles[0].begin(), facet.cycles[0].end());
      part.faces.push_back({sheet(facet.plane), begin, static_cast<int>(part.cycles.size())});
    }
    part.enclose();
    return {part};
  }
  if (const auto* copy = std::get_if<PlacedDescription>(&solid.kind)) {
    Parts parts = build(*copy->solid);
    move(parts, copy->motion);
    return parts;
  }
  const auto& combination = std::get<BooleanDescription>(solid.kind);  // the measured plans have no others
  Parts result = build(*combination.operands.front());
  for (std::size_t i = 1; i < combination.operands.size(); ++i) result = difference(result, build(*combination.operands[i]));
  return result;
}

using Pieces = std::map<std::string, Parts>;

double volume(const Parts& parts) {
  double sum = 0;
  for (const Part& part : parts) sum += part.volume();
  return sum;
}

/// All parts of all pieces, and which piece each belongs to.
struct Pool {
  Parts parts;
  std::vector<int> owner;
  explicit Pool(const Pieces& pieces) {
    int index = 0;
    for (const auto& piece : pieces) {
      parts.insert(parts.end(), piece.second.begin(), piece.second.end());
      owner.resize(parts.size(), index++);
    }
  }
};

bool all_disjoint(const Pool& pool) {
  std::vector<SweepBox> boxes = sweep_boxes(pool.parts);
  bool disjoint = true;
  CGAL::box_self_intersection_d(boxes.begin(), boxes.end(), [&](const SweepBox& x, const SweepBox& y) {
    if (pool.owner[x.handle() - pool.parts.data()] != pool.owner[y.handle() - pool.parts.data()] &&
        interiors_meet(*x.handle(), *y.handle()))
      disjoint = false;
  });
  return disjoint;
}

void apply(const CutStep& step, Pieces& pieces) {
  Pieces parts;
  for (const std::string& name : taken(step.pieces, pieces)) parts.insert(pieces.extract(name));
  for (const Plane& plane : step.planes) {
    const Sheet by = sheet(plane);
    Pieces next;
    for (auto& [name, piece] : parts) {
      Parts above, below;
      for (const Part& part : piece) {
        Halves halves = split(part, by);
        above.insert(above.end(), halves.positive.begin(), halves.positive.end());
        below.insert(below.end(), halves.negative.begin(), halves.negative.end());
      }
      if (above.empty() || below.empty()) {
        next.emplace(name, std::move(piece));
      } else {
        next.emplace(step.has_names ? step.positive.name : name + ".1", std::move(above));
        next.emplace(step.has_names ? step.negative.name : name + ".2", std::move(below));
      }
    }
    parts = std::move(next);
  }
  pieces.merge(parts);
}

void apply(const MoveStep& step, Pieces& pieces) {
  for (const MoveEntry& entry : step.entries)
    for (const std::string& name : taken(entry.pieces, pieces)) move(pieces.at(name), entry.motion);
}

bool fills(const Parts& parts, const Parts& goals) {
  std::vector<SweepBox> a = sweep_boxes(parts), b = sweep_boxes(goals);
  std::vector<char> inside(parts.size(), 0);
  CGAL::box_intersection_d(a.begin(), a.end(), b.begin(), b.end(), [&](const SweepBox& x, const SweepBox& y) {
    const auto within = [&](const Point& p) {
      return std::all_of(y.handle()->faces.begin(), y.handle()->faces.end(),
                         [&](const Face& face) { return face.sheet.side(p) <= 0; });
    };
    if (std::all_of(x.handle()->corners.begin(), x.handle()->corners.end(), within)) inside[x.handle() - parts.data()] = 1;
  });
  Parts open;
  for (std::size_t i = 0; i < parts.size(); ++i)
    if (!inside[i]) open.push_back(parts[i]);
  return std::fabs(volume(difference(open, goals))) < 1e-6;
}

bool check(const ExactPlan& plan) {
  Pieces pieces;
  Parts goals;
  for (const NamedSolid& start : plan.start) pieces.emplace(start.name, build(*start.solid));
  for (const NamedSolid& goal : plan.goals)
    for (Part& part : build(*goal.solid)) goals.push_back(std::move(part));
  const double expected = volume(goals);
  for (const Step& step : plan.steps) {
    if (const auto* cut = std::get_if<CutStep>(&step.action)) apply(*cut, pieces);
    if (const auto* move = std::get_if<MoveStep>(&step.action)) apply(*move, pieces);
    const Pool pool(pieces);
    if (!all_disjoint(pool) || std::fabs(volume(pool.parts) - expected) > 1e-6) return false;
  }
  return fills(Pool(pieces).parts, goals);
}

}  // namespace

int main(int count, char** arguments) {
  if (count != 2) return 2;
  const bool right = check(read_bench_plan(arguments[1]));
  std::cout << (right ? "ok\n" : "wrong\n");
  return right ? 0 : 1;
}

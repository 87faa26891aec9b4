// SPDX-License-Identifier: GPL-3.0-or-later
// Canonical boundaries: everything is decided plane by plane from directed edges, of which opposite ones cancel.
#include "solid/edges.hpp"
#include "solid/turning.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace cutproof {

namespace {

using Edge = std::pair<int, int>;

/// Compares planes up to positive factors: the normal's first nonzero coefficient is scaled to 1 or -1.
Plane scaled(const Plane& plane) {
  const Vector3& n = plane.normal;
  const Number lead = absolute(!n.x.is_zero() ? n.x : !n.y.is_zero() ? n.y : n.z);
  const Number inverse = divide(Number(1), lead);
  return {inverse * n, inverse * plane.offset};
}

struct PlaneLess {
  bool operator()(const Plane& a, const Plane& b) const {
    if (const int by_normal = compare(a.normal, b.normal)) return by_normal < 0;
    return compare(a.offset, b.offset) < 0;
  }
};

/// Two coordinates of a point, chosen and ordered so that the projection along a plane's normal keeps the orientation.
class Projection {
 public:
  explicit Projection(const Vector3& normal) {
    const int x = normal.x.sign(), y = normal.y.sign(), z = normal.z.sign();
    if (z != 0) {
      first_ = &Vector3::x, second_ = &Vector3::y, flipped_ = z < 0;
    } else if (y != 0) {
      first_ = &Vector3::z, second_ = &Vector3::x, flipped_ = y < 0;
    } else {
      first_ = &Vector3::y, second_ = &Vector3::z, flipped_ = x < 0;
    }
    if (flipped_) std::swap(first_, second_);
  }
  const Number& u(const Vector3& p) const { return p.*first_; }
  const Number& v(const Vector3& p) const { return p.*second_; }
  /// Positive when p, q, r turn left as seen from the positive side of the plane.
  int turn(const Vector3& p, const Vector3& q, const Vector3& r) const {
    return ((u(q) - u(p)) * (v(r) - v(p)) - (v(q) - v(p)) * (u(r) - u(p))).sign();
  }

 private:
  Number Vector3::*first_ = nullptr;
  Number Vector3::*second_ = nullptr;
  bool flipped_ = false;
};

struct FlatFace {
  Plane plane;
  std::map<Edge, int> edges;  ///< directed, with how often
};

void add_edge(FlatFace& face, int a, int b) {
  const auto opposite = face.edges.find({b, a});
  if (opposite != face.edges.end()) {
    if (--opposite->second == 0) face.edges.erase(opposite);
  } else {
    ++face.edges[{a, b}];
  }
}

class Canonical {
 public:
  explicit Canonical(const Boundary& boundary) {
    collect_vertices(boundary);
    split_and_cancel(boundary);
    drop_straight_vertices();
  }

  Boundary result() {
    Boundary boundary;
    std::vector<std::vector<std::vector<int>>> all_cycles;
    std::set<int> used;
    for (auto& [key, face] : faces_)
      for (const auto& edge : face.edges) used.insert({edge.first.first, edge.first.second});
    std::map<int, int> renumbered;  // vertices are sorted, so the new numbers keep the order
    for (const int vertex : used) {
      renumbered[vertex] = static_cast<int>(boundary.vertices.size());
      boundary.vertices.push_back(vertices_[static_cast<std::size_t>(vertex)]);
    }
    for (auto& [key, face] : faces_) {
      if (face.edges.empty()) continue;
      for (Facet& facet : facets_of(face)) {
        for (std::vector<int>& cycle : facet.cycles)
          for (int& vertex : cycle) vertex = renumbered.at(vertex);
        boundary.facets.push_back(std::move(facet));
      }
    }
    std::sort(boundary.facets.begin(), boundary.facets.end(),
              [](const Facet& a, const Facet& b) { return a.cycles < b.cycles; });
    return boundary;
  }

 private:
  const Vector3& at(int i) const { return vertices_[static_cast<std::size_t>(i)]; }

  void collect_vertices(const Boundary& boundary) {
    std::vector<int> order(boundary.vertices.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = static_cast<int>(i);
    const auto point = [&](int i) -> const Vector3& { return boundary.vertices[static_cast<std::size_t>(i)]; };
    std::sort(order.begin(), order.end(), [&](int a, int b) { return point(a) < point(b); });
    number_of_.resize(order.size());
    for (const int i : order) {
      if (vertices_.empty() || vertices_.back() != point(i)) vertices_.push_back(point(i));
      number_of_[static_cast<std::size_t>(i)] = static_cast<int>(vertices_.size()) - 1;
    }
  }

  /// The corners in the inside of the segment from a to b, in order from a.
  std::vector<int> corners_between(int a, int b) const {
    const bool forward = a < b;
    if (!forward) std::swap(a, b);
    std::vector<int> found;
    const Vector3 &p = at(a), &q = at(b), along = q - p;
    // Corners are sorted like the points of the segment, so only those numbered between its ends can lie on it.
    const auto outside = [](const Number& c, const Number& s, const Number& t) {
      const Interval &i = c.interval(), &j = s.interval(), &k = t.interval();
      return i.upper < std::fmin(j.lower, k.lower) || i.lower > std::fmax(j.upper, k.upper);
    };
    for (int i = a + 1; i < b; ++i) {
      const Vector3& r = at(i);
      if (outside(r.y, p.y, q.y) || outside(r.z, p.z, q.z) || outside(r.x, p.x, q.x)) continue;
      if (is_zero(cross(along, r - p))) found.push_back(i);
    }
    if (!forward) std::reverse(found.begin(), found.end());
    return found;
  }

  void split_and_cancel(const Boundary& boundary) {
    std::map<Edge, std::vector<int>> between;
    for (const Facet& facet : boundary.facets) {
      FlatFace& face = faces_[scaled(facet.plane)];
      if (face.edges.empty()) face.plane = reduced(facet.plane);
      for (const std::vector<int>& cycle : facet.cycles)
        for (std::size_t i = 0; i < cycle.size(); ++i) {
          const int a = number_of_[static_cast<std::size_t>(cycle[i])];
          const int b = number_of_[static_cast<std::size_t>(cycle[i + 1 == cycle.size() ? 0 : i + 1])];
          if (a == b) continue;
          const Edge key{std::min(a, b), std::max(a, b)};
          auto known = between.find(key);
          if (known == between.end()) known = between.emplace(key, corners_between(key.first, key.second)).first;
          std::vector<int> chain = known->second;
          if (a > b) std::reverse(chain.begin(), chain.end());
          int from = a;
          for (const int corner : chain) {
            add_edge(face, from, corner);
            from = corner;
          }
          add_edge(face, from, b);
        }
    }
  }

  /// The directed edges at a vertex that lie along one undirected edge, as (plane, direction): what meets there.
  void drop_straight_vertices() {
    struct Spoke {
      std::vector<std::pair<int, bool>> sides;  ///< face number, whether the edge points away from the vertex
    };
    std::map<int, std::map<int, Spoke>> spokes;  // vertex -> neighbour -> what meets along the edge
    int number = 0;
    std::vector<FlatFace*> faces;
    for (auto& [key, face] : faces_) {
      faces.push_back(&face);
      for (const auto& [edge, times] : face.edges)
        for (int i = 0; i < times; ++i) {
          spokes[edge.first][edge.second].sides.emplace_back(number, true);
          spokes[edge.second][edge.first].sides.emplace_back(number, false);
        }
      ++number;
    }
    for (auto& [vertex, around] : spokes) {
      if (around.size() != 2) continue;
      const int before = around.begin()->first, after = std::next(around.begin())->first;
      std::vector<std::pair<int, bool>> in = around.begin()->second.sides, out = std::next(around.begin())->second.sides;
      for (auto& side : in) side.second = !side.second;
      std::sort(in.begin(), in.end());
      std::sort(out.begin(), out.end());
      if (in != out || !is_zero(cross(at(vertex) - at(before), at(after) - at(vertex)))) continue;
      for (const auto& [face_number, points_away] : out) {
        FlatFace& face = *faces[static_cast<std::size_t>(face_number)];
        const int first = points_away ? before : after, last = points_away ? after : before;
        const auto take = [&face](const Edge& edge) {
          const auto it = face.edges.find(edge);
          if (it == face.edges.end()) throw ToolFault("a straight edge could not be merged");
          if (--it->second == 0) face.edges.erase(it);
        };
        take({first, vertex});
        take({vertex, last});
        ++face.edges[{first, last}];
      }
      const Spoke merged = std::next(around.begin())->second;
      auto& at_before = spokes[before];
      auto& at_after = spokes[after];
      Spoke from_after = merged;
      for (auto& side : from_after.sides) side.second = !side.second;
      at_before.erase(vertex);
      at_after.erase(vertex);
      at_before[after] = merged;
      at_after[before] = from_after;
      around.clear();
    }
  }

  std::vector<Facet> facets_of(const FlatFace& face) const {
    const Projection projection(face.plane.normal);
    std::vector<std::vector<int>> outer, holes;
    for (std::vector<int>& cycle : cycles_of(face, projection)) {
      std::rotate(cycle.begin(), std::min_element(cycle.begin(), cycle.end()), cycle.end());
      (is_counterclockwise(cycle, projection) ? outer : holes).push_back(std::move(cycle));
    }
    std::sort(outer.begin(), outer.end());
    std::sort(holes.begin(), holes.end());
    std::vector<Facet> facets;
    for (const std::vector<int>& cycle : outer) {
      // The smallest corner is strictly convex. Taken from it, the plane does not depend on how the surface was written.
      const Vector3& corner = at(cycle[0]);
      const Vector3 normal = cross(at(cycle[1]) - corner, at(cycle.back()) - corner);
      facets.push_back({reduced({normal, dot(normal, corner)}), {cycle}});
    }
    for (const std::vector<int>& hole : holes) {
      // The middle of an edge lies on no other cycle, because edges were split at all corners.
      const Vector3 inside = Number::fraction(1, 2) * (at(hole[0]) + at(hole[1]));
      int home = -1;
      for (std::size_t i = 0; i < outer.size(); ++i) {
        if (!contains(outer[i], inside, projection)) continue;
        // the innermost: the one that another one that also contains the hole contains
        if (home < 0 || contains(outer[static_cast<std::size_t>(home)],
                                 Number::fraction(1, 2) * (at(outer[i][0]) + at(outer[i][1])), projection))
          home = static_cast<int>(i);
      }
      if (home < 0) throw ToolFault("a hole of a facet lies in no facet");
      facets[static_cast<std::size_t>(home)].cycles.push_back(hole);
    }
    return facets;
  }

  bool is_counterclockwise(const std::vector<int>& cycle, const Projection& projection) const {
    // The smallest corner is the lowest point in some direction of the plane, so the turn there has the cycle's orientation.
    const int turn = projection.turn(at(cycle.back()), at(cycle[0]), at(cycle[1]));
    if (turn == 0) throw ToolFault("a cycle of a facet has a flat extreme corner");
    return turn > 0;
  }

  /// Whether the point, which lies on no edge, is inside the cycle: crossings of a ray.
  bool contains(const std::vector<int>& cycle, const Vector3& point, const Projection& projection) const {
    bool inside = false;
    const Number& v = projection.v(point);
    for (std::size_t i = 0; i < cycle.size(); ++i) {
      const Vector3 &a = at(cycle[i]), &b = at(cycle[i + 1 == cycle.size() ? 0 : i + 1]);
      const bool a_above = projection.v(a) > v, b_above = projection.v(b) > v;
      if (a_above == b_above) continue;
      const int turn = projection.turn(a, b, point);
      if ((turn > 0) == b_above) inside = !inside;
    }
    return inside;
  }

  std::vector<std::vector<int>> cycles_of(const FlatFace& face, const Projection& projection) const {
    std::map<int, std::vector<int>> leaving;
    for (const auto& [edge, times] : face.edges) {
      if (times != 1) throw ToolFault("a facet uses an edge twice in one direction");
      leaving[edge.first].push_back(edge.second);
    }
    std::vector<std::vector<int>> cycles;
    while (!leaving.empty()) {
      std::vector<int> walk;
      int from = -1, now = leaving.begin()->first;
      const int start = now, second = leaving.begin()->second.front();
      do {
        walk.push_back(now);
        const auto there = leaving.find(now);
        if (there == leaving.end()) throw ToolFault("the border of a facet is not closed");
        std::vector<int>& choices = there->second;
        std::size_t chosen = 0;
        if (from < 0) {
          chosen = 0;
        } else {
          for (std::size_t i = 1; i < choices.size(); ++i)
            if (sharper(from, now, choices[i], choices[chosen], projection)) chosen = i;
        }
        const int next = choices[chosen];
        choices.erase(choices.begin() + static_cast<std::ptrdiff_t>(chosen));
        if (choices.empty()) leaving.erase(now);
        from = now;
        now = next;
      } while (!(now == start && closes(from, start, second, leaving, projection)));
      split_at_repeats(walk, cycles);
    }
    return cycles;
  }

  /// Back at the start: whether the walk goes on with its first edge, rather than with another one that leaves there.
  bool closes(int from, int start, int second, const std::map<int, std::vector<int>>& leaving,
              const Projection& projection) const {
    const auto others = leaving.find(start);
    if (others == leaving.end()) return true;
    for (const int other : others->second)
      if (sharper(from, start, other, second, projection)) return false;
    return true;
  }

  bool sharper(int from, int corner, int a, int b, const Projection& projection) const {
    return turns_sharper([&](const Vector3& p, const Vector3& q, const Vector3& r) { return projection.turn(p, q, r); },
                         at(from), at(corner), at(a), at(b));
  }

  static void split_at_repeats(const std::vector<int>& walk, std::vector<std::vector<int>>& cycles) {
    std::vector<int> open;
    std::map<int, std::size_t> position;
    for (const int vertex : walk) {
      const auto known = position.find(vertex);
      if (known != position.end()) {
        std::vector<int> cycle(open.begin() + static_cast<std::ptrdiff_t>(known->second), open.end());
        for (const int closed : cycle) position.erase(closed);
        open.resize(open.size() - cycle.size());
        cycles.push_back(std::move(cycle));
      }
      position[vertex] = open.size();
      open.push_back(vertex);
    }
    cycles.push_back(std::move(open));
  }

  std::vector<Vector3> vertices_;
  std::vector<int> number_of_;
  std::map<Plane, FlatFace, PlaneLess> faces_;
};

}  // namespace

Boundary normalised(const Boundary& boundary) {
  return Canonical(boundary).result();
}

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// The only translation unit that includes CGAL's Nef polyhedra.
#include "solid/nef/set.hpp"

#include "solid/nef/cgal.hpp"

#include <CGAL/Modifier_base.h>
#include <CGAL/Polyhedron_3.h>
#include <CGAL/convex_hull_3.h>

#include <algorithm>
#include <map>
#include <numeric>
#include <string>
#include <utility>

namespace cutproof {

namespace {

using nef::Kernel;
using nef::Nef;
using nef::Structure;
using Mesh = CGAL::Polyhedron_3<Kernel>;

Kernel::Point_3 to_point(const Vector3& p) {
  return {NefNumber(p.x), NefNumber(p.y), NefNumber(p.z)};
}
Vector3 from_point(const Kernel::Point_3& p) {
  return {p.x().number(), p.y().number(), p.z().number()};
}
Plane from_plane(const Kernel::Plane_3& h) {
  return {{h.a().number(), h.b().number(), h.c().number()}, -h.d().number()};
}

/// CGAL writes to standard error before it throws; a library must not.
void say_nothing(const char*, const char*, const char*, int, const char*) {}

/// Runs an operation of CGAL; what CGAL complains of is a fault of ours.
template <class Operation>
auto guarded(Operation operation) {
  CGAL::set_error_handler(say_nothing);
  CGAL::set_warning_handler(say_nothing);
  try {
    return operation();
  } catch (const CGAL::Failure_exception& failure) {
    throw ToolFault("the Nef engine failed: " + failure.library() + " " + failure.expression() + " " + failure.message() +
                    " (" + failure.filename() + ":" + std::to_string(failure.line_number()) + ")");
  }
}

/// Derives all marks from those of the volumes, so that the set is regular open: a boundary point belongs to it exactly when
/// the set lies on all sides of the point. What then separates nothing is removed by the simplification that follows. With
/// `only` not negative all marked volumes but this one (counted from 0) are left out first.
class RegularOpen : public CGAL::Modifier_base<Structure> {
 public:
  explicit RegularOpen(long only = -1) : only_(only) {}

  void operator()(Structure& structure) override {
    long count = 0;
    Structure::Volume_iterator volume;
    CGAL_forall_volumes(volume, structure) if (volume->mark()) volume->mark() = only_ < 0 || count++ == only_;
    Structure::Halffacet_iterator facet;
    CGAL_forall_halffacets(facet, structure) facet->mark() =
        facet->incident_volume()->mark() && facet->twin()->incident_volume()->mark();
    Structure::Vertex_iterator vertex;
    CGAL_forall_vertices(vertex, structure) mark_around(vertex);
  }

 private:
  using SphereMap = CGAL::SM_decorator<Structure::Sphere_map>;

  static void mark_around(Structure::Vertex_handle vertex) {
    SphereMap map(&*vertex);
    vertex->mark() = true;
    Structure::SFace_iterator face;
    CGAL_forall_sfaces(face, map) {
      face->mark() = face->volume()->mark();
      vertex->mark() = vertex->mark() && face->mark();
    }
    Structure::SHalfedge_iterator edge;
    CGAL_forall_shalfedges(edge, map) edge->mark() =
        edge->incident_sface()->mark() && edge->twin()->incident_sface()->mark();
    if (map.has_shalfloop()) {
      const Structure::SHalfloop_handle loop = map.shalfloop();
      loop->mark() = loop->twin()->mark() = loop->incident_sface()->mark() && loop->twin()->incident_sface()->mark();
    }
    Structure::SVertex_iterator direction;
    CGAL_forall_svertices(direction, map) {
      if (map.is_isolated(direction)) {
        direction->mark() = direction->incident_sface()->mark();
        continue;
      }
      direction->mark() = true;
      Structure::SHalfedge_around_svertex_circulator around(map.first_out_edge(direction)), end(around);
      CGAL_For_all(around, end) direction->mark() = direction->mark() && around->incident_sface()->mark();
    }
  }

  long only_;
};

Nef regular_open(Nef nef, long only = -1) {
  RegularOpen modifier(only);
  nef.delegate(modifier);
  return nef;
}

/// The facets in groups that hang together through edges.
std::vector<std::vector<const Facet*>> shells_of(const Boundary& surface) {
  std::vector<std::size_t> parent(surface.facets.size());
  std::iota(parent.begin(), parent.end(), 0);
  const auto root = [&](std::size_t i) {
    while (parent[i] != i) i = parent[i] = parent[parent[i]];
    return i;
  };
  std::map<std::pair<int, int>, std::size_t> facet_at;
  for (std::size_t f = 0; f < surface.facets.size(); ++f)
    for (const std::vector<int>& cycle : surface.facets[f].cycles)
      for (std::size_t i = 0; i < cycle.size(); ++i) {
        const int v = cycle[i], w = cycle[i + 1 == cycle.size() ? 0 : i + 1];
        const auto [other, fresh] = facet_at.try_emplace({std::min(v, w), std::max(v, w)}, f);
        if (!fresh) parent[root(f)] = root(other->second);
      }
  std::map<std::size_t, std::vector<const Facet*>> groups;
  for (std::size_t f = 0; f < surface.facets.size(); ++f) groups[root(f)].push_back(&surface.facets[f]);
  std::vector<std::vector<const Facet*>> shells;
  for (auto& [number, facets] : groups) shells.push_back(std::move(facets));
  return shells;
}

}  // namespace

struct NefSet::Polyhedron {
  explicit Polyhedron(const Nef& from) : nef(from) {}
  Nef nef;

  /// The set that an operation of CGAL gives, made regular open.
  template <class Operation>
  static NefSet made(Operation operation) {
    return guarded([&] { return NefSet(std::make_shared<const Polyhedron>(regular_open(operation()))); });
  }
};

NefSet::NefSet() : NefSet(Polyhedron::made([] { return Nef(); })) {}

NefSet NefSet::hull(const std::vector<Vector3>& points) {
  return Polyhedron::made([&] {
    std::vector<Kernel::Point_3> corners;
    for (const Vector3& point : points) corners.push_back(to_point(point));
    Mesh mesh;
    CGAL::convex_hull_3(corners.begin(), corners.end(), mesh);
    if (mesh.size_of_vertices() < 4 || !mesh.is_closed()) throw ToolFault("a convex hull without interior was asked for");
    return Nef(mesh);
  });
}

// The surface modulo 2 is the sum of the triangles (q, v, w) for each edge v w of each facet with a fixed corner q, so that
// what it encloses is, almost everywhere, the sum modulo 2 of the tetrahedra on these triangles with one apex. No
// triangulation of the facets is needed, and it does not matter how the surface touches itself.
//
// Each shell is built by itself, so that inner walls are taken out before shells meet: what is handled stays simple.
NefSet NefSet::inside(const Boundary& surface) {
  const std::vector<Vector3>& vertices = surface.vertices;
  std::vector<NefSet> insides;
  for (const std::vector<const Facet*>& shell : shells_of(surface)) {
    const Vector3& apex = vertices[shell.front()->cycles.front().front()];
    std::vector<NefSet> tetrahedra;
    for (const Facet* facet : shell) {
      if (side_of(facet->plane, apex) == 0) continue;
      const Vector3& base = vertices[facet->cycles.front().front()];
      for (const std::vector<int>& cycle : facet->cycles)
        for (std::size_t i = 0; i < cycle.size(); ++i) {
          const Vector3 &v = vertices[cycle[i]], &w = vertices[cycle[i + 1 == cycle.size() ? 0 : i + 1]];
          if (!is_zero(cross(v - base, w - base))) tetrahedra.push_back(hull({apex, base, v, w}));
        }
    }
    insides.push_back(parity_of_all(std::move(tetrahedra)));
  }
  NefSet result = parity_of_all(std::move(insides));
  if (volume(result.boundary()) != volume(surface))
    throw ToolFault("the Nef engine built a solid whose volume is not that of its surface");
  return result;
}

NefSet NefSet::parity_of_all(std::vector<NefSet> sets) {
  if (sets.empty()) return NefSet();
  // Neighbours first: tetrahedra of one facet merge, and what is handled stays simple.
  while (sets.size() > 1) {
    std::size_t half = 0;
    for (std::size_t i = 0; i < sets.size(); i += 2)
      sets[half++] = i + 1 < sets.size() ? sets[i].parity(sets[i + 1]) : sets[i];
    sets.resize(half);
  }
  return sets.front();
}

bool NefSet::is_empty() const {
  return polyhedron_->nef.is_empty();
}

NefSet NefSet::parity(const NefSet& other) const {
  return Polyhedron::made([&] { return polyhedron_->nef.symmetric_difference(other.polyhedron_->nef); });
}

NefSet NefSet::intersection(const NefSet& other) const {
  return Polyhedron::made([&] { return polyhedron_->nef.intersection(other.polyhedron_->nef); });
}

NefSet NefSet::difference(const NefSet& other) const {
  return Polyhedron::made([&] { return polyhedron_->nef.difference(other.polyhedron_->nef); });
}

NefSet NefSet::united(const NefSet& other) const {
  return Polyhedron::made([&] { return polyhedron_->nef.join(other.polyhedron_->nef); });
}

NefSet NefSet::clipped(const Plane& plane) const {
  return Polyhedron::made([&] {
    // CGAL keeps the negative side of a x + b y + c z + d.
    const Kernel::Plane_3 wall{NefNumber(-plane.normal.x), NefNumber(-plane.normal.y), NefNumber(-plane.normal.z),
                               NefNumber(plane.offset)};
    return polyhedron_->nef.intersection(wall, Nef::OPEN_HALFSPACE);
  });
}

// CGAL 5.5 mirrors wrongly where a corner touches the inside of a facet (the sphere map's loop keeps its side), and takes an
// inversion in a point for a scaling, which leaves directions as they were: a mirror image is built anew from its surface.
NefSet NefSet::image(const std::array<Vector3, 3>& rows, const Vector3& shift) const {
  const auto linear = [&](const Vector3& v) { return Vector3{dot(rows[0], v), dot(rows[1], v), dot(rows[2], v)}; };
  if (dot(cross(rows[0], rows[1]), rows[2]).sign() < 0) {
    Boundary surface = boundary();
    for (Vector3& vertex : surface.vertices) vertex = linear(vertex) + shift;
    for (Facet& facet : surface.facets) {
      for (std::vector<int>& cycle : facet.cycles) std::reverse(cycle.begin(), cycle.end());
      facet.plane.normal = linear(facet.plane.normal);
      facet.plane.offset = dot(facet.plane.normal, surface.vertices[facet.cycles.front().front()]);
    }
    return inside(surface);
  }
  return Polyhedron::made([&] {
    const auto entry = [](const Number& number) { return NefNumber(number); };
    const Kernel::Aff_transformation_3 map(entry(rows[0].x), entry(rows[0].y), entry(rows[0].z), entry(shift.x),
                                           entry(rows[1].x), entry(rows[1].y), entry(rows[1].z), entry(shift.y),
                                           entry(rows[2].x), entry(rows[2].y), entry(rows[2].z), entry(shift.z),
                                           NefNumber(1));
    Nef nef = polyhedron_->nef;
    nef.transform(map);
    return nef;
  });
}

std::size_t NefSet::count_components() const {
  std::size_t count = 0;
  Nef::Volume_const_iterator volume;
  CGAL_forall_volumes(volume, polyhedron_->nef) if (volume->mark())++ count;
  return count;
}

std::vector<NefSet> NefSet::components() const {
  const std::size_t count = count_components();
  if (count == 1) return {*this};
  return guarded([&] {
    std::vector<NefSet> components;
    std::vector<Number> volumes;
    for (std::size_t i = 0; i < count; ++i) {
      components.push_back(NefSet(std::make_shared<const Polyhedron>(regular_open(polyhedron_->nef, static_cast<long>(i)))));
      volumes.push_back(volume(components.back().boundary()));
    }
    if (balanced_sum(volumes) != volume(boundary())) throw ToolFault("the Nef engine lost volume between connected parts");
    return components;
  });
}

Boundary NefSet::boundary() const {
  return guarded([&] {
    Boundary boundary;
    CGAL::Unique_hash_map<Nef::Vertex_const_handle, int> index(-1);
    const auto number = [&](Nef::Vertex_const_handle vertex) {
      int& known = index[vertex];
      if (known < 0) {
        known = static_cast<int>(boundary.vertices.size());
        boundary.vertices.push_back(from_point(vertex->point()));
      }
      return known;
    };
    Nef::Halffacet_const_iterator halffacet;
    CGAL_forall_halffacets(halffacet, polyhedron_->nef) {
      // The half that looks outward: its cycles are counterclockwise seen from the side of its incident volume.
      if (halffacet->incident_volume()->mark() || !halffacet->twin()->incident_volume()->mark()) continue;
      Facet facet{from_plane(halffacet->plane()), {}};
      Nef::Halffacet_cycle_const_iterator cycle;
      CGAL_forall_facet_cycles_of(cycle, halffacet) {
        if (!cycle.is_shalfedge()) continue;  // a corner of another facet that touches this one
        facet.cycles.emplace_back();
        const Nef::SHalfedge_const_handle start(cycle);
        Nef::SHalfedge_around_facet_const_circulator around(start), end(around);
        CGAL_For_all(around, end) facet.cycles.back().push_back(number(around->source()->center_vertex()));
      }
      boundary.facets.push_back(std::move(facet));
    }
    return boundary;
  });
}

}  // namespace cutproof

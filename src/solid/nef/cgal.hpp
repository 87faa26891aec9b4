// SPDX-License-Identifier: GPL-3.0-or-later
// CGAL's Nef polyhedra over the exact numbers of a plan, with three functions of CGAL 5.5 repaired. Only nef/set.cpp
// includes this.
//
// Where a corner touches the inside of a facet, its sphere map has a loop (the facet's great circle). CGAL forgets loops
// when it simplifies: if walls at that corner go away in the same step, faces of the sphere map are merged and freed, and
// the loop keeps one that was freed. Whatever reads it later gives a wrong set, or crashes. So two pieces that meet at such
// a corner could not be united.
#pragma once

// CGAL's own checks stay on in release builds: without them bad input ends as a wrong result or a crash. They cost about a
// third of the time of cutting, and the reference engine is there to be right, not to be fast.
#ifndef CGAL_DEBUG
#define CGAL_DEBUG
#endif

#include "solid/nef/kernel.hpp"

#include <CGAL/Cartesian.h>
#include <CGAL/Nef_polyhedron_3.h>

namespace cutproof::nef {

/// Numbers with cached enclosures are their own filter, so no lazy kernel stands in front of them: measured on cutting and
/// uniting, it gained nothing over irrational fields and little over Q, and motions took up to five times as long. And
/// without it there are no histories that grow, and no rounding modes.
using Kernel = CGAL::Cartesian<NefNumber>;
using Nef = CGAL::Nef_polyhedron_3<Kernel>;
using Structure = Nef::SNC_structure;

using Items = Structure::Items;
using Overlayer = CGAL::SNC_SM_overlayer<Items, CGAL::SM_decorator<Structure::Sphere_map>>;
using Decorator = CGAL::SNC_decorator<Structure>;
using Simplifier = CGAL::SNC_simplify_base<Structure>;
using Association = CGAL::ID_support_handler<Items, Decorator>;

/// The same association as another type: with it CGAL's own template is reached from the function that replaces it.
struct SameAssociation {
  Association& association;
  int get_hash(int index) { return association.get_hash(index); }
  void set_hash(int index, int hash) { association.set_hash(index, hash); }
};

}  // namespace cutproof::nef

namespace CGAL {

/// Simplifies the overlay of two sphere maps. CGAL's own function decides for the loop before it merges faces. Here the same
/// merging is rehearsed first, step by step, so that the loop has the face that will be left.
template <>
template <>
inline void cutproof::nef::Overlayer::simplify(cutproof::nef::Association& association) {
  if (has_shalfloop()) {
    Union_find<SFace_handle> merged;
    Unique_hash_map<SFace_handle, Union_find<SFace_handle>::handle> place(nullptr);
    SFace_iterator face;
    CGAL_forall_sfaces(face, *this) place[face] = merged.make_set(face);
    SHalfedge_iterator edge;
    CGAL_forall_sedges(edge, *this) {
      const SFace_handle left = edge->incident_sface(), right = edge->twin()->incident_sface();
      if (Infi_box::is_sedge_on_infibox(edge) || edge->mark() != left->mark() || left->mark() != right->mark()) continue;
      if (!merged.same_set(place[left], place[right])) merged.unify_sets(place[left], place[right]);
    }
    const SHalfloop_handle loop = this->shalfloop();
    for (const SHalfloop_handle& side : {loop, loop->twin()})
      side->incident_sface() = *merged.find(place[side->incident_sface()]);
  }
  cutproof::nef::SameAssociation same{association};
  simplify(same);
}

/// The last stage of simplifying a polyhedron: as CGAL's own, and the loop gets the face that is left.
template <>
inline void cutproof::nef::Simplifier::create_boundary_links_forall_sfaces(Unique_hash_map<SFace_handle, UFH_sface>& place,
                                                                           Union_find<SFace_handle>& merged) {
  Unique_hash_map<SHalfedge_handle, bool> linked(false, this->sncp()->number_of_shalfedges());
  SHalfedge_iterator edge;
  CGAL_forall_shalfedges(edge, *this->sncp()) {
    if (linked[edge]) continue;
    SM_decorator map(&*edge->source()->source());
    const SFace_handle face = *merged.find(place[edge->incident_sface()]);
    SHalfedge_around_sface_circulator around(edge), end(around);
    CGAL_For_all(around, end) {
      map.set_face(around, face);
      linked[around] = true;
    }
    map.store_sm_boundary_object(edge, face);
  }
  SVertex_handle direction;
  CGAL_forall_svertices(direction, *this->sncp()) {
    SM_decorator map(&*direction->source());
    if (!map.is_isolated(direction)) continue;
    const SFace_handle face = *merged.find(place[direction->incident_sface()]);
    map.set_face(direction, face);
    map.store_sm_boundary_object(direction, face);
  }
  SHalfloop_handle loop;
  CGAL_forall_shalfloops(loop, *this->sncp()) {
    const SFace_handle before = loop->incident_sface(), face = *merged.find(place[before]);
    SM_decorator map(&*face->center_vertex());
    if (map.map()->is_sm_boundary_object(loop)) {
      if (face == before) continue;
      map.map()->undef_sm_boundary_item(loop);  // the list that it was in went with its face
    }
    map.set_face(loop, face);
    map.store_sm_boundary_object(loop, face);
  }
}

/// Where the last wall at a corner goes away and a loop is made of what is left: the halffacet of a loop, like that of an
/// edge of the sphere map, lies on the other side of it than its face. CGAL took the one on the same side, which exchanges
/// inside and outside of everything that hangs together through this corner.
template <>
inline void cutproof::nef::Decorator::add_sloop_to_facet(SHalfloop_handle loop, Halffacet_handle facet) const {
  const bool same_side = Sphere_circle(facet->plane()) == loop->circle();
  loop->facet() = same_side ? facet->twin() : facet;
  loop->twin()->facet() = loop->facet()->twin();
}

}  // namespace CGAL

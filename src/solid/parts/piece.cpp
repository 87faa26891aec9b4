// SPDX-License-Identifier: GPL-3.0-or-later
// Pieces with multiplicity, and the relations between many pieces: overlapping, linked, filling a goal.
#include "solid/parts/piece.hpp"

#include "number/errors.hpp"
#include "solid/parts/algebra.hpp"
#include "solid/parts/boundary.hpp"
#include "solid/parts/separate.hpp"
#include "solid/point_location.hpp"

#include <algorithm>
#include <set>

namespace cutproof {

const Number& PartsSolid::volume() const {
  if (!volume_) {
    std::vector<Number> terms;
    for (const CellList& layer : layers_) terms.push_back(cutproof::volume(layer));
    volume_ = balanced_sum(terms);
  }
  return *volume_;
}

const PartsSolid& as_parts(const Solid& piece) {
  const auto* parts = dynamic_cast<const PartsSolid*>(piece.get());
  if (parts == nullptr) throw ToolFault("a piece of another engine, or none, came to the parts engine");
  return *parts;
}

Solid as_piece(CellList parts) {
  if (parts.empty()) return nullptr;
  return std::make_shared<const PartsSolid>(std::vector<CellList>{std::move(parts)});
}

Region region_of(const CellList& parts) {
  Boundary boundary = true_boundary(parts);
  Box box = box_around(boundary.vertices);
  return {volume(parts), std::move(box), std::move(boundary)};
}

namespace {

/// The parts of many pieces in one list, and which piece each belongs to.
struct Pool {
  CellList parts;
  std::vector<std::size_t> owner;
  void add(const CellList& list, std::size_t index) {
    parts.insert(parts.end(), list.begin(), list.end());
    owner.resize(parts.size(), index);
  }
};

Pool pool_of(const std::vector<Solid>& pieces) {
  Pool pool;
  for (std::size_t i = 0; i < pieces.size(); ++i) pool.add(as_parts(pieces[i]).region(), i);
  return pool;
}

/// Covers `part` once more than `layers` do.
void add_to_layers(std::vector<CellList>& layers, const CellPointer& part) {
  CellList rest{part};
  for (std::size_t k = 0; !rest.empty(); ++k) {
    if (k == layers.size()) layers.emplace_back();
    CellList again = intersection(rest, layers[k]);
    const CellList added = difference(rest, layers[k]);
    layers[k].insert(layers[k].end(), added.begin(), added.end());
    rest = std::move(again);
  }
}

}  // namespace

Solid sum_of_pieces(const std::vector<Solid>& pieces) {
  if (pieces.empty()) throw ToolFault("no pieces to join");
  std::vector<CellList> layers;
  const bool apart = overlapping_pieces(pieces, std::vector<char>(pieces.size(), 1)).empty();
  for (const Solid& piece : pieces) {
    const std::vector<CellList>& more = as_parts(piece).layers();
    for (std::size_t k = 0; k < more.size(); ++k) {
      if (!apart) {
        for (const CellPointer& part : more[k]) add_to_layers(layers, part);
        continue;
      }
      if (k == layers.size()) layers.emplace_back();
      layers[k].insert(layers[k].end(), more[k].begin(), more[k].end());
    }
  }
  return std::make_shared<const PartsSolid>(std::move(layers));
}

std::vector<std::pair<std::size_t, std::size_t>> overlapping_pieces(const std::vector<Solid>& pieces,
                                                                    const std::vector<char>& suspect) {
  Pool suspects, others;
  for (std::size_t i = 0; i < pieces.size(); ++i) (suspect[i] ? suspects : others).add(as_parts(pieces[i]).region(), i);
  std::set<std::pair<std::size_t, std::size_t>> pairs;
  const auto test = [&pairs](const Pool& a, std::size_t i, const Pool& b, std::size_t j) {
    const std::pair<std::size_t, std::size_t> pair = std::minmax(a.owner[i], b.owner[j]);
    if (pair.first != pair.second && interiors_meet(a.parts[i], b.parts[j])) pairs.insert(pair);
  };
  for_each_close_pair(suspects.parts, [&](std::size_t i, std::size_t j) { test(suspects, i, suspects, j); });
  for_each_close_pair(suspects.parts, others.parts, [&](std::size_t i, std::size_t j) { test(suspects, i, others, j); });
  return {pairs.begin(), pairs.end()};
}

std::size_t count_linked(const std::vector<Solid>& pieces) {
  const Pool pool = pool_of(pieces);
  Groups groups(pieces.size());
  for_each_close_pair(pool.parts, [&](std::size_t i, std::size_t j) {
    const std::size_t a = pool.owner[i], b = pool.owner[j];
    if (groups.representative(a) == groups.representative(b)) return;
    if (share_face_area(*pool.parts[i], *pool.parts[j]) || interiors_meet(pool.parts[i], pool.parts[j])) groups.link(a, b);
  });
  return groups.count();
}

namespace {

/// "Disjoint, inside, same volume": proves that the pieces fill the goals, or proves nothing.
bool proved_filled(const std::vector<Solid>& pieces, const Pool& pool, const CellList& goals, bool pieces_are_disjoint) {
  // Cheapest first: the volumes.
  if (volume(pool.parts) != volume(goals)) return false;
  std::vector<char> inside(pool.parts.size(), 0);
  for_each_close_pair(pool.parts, goals, [&](std::size_t i, std::size_t j) {
    if (!inside[i] && lies_inside(*pool.parts[i], *goals[j])) inside[i] = 1;
  });
  CellList open;
  for (std::size_t i = 0; i < inside.size(); ++i)
    if (!inside[i]) open.push_back(pool.parts[i]);
  if (!open.empty() && !difference(open, goals).empty()) return false;
  return pieces_are_disjoint || overlapping_pieces(pieces, std::vector<char>(pieces.size(), 1)).empty();
}

/// The union as interior-disjoint parts.
CellList union_of(const std::vector<Solid>& pieces, const Pool& pool, bool pieces_are_disjoint) {
  if (pieces_are_disjoint || overlapping_pieces(pieces, std::vector<char>(pieces.size(), 1)).empty()) return pool.parts;
  CellList result;
  for (const Solid& piece : pieces) {
    const CellList added = difference(as_parts(piece).region(), result);
    result.insert(result.end(), added.begin(), added.end());
  }
  return result;
}

template <class Relation>
std::vector<DifferenceRegion> regions_of(const CellList& parts, const Pool& pool, Relation related) {
  std::vector<DifferenceRegion> regions;
  for (const CellList& component : connected(parts)) {
    std::set<std::size_t> owners;
    for_each_close_pair(component, pool.parts, [&](std::size_t i, std::size_t j) {
      if (owners.count(pool.owner[j]) == 0 && related(component[i], pool.parts[j])) owners.insert(pool.owner[j]);
    });
    regions.push_back({region_of(component), {owners.begin(), owners.end()}});
  }
  return regions;
}

std::vector<std::pair<std::size_t, std::vector<std::size_t>>> straddling(const Pool& pieces, const Pool& goals) {
  std::set<std::pair<std::size_t, std::size_t>> met;
  for_each_close_pair(pieces.parts, goals.parts, [&](std::size_t i, std::size_t j) {
    const std::pair<std::size_t, std::size_t> pair{pieces.owner[i], goals.owner[j]};
    if (met.count(pair) == 0 && interiors_meet(pieces.parts[i], goals.parts[j])) met.insert(pair);
  });
  std::vector<std::pair<std::size_t, std::vector<std::size_t>>> result;
  for (auto i = met.begin(); i != met.end();) {
    std::vector<std::size_t> touched;
    const std::size_t piece = i->first;
    for (; i != met.end() && i->first == piece; ++i) touched.push_back(i->second);
    if (touched.size() > 1) result.emplace_back(piece, std::move(touched));
  }
  return result;
}

}  // namespace

namespace {

DoubleBox box_around(const CellList& parts) {
  DoubleBox all = parts.front()->box();
  for (const CellPointer& part : parts)
    for (std::size_t axis = 0; axis < 3; ++axis) {
      all.lower[axis] = std::min(all.lower[axis], part->box().lower[axis]);
      all.upper[axis] = std::max(all.upper[axis], part->box().upper[axis]);
    }
  return all;
}

bool all_meet(const CellList& parts, const DoubleBox& box) {
  return std::all_of(parts.begin(), parts.end(), [&](const CellPointer& part) { return part->box().meets(box); });
}

}  // namespace

bool parts_reach_beyond(const Solid& piece, const Plane& plane) {
  const FacePlane seen(plane);
  for (const CellPointer& part : as_parts(piece).region())
    for (const CornerPointer& corner : part->corners())
      if (side(seen, *corner) > 0) return true;
  return false;
}

bool parts_hold(const Solid& piece, const Vector3& point) {
  const CellList& parts = as_parts(piece).region();
  const Corner corner(point);
  bool on_some = false;
  for (const CellPointer& part : parts) {
    int outermost = -1;
    for (const CellFace& face : part->faces())
      if ((outermost = std::max(outermost, face.side_of(corner))) > 0) break;
    if (outermost < 0) return true;
    on_some = on_some || outermost == 0;
  }
  // Where the point lies between parts, these may or may not close round it.
  return on_some && parts.size() > 1 && locate(true_boundary(parts), point) > 0;
}

std::vector<char> parts_inside(const std::vector<Solid>& pieces, const Solid& solid) {
  const CellList& around = as_parts(solid).region();
  const DoubleBox box = box_around(around);
  std::vector<char> result;
  for (const Solid& piece : pieces) {
    const CellList& parts = as_parts(piece).region();
    result.push_back(0);
    if (!all_meet(parts, box)) continue;
    CellList open;
    for (const CellPointer& part : parts)
      if (std::none_of(around.begin(), around.end(), [&](const CellPointer& other) { return lies_inside(*part, *other); }))
        open.push_back(part);
    if (open.empty() || (around.size() > 1 && difference(open, around).empty())) result.back() = 1;
  }
  return result;
}

std::vector<char> parts_touching(const std::vector<Solid>& pieces, const std::vector<Solid>& others) {
  std::vector<char> result(pieces.size(), 0);
  const Pool theirs = pool_of(others);
  if (theirs.parts.empty()) return result;
  const DoubleBox box = box_around(theirs.parts);
  Pool ours;
  for (std::size_t i = 0; i < pieces.size(); ++i)
    for (const CellPointer& part : as_parts(pieces[i]).region())
      if (part->box().meets(box)) ours.add({part}, i);
  for_each_close_pair(ours.parts, theirs.parts, [&](std::size_t i, std::size_t j) {
    char& found = result[ours.owner[i]];
    if (!found && (share_face_area(*ours.parts[i], *theirs.parts[j]) || interiors_meet(ours.parts[i], theirs.parts[j])))
      found = 1;
  });
  return result;
}

GoalComparison compare_parts(const std::vector<Solid>& pieces, const std::vector<Solid>& goals, bool pieces_are_disjoint) {
  const Pool pool = pool_of(pieces), wanted = pool_of(goals);
  GoalComparison result;
  if (goals.size() > 1) result.straddling = straddling(pool, wanted);
  if (proved_filled(pieces, pool, wanted.parts, pieces_are_disjoint)) return result;
  result.missing = regions_of(difference(wanted.parts, pool.parts), pool,
                              [](const CellPointer& a, const CellPointer& b) { return share_face_area(*a, *b); });
  result.excess = regions_of(difference(union_of(pieces, pool, pieces_are_disjoint), wanted.parts), pool,
                             [](const CellPointer& a, const CellPointer& b) { return interiors_meet(a, b); });
  return result;
}

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// The Nef engine: the reference. Any solid, tunnels, cavities, edges where several sectors meet; slow, and as little code of
// our own as possible: everything is decided by boolean operations of sets (nef/set.hpp); boxes and facet planes only spare
// some of them.
#include "solid/engine.hpp"
#include "number/errors.hpp"
#include "solid/edges.hpp"
#include "solid/nef/set.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <optional>
#include <tuple>

namespace cutproof {

namespace {

/// A set with what is asked of it most.
class NefLayer {
 public:
  explicit NefLayer(NefSet set) : set_(std::move(set)), raw_(set_.boundary()) {
    if (raw_.vertices.empty()) return;
    volume_ = cutproof::volume(raw_);
    box_ = box_around(raw_.vertices);
    if (volume_.sign() <= 0) throw ToolFault("the Nef engine made a solid without volume");
  }
  bool is_empty() const { return raw_.vertices.empty(); }
  const NefSet& set() const { return set_; }
  /// As CGAL has it, in arbitrary order.
  const Boundary& raw() const { return raw_; }
  const Number& volume() const { return volume_; }
  const Box& box() const { return box_; }
  /// In canonical form.
  const Boundary& boundary() const {
    if (!boundary_) boundary_ = normalised(raw_);
    return *boundary_;
  }

 private:
  NefSet set_;
  Boundary raw_;
  Number volume_;
  Box box_;
  mutable std::optional<Boundary> boundary_;
};

/// Layer k (from 0) is what the piece covers more than k times; each contains the next, and none is empty.
class NefSolid : public EngineSolid {
 public:
  explicit NefSolid(std::vector<NefLayer> layers) : layers_(std::move(layers)) {}
  const std::vector<NefLayer>& layers() const { return layers_; }
  const NefLayer& region() const { return layers_.front(); }

 private:
  std::vector<NefLayer> layers_;
};

const NefSolid& as_nef(const Solid& piece) {
  const auto* nef = dynamic_cast<const NefSolid*>(piece.get());
  if (nef == nullptr) throw ToolFault("a piece of another engine, or none, came to the Nef engine");
  return *nef;
}

/// Null when no layer is left.
Solid as_piece(std::vector<NefLayer> layers) {
  while (!layers.empty() && layers.back().is_empty()) layers.pop_back();
  if (layers.empty()) return nullptr;
  return std::make_shared<const NefSolid>(std::move(layers));
}

/// -1: disjoint, 0: they touch at most, 1: they share interior points.
int boxes_meet(const Box& a, const Box& b) {
  int result = 1;
  for (Number Vector3::*axis : {&Vector3::x, &Vector3::y, &Vector3::z}) {
    const int first = compare(a.minimum.*axis, b.maximum.*axis), second = compare(b.minimum.*axis, a.maximum.*axis);
    if (first > 0 || second > 0) return -1;
    if (first == 0 || second == 0) result = 0;
  }
  return result;
}

/// True only if the plane of a facet of `a` lies between them, which proves that they share no interior points.
bool facet_separates(const NefLayer& a, const NefLayer& b) {
  const auto all_on = [](int side, const Plane& plane, const NefLayer& solid) {
    const std::vector<Vector3>& corners = solid.raw().vertices;
    return std::all_of(corners.begin(), corners.end(), [&](const Vector3& p) { return side_of(plane, p) * side >= 0; });
  };
  const std::vector<Facet>& facets = a.raw().facets;
  return std::any_of(facets.begin(), facets.end(),
                     [&](const Facet& facet) { return all_on(1, facet.plane, b) && all_on(-1, facet.plane, a); });
}

bool share_interior(const NefLayer& a, const NefLayer& b) {
  return boxes_meet(a.box(), b.box()) > 0 && !facet_separates(a, b) && !facet_separates(b, a) &&
         !a.set().intersection(b.set()).is_empty();
}

/// True iff they share an area of their boundaries, or interior points: exactly then their regularised union has fewer
/// components than both have together.
bool linked(const NefLayer& a, const NefLayer& b) {
  if (boxes_meet(a.box(), b.box()) < 0) return false;
  return a.set().united(b.set()).count_components() < a.set().count_components() + b.set().count_components();
}

NefSet union_of(std::vector<NefSet> sets) {
  if (sets.empty()) return NefSet();
  while (sets.size() > 1) {
    std::size_t half = 0;
    for (std::size_t i = 0; i < sets.size(); i += 2)
      sets[half++] = i + 1 < sets.size() ? sets[i].united(sets[i + 1]) : sets[i];
    sets.resize(half);
  }
  return sets.front();
}

NefSet union_of_regions(const std::vector<Solid>& pieces) {
  std::vector<NefSet> sets;
  for (const Solid& piece : pieces) sets.push_back(as_nef(piece).region().set());
  return union_of(std::move(sets));
}

/// The layers of the sum of all multiplicities: what is covered again is carried into the next layer.
std::vector<NefSet> sum_of_layers(const std::vector<Solid>& pieces) {
  std::vector<NefSet> sum;
  for (const Solid& piece : pieces)
    for (const NefLayer& layer : as_nef(piece).layers()) {
      NefSet carried = layer.set();
      for (std::size_t k = 0; !carried.is_empty(); ++k) {
        if (k == sum.size()) sum.emplace_back();
        NefSet again = sum[k].intersection(carried);
        sum[k] = sum[k].united(carried);
        carried = std::move(again);
      }
    }
  return sum;
}

/// The same for pieces that do not overlap: each layer is the union of theirs.
std::vector<NefSet> union_of_layers(const std::vector<Solid>& pieces) {
  std::vector<std::vector<NefSet>> layers;
  for (const Solid& piece : pieces)
    for (std::size_t k = 0; k < as_nef(piece).layers().size(); ++k) {
      if (k == layers.size()) layers.emplace_back();
      layers[k].push_back(as_nef(piece).layers()[k].set());
    }
  std::vector<NefSet> result;
  for (std::vector<NefSet>& sets : layers) result.push_back(union_of(std::move(sets)));
  return result;
}

/// The connected components in the order of their smallest corners, ties by volume, then by centroid.
std::vector<NefLayer> sorted_components(const NefSet& set) {
  struct Component {
    NefLayer solid;
    Vector3 corner, moment;
  };
  std::vector<Component> components;
  for (NefSet& component : set.components()) {
    NefLayer solid(std::move(component));
    if (solid.is_empty()) continue;
    Vector3 corner = *std::min_element(solid.raw().vertices.begin(), solid.raw().vertices.end());
    Vector3 moment = cutproof::moment(solid.raw());
    components.push_back({std::move(solid), std::move(corner), std::move(moment)});
  }
  std::sort(components.begin(), components.end(), [](const Component& a, const Component& b) {
    if (const int by_corner = compare(a.corner, b.corner)) return by_corner < 0;
    if (const int by_volume = compare(a.solid.volume(), b.solid.volume())) return by_volume < 0;
    return a.moment < b.moment;  // the volumes are equal, so this is the order of the centroids
  });
  std::vector<NefLayer> result;
  for (Component& component : components) result.push_back(std::move(component.solid));
  return result;
}

Region region_of(const NefLayer& solid) {
  return {solid.volume(), solid.box(), solid.boundary()};
}

/// The components of a difference and the pieces that are related to each.
template <class Related>
std::vector<DifferenceRegion> regions_of(const NefSet& set, const std::vector<Solid>& pieces, Related related) {
  std::vector<DifferenceRegion> regions;
  for (const NefLayer& component : sorted_components(set)) {
    DifferenceRegion region{region_of(component), {}};
    for (std::size_t i = 0; i < pieces.size(); ++i)
      if (related(component, as_nef(pieces[i]).region())) region.pieces.push_back(i);
    regions.push_back(std::move(region));
  }
  return regions;
}

class NefEngine final : public Engine {
 public:
  std::string name() const override { return "nef"; }
  std::unique_ptr<Engine> another() const override { return make_nef_engine(); }

  Solid build(const SolidDescription& solid) override {
    std::vector<NefLayer> layers;
    layers.emplace_back(set_of(solid));
    return as_piece(std::move(layers));
  }

  Halves cut(const Solid& piece, const Plane& plane) override {
    // Most planes of a long plan miss most pieces: the corners tell.
    bool above = false, below = false;
    for (const Vector3& corner : as_nef(piece).region().raw().vertices) {
      const int side = side_of(plane, corner);
      above = above || side > 0;
      below = below || side < 0;
    }
    if (!below) return {piece, nullptr};
    if (!above) return {nullptr, piece};
    const Plane other = opposite(plane);
    std::vector<NefLayer> positive, negative;
    for (const NefLayer& layer : as_nef(piece).layers()) {
      positive.emplace_back(layer.set().clipped(plane));
      negative.emplace_back(layer.set().clipped(other));
      if (positive.back().volume() + negative.back().volume() != layer.volume())
        throw ToolFault("the Nef engine lost volume in a cut");
    }
    return {as_piece(std::move(positive)), as_piece(std::move(negative))};
  }

  Solid moved(const Solid& piece, const Motion& motion) override {
    std::vector<NefLayer> layers;
    for (const NefLayer& layer : as_nef(piece).layers()) {
      layers.emplace_back(layer.set().image(motion.rows(), motion.shift()));
      if (layers.back().volume() != layer.volume()) throw ToolFault("the Nef engine lost volume in a motion");
    }
    return as_piece(std::move(layers));
  }

  Solid joined(const std::vector<Solid>& pieces) override {
    if (pieces.empty()) throw ToolFault("no pieces to join");
    const bool apart = overlapping_pairs(pieces, std::vector<char>(pieces.size(), 1)).empty();
    std::vector<NefLayer> layers;
    for (NefSet& set : apart ? union_of_layers(pieces) : sum_of_layers(pieces)) layers.emplace_back(std::move(set));
    std::vector<Number> volumes;
    for (const Solid& piece : pieces) volumes.push_back(volume(piece));
    const Solid result = as_piece(std::move(layers));
    if (volume(result) != balanced_sum(volumes)) throw ToolFault("the Nef engine lost volume in a join");
    return result;
  }

  std::vector<Solid> connected_components(const Solid& piece) override {
    const std::vector<NefLayer>& layers = as_nef(piece).layers();
    if (count_connected_components(piece) == 1) return {piece};
    std::vector<Solid> parts;
    for (const NefLayer& component : sorted_components(layers.front().set())) {
      std::vector<NefLayer> own{component};
      for (std::size_t k = 1; k < layers.size(); ++k) own.emplace_back(layers[k].set().intersection(component.set()));
      parts.push_back(as_piece(std::move(own)));
    }
    return parts;
  }

  std::size_t count_connected_components(const Solid& piece) override {
    return as_nef(piece).region().set().count_components();
  }

  Number volume(const Solid& piece) override {
    std::vector<Number> volumes;
    for (const NefLayer& layer : as_nef(piece).layers()) volumes.push_back(layer.volume());
    return balanced_sum(volumes);
  }

  Box box(const Solid& piece) override { return as_nef(piece).region().box(); }

  std::size_t bits(const Solid& piece) override {
    std::size_t bits = 0;
    for (const Vector3& corner : as_nef(piece).region().raw().vertices)
      bits = std::max({bits, corner.x.bits(), corner.y.bits(), corner.z.bits()});
    return bits;
  }

  std::vector<std::pair<std::size_t, std::size_t>> overlapping_pairs(const std::vector<Solid>& pieces,
                                                                     const std::vector<char>& suspect) override {
    std::vector<std::pair<std::size_t, std::size_t>> pairs;
    for (std::size_t i = 0; i < pieces.size(); ++i)
      for (std::size_t j = i + 1; j < pieces.size(); ++j)
        if ((suspect[i] || suspect[j]) && share_interior(as_nef(pieces[i]).region(), as_nef(pieces[j]).region()))
          pairs.emplace_back(i, j);
    return pairs;
  }

  Region overlap(const Solid& a, const Solid& b) override {
    const NefLayer common(as_nef(a).region().set().intersection(as_nef(b).region().set()));
    if (common.is_empty()) throw ToolFault("pieces that do not overlap were asked for their overlap");
    return region_of(common);
  }

  std::size_t count_linked_groups(const std::vector<Solid>& pieces) override {
    std::vector<std::size_t> group(pieces.size());
    std::iota(group.begin(), group.end(), std::size_t{0});
    std::size_t count = pieces.size();
    for (std::size_t i = 0; i < pieces.size(); ++i)
      for (std::size_t j = i + 1; j < pieces.size(); ++j)
        if (group[i] != group[j] && linked(as_nef(pieces[i]).region(), as_nef(pieces[j]).region())) {
          const std::size_t from = group[j], to = group[i];
          std::replace(group.begin(), group.end(), from, to);
          --count;
        }
    return count;
  }

  GoalComparison compare(const std::vector<Solid>& pieces, const std::vector<Solid>& goals) override {
    return compare_sets(union_of_regions(pieces), pieces, goals);
  }

  GoalComparison compare_disjoint(const std::vector<Solid>& pieces, const std::vector<Solid>& goals) override {
    const NefSet covered = union_of_regions(pieces);
    check_union(covered, pieces);
    return compare_sets(covered, pieces, goals);
  }

  // Along an edge as many facets run one way as the other. Where more than two meet, any pairing of them gives the same sum
  // of angles modulo pi, and the Dehn invariant knows no more.
  void for_each_edge(const Solid& piece, const std::function<void(const EdgeOfPiece&)>& use) override {
    for (const NefLayer& layer : as_nef(piece).layers()) {
      const Boundary& boundary = layer.raw();
      std::map<std::pair<int, int>, std::vector<const Facet*>> running;
      for (const Facet& facet : boundary.facets)
        for (const std::vector<int>& cycle : facet.cycles)
          for (std::size_t i = 0; i < cycle.size(); ++i)
            running[{cycle[i], cycle[i + 1 == cycle.size() ? 0 : i + 1]}].push_back(&facet);
      for (const auto& [ends, facets] : running) {
        if (ends.first > ends.second) continue;  // its other direction has the turn
        const auto back = running.find({ends.second, ends.first});
        if (back == running.end() || back->second.size() != facets.size())
          throw ToolFault("the Nef engine has a solid whose surface is not closed");
        for (std::size_t i = 0; i < facets.size(); ++i)
          use({boundary.vertices[ends.first], boundary.vertices[ends.second], facets[i]->plane.normal,
               back->second[i]->plane.normal});
      }
    }
  }

  Boundary boundary(const Solid& piece) override { return as_nef(piece).region().boundary(); }

 private:
  static void check_union(const NefSet& united, const std::vector<Solid>& disjoint) {
    std::vector<Number> volumes;
    for (const Solid& piece : disjoint) volumes.push_back(as_nef(piece).region().volume());
    if (cutproof::volume(united.boundary()) != balanced_sum(volumes))
      throw ToolFault("the Nef engine lost volume in a union");
  }

  static GoalComparison compare_sets(const NefSet& covered, const std::vector<Solid>& pieces,
                                     const std::vector<Solid>& goals) {
    GoalComparison result;
    const NefSet wanted = union_of_regions(goals);
    check_union(wanted, goals);
    result.missing = regions_of(wanted.difference(covered), pieces, linked);
    result.excess = regions_of(covered.difference(wanted), pieces, share_interior);
    const auto with = [](const NefSet& set, const std::vector<DifferenceRegion>& more) {
      Number total = cutproof::volume(set.boundary());
      for (const DifferenceRegion& region : more) total += region.region.volume;
      return total;
    };
    if (with(covered, result.missing) != with(wanted, result.excess))
      throw ToolFault("the Nef engine lost volume in a difference");
    if (goals.size() < 2) return result;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      std::vector<std::size_t> met;
      for (std::size_t j = 0; j < goals.size(); ++j)
        if (share_interior(as_nef(pieces[i]).region(), as_nef(goals[j]).region())) met.push_back(j);
      if (met.size() > 1) result.straddling.emplace_back(i, std::move(met));
    }
    return result;
  }

  static NefSet set_of(const SolidDescription& solid) {
    return std::visit([](const auto& kind) { return set_of(kind); }, solid.kind);
  }

  static NefSet set_of(const HullDescription& hull) { return NefSet::hull(hull.points); }
  static NefSet set_of(const SurfaceDescription& surface) { return NefSet::inside(surface.boundary); }

  static NefSet set_of(const BooleanDescription& boolean) {
    NefSet result = set_of(*boolean.operands.at(0));
    for (std::size_t i = 1; i < boolean.operands.size(); ++i) {
      const NefSet operand = set_of(*boolean.operands[i]);
      switch (boolean.kind) {
        case BooleanKind::union_of_all:
          result = result.united(operand);
          break;
        case BooleanKind::intersection_of_all:
          result = result.intersection(operand);
          break;
        case BooleanKind::first_minus_others:
          result = result.difference(operand);
          break;
      }
    }
    return result;
  }

  static NefSet set_of(const PlacedDescription& placed) {
    std::array<Vector3, 3> rows = placed.motion.rows();
    for (Vector3& row : rows) row = placed.factor * row;
    return set_of(*placed.solid).image(rows, placed.motion(placed.about - placed.factor * placed.about));
  }
};

}  // namespace

std::unique_ptr<Engine> make_nef_engine() {
  return std::make_unique<NefEngine>();
}

}  // namespace cutproof

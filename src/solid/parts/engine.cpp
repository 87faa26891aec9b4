// SPDX-License-Identifier: GPL-3.0-or-later
// The parts engine: pieces are sets of interior-disjoint convex parts. A cut clips parts, a motion maps corners and planes,
// and nothing else is needed for verdicts, because volume and Dehn invariant are additive. Numbers keep no history.
#include "solid/engine.hpp"
#include "solid/parts/algebra.hpp"
#include "solid/parts/boundary.hpp"
#include "solid/parts/build.hpp"
#include "solid/parts/motion.hpp"
#include "solid/parts/piece.hpp"
#include "solid/parts/separate.hpp"

#include <algorithm>

namespace cutproof {

namespace {

Solid from_layers(std::vector<CellList> layers, std::shared_ptr<const void> kept = nullptr) {
  while (!layers.empty() && layers.back().empty()) layers.pop_back();
  if (layers.empty()) return nullptr;
  return std::make_shared<const PartsSolid>(std::move(layers), std::move(kept));
}

class PartsEngine : public Engine {
 public:
  std::string name() const override { return "parts"; }
  std::unique_ptr<Engine> another() const override { return make_parts_engine(); }

  Solid build(const SolidDescription& solid) override { return as_piece(build_parts(solid)); }

  Halves cut(const Solid& piece, const Plane& plane) override {
    const PlanePointer cutting = shared(plane);
    std::vector<CellList> above, below;
    for (const CellList& layer : as_parts(piece).layers()) {
      above.emplace_back();
      below.emplace_back();
      for (const CellPointer& part : layer) {
        CellHalves halves = split(part, cutting);
        if (halves.positive) above.back().push_back(std::move(halves.positive));
        if (halves.negative) below.back().push_back(std::move(halves.negative));
      }
    }
    const auto nothing = [](const std::vector<CellList>& layers) {
      return std::all_of(layers.begin(), layers.end(), [](const CellList& layer) { return layer.empty(); });
    };
    if (nothing(below)) return {piece, nullptr};
    if (nothing(above)) return {nullptr, piece};
    return {from_layers(std::move(above)), from_layers(std::move(below))};
  }

  Solid moved(const Solid& piece, const Motion& motion) override {
    std::shared_ptr<CellMap> map = map_.lock();
    if (!map || !map->is(motion)) map_ = map = std::make_shared<CellMap>(motion);
    std::vector<CellList> layers;
    for (const CellList& layer : as_parts(piece).layers()) layers.push_back((*map)(layer));
    return from_layers(std::move(layers), map);
  }

  Solid joined(const std::vector<Solid>& pieces) override { return sum_of_pieces(pieces); }

  std::vector<Solid> connected_components(const Solid& piece) override {
    const std::vector<CellList>& layers = as_parts(piece).layers();
    std::vector<CellList> components = connected(layers.front());
    if (components.size() == 1) return {piece};
    std::vector<std::vector<CellList>> result;
    for (CellList& component : components) result.push_back({std::move(component)});
    // A part of a deeper layer lies in the region, and its interior in the interior of one component.
    for (std::size_t k = 1; k < layers.size(); ++k)
      for (std::vector<CellList>& component : result) {
        component.emplace_back();
        for (const CellPointer& part : layers[k])
          if (interiors_meet(CellList{part}, component.front())) component.back().push_back(part);
      }
    std::vector<Solid> pieces;
    for (std::vector<CellList>& component : result) pieces.push_back(from_layers(std::move(component)));
    return pieces;
  }

  std::size_t count_connected_components(const Solid& piece) override {
    const CellList& parts = as_parts(piece).region();
    return parts.size() == 1 ? 1 : connected(parts).size();
  }

  Number volume(const Solid& piece) override { return as_parts(piece).volume(); }

  Box box(const Solid& piece) override {
    const CellList& parts = as_parts(piece).region();
    const auto extreme = [&parts](int axis, bool upper) {
      const Number* best = &parts.front()->extreme(axis, upper);
      for (const CellPointer& part : parts) {
        const Number& other = part->extreme(axis, upper);
        if (upper ? other > *best : other < *best) best = &other;
      }
      return *best;
    };
    return {{extreme(0, false), extreme(1, false), extreme(2, false)},
            {extreme(0, true), extreme(1, true), extreme(2, true)}};
  }

  std::size_t bits(const Solid& piece) override {
    std::size_t bits = 0;
    for (const CellPointer& part : as_parts(piece).region())
      for (const CornerPointer& corner : part->corners())
        for (int axis = 0; axis < 3; ++axis) bits = std::max(bits, coordinate(corner->point, axis).bits());
    return bits;
  }

  std::vector<std::pair<std::size_t, std::size_t>> overlapping_pairs(const std::vector<Solid>& pieces,
                                                                     const std::vector<char>& suspect) override {
    return overlapping_pieces(pieces, suspect);
  }

  Region overlap(const Solid& a, const Solid& b) override {
    return region_of(intersection(as_parts(a).region(), as_parts(b).region()));
  }

  std::size_t count_linked_groups(const std::vector<Solid>& pieces) override { return count_linked(pieces); }

  GoalComparison compare(const std::vector<Solid>& pieces, const std::vector<Solid>& goals) override {
    return compare_parts(pieces, goals, false);
  }

  GoalComparison compare_disjoint(const std::vector<Solid>& pieces, const std::vector<Solid>& goals) override {
    return compare_parts(pieces, goals, true);
  }

  bool reaches_beyond(const Solid& piece, const Plane& plane) override { return parts_reach_beyond(piece, plane); }

  bool holds(const Solid& piece, const Vector3& point) override { return parts_hold(piece, point); }

  std::vector<char> inside(const std::vector<Solid>& pieces, const Solid& solid) override {
    return parts_inside(pieces, solid);
  }

  std::vector<char> touching(const std::vector<Solid>& pieces, const std::vector<Solid>& others) override {
    return parts_touching(pieces, others);
  }

  void for_each_edge(const Solid& piece, const std::function<void(const EdgeOfPiece&)>& use) override {
    for (const CellList& layer : as_parts(piece).layers())
      for (const CellPointer& part : layer) {
        const std::vector<int> neighbours = part->neighbours();
        for (const CellFace& face : part->faces())
          for (int i = face.begin; i < face.end; ++i) {
            const int from = part->cycles()[i], to = part->cycles()[i + 1 < face.end ? i + 1 : face.begin];
            if (from > to) continue;  // the other face's turn
            const CellFace& other = part->faces()[neighbours[i]];
            use({part->corners()[from]->point, part->corners()[to]->point, face.plane->plane.normal,
                 other.plane->plane.normal, face.flipped, other.flipped});
          }
      }
  }

  Boundary boundary(const Solid& piece) override { return true_boundary(as_parts(piece).region()); }

 private:
  struct Cutting {
    Plane given;
    FacePlane plane;
  };

  /// All pieces cut by one plane share it.
  PlanePointer shared(const Plane& plane) {
    std::shared_ptr<const Cutting> cutting = cutting_.lock();
    if (!cutting || !identical(cutting->given.normal, plane.normal) || !identical(cutting->given.offset, plane.offset))
      cutting_ = cutting = std::make_shared<const Cutting>(Cutting{plane, FacePlane(reduced(plane))});
    return {cutting, &cutting->plane};
  }

  // Only pieces own numbers: an engine may outlive the field of the plan that it worked on.
  std::weak_ptr<const Cutting> cutting_;
  std::weak_ptr<CellMap> map_;
};

}  // namespace

std::unique_ptr<Engine> make_parts_engine() {
  return std::make_unique<PartsEngine>();
}

}  // namespace cutproof

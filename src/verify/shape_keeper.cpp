// SPDX-License-Identifier: GPL-3.0-or-later
#include "verify/shape_keeper.hpp"

#include "solid/congruence.hpp"
#include "solid/edges.hpp"
#include "verify/measure.hpp"
#include "verify/text.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

namespace cutproof {

void ShapeKeeper::on_end(const Bench& bench) {
  const bool shapes = bench.size() <= shapes_up_to_, extents = bench.size() <= extents_up_to_;
  if (bench.size() == 0 || (!shapes && !extents)) return;
  std::vector<Boundary> boundaries;
  for (const BenchPiece& piece : bench.pieces()) boundaries.push_back(engine_.boundary(piece.solid));
  if (shapes) find_shapes(bench, boundaries);
  if (!extents) return;
  for (const Boundary& boundary : boundaries) extents_.push_back(extent_of(boundary, dimension_));
}

void ShapeKeeper::find_shapes(const Bench& bench, const std::vector<Boundary>& boundaries) {
  ShapeCatalogue catalogue(dimension_ == 2 ? Ambient::plane : Ambient::space);
  std::vector<std::size_t> class_of;
  std::optional<Number> shortest, least;  // the shortest edge squared
  SmallestResult smallest;
  auto of_piece = boundaries.begin();
  for (const BenchPiece& piece : bench.pieces()) {
    const Boundary& boundary = *of_piece++;
    for (const TrueEdge& edge : true_edges(boundary)) {
      const Vector3& along = edge.sectors.front().edge;
      if (dimension_ == 2 && !along.z.is_zero()) continue;
      Number squared = dot(along, along);
      if (shortest && !(squared < *shortest)) continue;
      shortest = std::move(squared);
      smallest.edge_of = piece.name;
    }
    if (!least || piece.volume < *least) {
      least = piece.volume;
      smallest.volume_of = piece.name;
    }
    class_of.push_back(catalogue.add(piece.volume, SurfaceForm(boundary)));
  }

  // Classes came in the order of their first pieces. Those of mirror images have one volume, so the earlier stays earlier.
  const auto& classes = catalogue.shapes();
  std::vector<std::size_t> order(classes.size()), place(classes.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return classes[a].volume > classes[b].volume; });
  for (std::size_t i = 0; i < order.size(); ++i) place[order[i]] = i;
  for (const std::size_t each : order) {
    ShapeResult shape;
    shape.volume = value_text(classes[each].volume);
    shape.chiral = classes[each].chiral;
    if (classes[each].mirror_of) shape.mirror_of = place[*classes[each].mirror_of];
    shapes_.push_back(std::move(shape));
  }
  auto index = class_of.begin();
  for (const BenchPiece& piece : bench.pieces()) {
    shape_of_.push_back(place[*index++]);
    shapes_[shape_of_.back()].pieces.push_back(piece.name);
  }
  smallest.edge = length_text(*shortest);
  smallest.volume = value_text(*least);
  smallest_ = std::move(smallest);
}

void ShapeKeeper::give_to(CheckResult* result) {
  const std::size_t pieces = result->pieces.size();
  if (extents_.size() == pieces)
    for (std::size_t i = 0; i < pieces; ++i) result->pieces[i].extent = std::move(extents_[i]);
  if (!smallest_ || pieces != shape_of_.size()) return;
  result->shapes = std::move(shapes_);
  result->smallest = std::move(smallest_);
  for (std::size_t i = 0; i < shape_of_.size(); ++i) result->pieces[i].shape = shape_of_[i];
}

}  // namespace cutproof

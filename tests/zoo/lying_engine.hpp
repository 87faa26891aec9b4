// SPDX-License-Identifier: GPL-3.0-or-later
// An engine that says the truth until it is told to lie about one operation: what comparing two engines must catch.
#pragma once

#include "solid/engine.hpp"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

namespace cutproof::test {

/// One way of being wrong about one operation of `Engine`.
struct Lie {
  std::string operation, name;
};

/// At least one for each operation; as small as lies can be where size matters.
inline std::vector<Lie> lies() {
  return {
      {"build", "nothing is there"},
      {"build", "a little to the side"},
      {"build", "the mirror image"},
      {"cut", "halves exchanged"},
      {"cut", "one half lost"},
      {"cut", "by a plane a little beside"},
      {"cut", "the plane misses"},
      {"moved", "not at all"},
      {"moved", "backwards"},
      {"moved", "a little too far"},
      {"joined", "without the last"},
      {"joined", "the last counts twice"},
      {"connected_components", "one too few"},
      {"connected_components", "in another order"},
      {"connected_components", "the whole for each"},
      {"count_connected_components", "one more"},
      {"volume", "a little more"},
      {"box", "a little larger"},
      {"overlapping_pairs", "none"},
      {"overlapping_pairs", "one more"},
      {"overlap", "a little more volume"},
      {"overlap", "a corner lost"},
      {"overlap", "a larger box"},
      {"count_linked_groups", "one more"},
      {"compare", "nothing is missing"},
      {"compare", "nothing lies outside"},
      {"compare", "nothing straddles"},
      {"compare", "beside no piece"},
      {"compare_disjoint", "nothing is missing"},
      {"compare_disjoint", "nothing lies outside"},
      {"compare_disjoint", "nothing straddles"},
      {"reaches_beyond", "the other answer"},
      {"holds", "the other answer"},
      {"inside", "one more"},
      {"touching", "one more"},
      {"for_each_edge", "one edge lost"},
      {"for_each_edge", "one edge twice as long"},
      {"boundary", "a corner moved"},
      {"boundary", "a face lost"},
      {"boundary", "a face turned round"},
      {"boundary", "a cycle begun elsewhere"},
  };
}

class LyingEngine final : public Engine {
 public:
  explicit LyingEngine(std::unique_ptr<Engine> honest) : honest_(std::move(honest)) {}

  /// From now on; `lie` must live as long as it is told.
  void tell(const Lie* lie) { lie_ = lie; }
  bool has_lied() const { return has_lied_; }

  std::string name() const override { return "liar"; }
  std::unique_ptr<Engine> another() const override { return honest_->another(); }

  Solid build(const SolidDescription& solid) override {
    Solid piece = honest_->build(solid);
    if (!lying("build")) return piece;
    if (is("nothing is there")) return nullptr;
    return honest_->moved(piece, is("the mirror image") ? Motion::reflection(Plane{{1, 0, 0}, 0}) : a_little_aside());
  }

  Halves cut(const Solid& piece, const Plane& plane) override {
    Halves halves = honest_->cut(piece, plane);
    if (!lying("cut")) return halves;
    if (is("halves exchanged")) std::swap(halves.positive, halves.negative);
    if (is("one half lost")) halves.negative = nullptr;
    if (is("the plane misses")) return {piece, nullptr};
    if (is("by a plane a little beside")) return honest_->cut(piece, {plane.normal, plane.offset + tiny()});
    return halves;
  }

  Solid moved(const Solid& piece, const Motion& motion) override {
    if (!lying("moved")) return honest_->moved(piece, motion);
    if (is("not at all")) return piece;
    return honest_->moved(piece, is("backwards") ? motion.inverse() : motion.then(a_little_aside()));
  }

  Solid joined(const std::vector<Solid>& pieces) override {
    if (!lying("joined")) return honest_->joined(pieces);
    std::vector<Solid> others = pieces;
    if (is("without the last")) {
      others.pop_back();
    } else {
      others.push_back(others.back());
    }
    return honest_->joined(others);
  }

  std::vector<Solid> connected_components(const Solid& piece) override {
    std::vector<Solid> parts = honest_->connected_components(piece);
    if (!lying("connected_components")) return parts;
    if (is("one too few")) parts.pop_back();
    if (is("in another order")) std::reverse(parts.begin(), parts.end());
    if (is("the whole for each")) parts.assign(parts.size(), piece);
    return parts;
  }

  std::size_t count_connected_components(const Solid& piece) override {
    return honest_->count_connected_components(piece) + (lying("count_connected_components") ? 1 : 0);
  }

  Number volume(const Solid& piece) override { return honest_->volume(piece) + (lying("volume") ? tiny() : Number(0)); }

  Box box(const Solid& piece) override {
    Box box = honest_->box(piece);
    if (lying("box")) box.maximum.z += tiny();
    return box;
  }

  std::size_t bits(const Solid& piece) override { return honest_->bits(piece); }

  std::vector<std::pair<std::size_t, std::size_t>> overlapping_pairs(const std::vector<Solid>& pieces,
                                                                     const std::vector<char>& suspect) override {
    auto pairs = honest_->overlapping_pairs(pieces, suspect);
    if (!lying("overlapping_pairs")) return pairs;
    if (is("none")) pairs.clear();
    if (is("one more") && pieces.size() > 1) pairs.emplace_back(pieces.size() - 2, pieces.size() - 1);
    return pairs;
  }

  Region overlap(const Solid& a, const Solid& b) override {
    Region region = honest_->overlap(a, b);
    if (!lying("overlap")) return region;
    if (is("a little more volume")) region.volume += tiny();
    if (is("a corner lost")) region.boundary.vertices.pop_back();
    if (is("a larger box")) region.box.minimum.x -= tiny();
    return region;
  }

  std::size_t count_linked_groups(const std::vector<Solid>& pieces) override {
    return honest_->count_linked_groups(pieces) + (lying("count_linked_groups") ? 1 : 0);
  }

  GoalComparison compare(const std::vector<Solid>& pieces, const std::vector<Solid>& goals) override {
    return bent("compare", honest_->compare(pieces, goals));
  }

  GoalComparison compare_disjoint(const std::vector<Solid>& pieces, const std::vector<Solid>& goals) override {
    return bent("compare_disjoint", honest_->compare_disjoint(pieces, goals));
  }

  bool reaches_beyond(const Solid& piece, const Plane& plane) override {
    return honest_->reaches_beyond(piece, plane) != lying("reaches_beyond");
  }

  bool holds(const Solid& piece, const Vector3& point) override { return honest_->holds(piece, point) != lying("holds"); }

  std::vector<char> inside(const std::vector<Solid>& pieces, const Solid& solid) override {
    return with_another("inside", honest_->inside(pieces, solid));
  }

  std::vector<char> touching(const std::vector<Solid>& pieces, const std::vector<Solid>& others) override {
    return with_another("touching", honest_->touching(pieces, others));
  }

  void for_each_edge(const Solid& piece, const std::function<void(const EdgeOfPiece&)>& use) override {
    const bool bend = lying("for_each_edge");
    bool first = true;
    honest_->for_each_edge(piece, [&](const EdgeOfPiece& edge) {
      const bool bend_this = bend && first;
      first = false;
      if (!bend_this || is("one edge twice as long")) use(edge);
      if (bend_this && is("one edge twice as long")) use(edge);
    });
  }

  Boundary boundary(const Solid& piece) override {
    Boundary boundary = honest_->boundary(piece);
    if (!lying("boundary")) return boundary;
    Facet& facet = boundary.facets.back();
    if (is("a corner moved")) boundary.vertices.back().z += tiny();
    if (is("a face lost")) boundary.facets.pop_back();
    if (is("a face turned round")) facet.plane = opposite(facet.plane);
    if (is("a cycle begun elsewhere"))
      std::rotate(facet.cycles.back().begin(), facet.cycles.back().begin() + 1, facet.cycles.back().end());
    return boundary;
  }

 private:
  static Number tiny() { return Number::fraction(1, 1000000000000000L) * Number::fraction(1, 1000000000000000L); }
  static Motion a_little_aside() { return Motion::translation({0, tiny(), 0}); }
  bool is(const std::string& name) const { return lie_->name == name; }

  bool lying(const std::string& operation) {
    if (lie_ == nullptr || lie_->operation != operation) return false;
    return has_lied_ = true;
  }

  /// The first that is left out is taken, too; or, where all are taken, the last is left out.
  std::vector<char> with_another(const std::string& operation, std::vector<char> chosen) {
    if (!lying(operation)) return chosen;
    const auto left_out = std::find(chosen.begin(), chosen.end(), 0);
    if (left_out != chosen.end()) {
      *left_out = 1;
    } else {
      chosen.back() = 0;
    }
    return chosen;
  }

  GoalComparison bent(const std::string& operation, GoalComparison comparison) {
    if (!lying(operation)) return comparison;
    if (is("nothing is missing")) comparison.missing.clear();
    if (is("nothing lies outside")) comparison.excess.clear();
    if (is("nothing straddles")) comparison.straddling.clear();
    if (is("beside no piece") && !comparison.missing.empty()) comparison.missing.front().pieces.clear();
    return comparison;
  }

  std::unique_ptr<Engine> honest_;
  const Lie* lie_ = nullptr;
  bool has_lied_ = false;
};

}  // namespace cutproof::test

// SPDX-License-Identifier: GPL-3.0-or-later
// An engine that hands everything on to the parts engine: tests override what is to break, or to be watched.
#pragma once

#include "plan/read_plan.hpp"
#include "solid/engine.hpp"
#include "verify/check.hpp"

#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace cutproof {

class WrappedEngine : public Engine {
 public:
  std::string name() const override { return inner_->name(); }
  std::unique_ptr<Engine> another() const override { return inner_->another(); }
  Solid build(const SolidDescription& solid) override { return inner_->build(solid); }
  Halves cut(const Solid& piece, const Plane& plane) override { return inner_->cut(piece, plane); }
  Solid moved(const Solid& piece, const Motion& motion) override { return inner_->moved(piece, motion); }
  Solid joined(const std::vector<Solid>& pieces) override { return inner_->joined(pieces); }
  std::vector<Solid> connected_components(const Solid& piece) override { return inner_->connected_components(piece); }
  Number volume(const Solid& piece) override { return inner_->volume(piece); }
  Box box(const Solid& piece) override { return inner_->box(piece); }
  std::size_t bits(const Solid& piece) override { return inner_->bits(piece); }
  std::vector<std::pair<std::size_t, std::size_t>> overlapping_pairs(const std::vector<Solid>& pieces,
                                                                     const std::vector<char>& suspect) override {
    return inner_->overlapping_pairs(pieces, suspect);
  }
  Region overlap(const Solid& a, const Solid& b) override { return inner_->overlap(a, b); }
  std::size_t count_linked_groups(const std::vector<Solid>& pieces) override { return inner_->count_linked_groups(pieces); }
  GoalComparison compare(const std::vector<Solid>& pieces, const std::vector<Solid>& goals) override {
    return inner_->compare(pieces, goals);
  }
  void for_each_edge(const Solid& piece, const std::function<void(const EdgeOfPiece&)>& use) override {
    inner_->for_each_edge(piece, use);
  }
  Boundary boundary(const Solid& piece) override { return inner_->boundary(piece); }

 private:
  std::unique_ptr<Engine> inner_ = make_parts_engine();
};

inline CheckResult check_text(const std::string& text, Engine& engine) {
  return check_plan(read_plan(text, {}), engine, {});
}

}  // namespace cutproof

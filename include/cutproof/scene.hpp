// SPDX-License-Identifier: GPL-3.0-or-later
// A plan as a scene for programs that draw: what pieces are made of, and where it lies after each step.
#pragma once

#include "cutproof/geometry.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace cutproof {

/// A set of points that no cut of the plan parts, as far as the run came, where it lies at the start.
struct SceneBlock {
  std::vector<CornerData> corners;  ///< sorted by x, then y, then z
  std::vector<FacetData> facets;
  std::string end_piece;  ///< the piece that it belongs to at the end, or where the run ended
};

/// Where a block lies from a state on: a point p of the block, given at the start, is at rows * p + shift. Each number is
/// the nearest double to the exact one.
struct ScenePose {
  std::size_t block = 0;
  std::optional<std::array<double, 12>> motion;  ///< three rows and a shift; none while the block is not there
};

/// A segment in the place where it lies in a state.
using SceneSegment = std::array<std::array<double, 3>, 2>;

struct ScenePiece {
  std::string name;
  std::vector<std::size_t> blocks;
  std::vector<SceneSegment> edges;  ///< its true edges, where it has several blocks; else those of its block
};

/// The bench after a step, as a difference to the state before.
struct SceneState {
  int step = 0;                    ///< 0: the start
  std::string kind, title;         ///< of the step; empty for the start
  int line = 0;                    ///< of the step
  std::vector<ScenePose> poses;    ///< of blocks that moved; in the first state of all
  std::vector<std::string> gone;   ///< names that were on the bench and are not any more
  std::vector<ScenePiece> pieces;  ///< that are new, have other blocks, or moved and have several
};

struct SceneGoal {
  std::string name;
  std::vector<CornerData> corners;
  std::vector<FacetData> facets;
};

/// What a finding speaks of: where pieces overlap, or what is missing or lies outside the goal.
struct SceneRegion {
  std::string kind;  ///< `overlap`, `missing` or `excess`
  int step = 0;
  std::vector<std::string> pieces;
  std::vector<CornerData> corners;
  std::vector<FacetData> facets;
};

struct Scene {
  std::vector<SceneBlock> blocks;
  std::vector<SceneState> states;  ///< the start first; only steps that were carried out
  std::vector<SceneGoal> goals;
  std::vector<SceneRegion> regions;  ///< `Finding::region` is an index here
};

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// Solids as data: what a check shows of its pieces when it is asked to (`CheckSettings::geometry`). The same solid gives the
// same data, whatever engine found it.
#pragma once

#include "cutproof/exact.hpp"

#include <array>
#include <cstddef>
#include <string>
#include <vector>

namespace cutproof {

struct CornerData {
  ExactPoint exact;
  std::array<double, 3> nearest = {};  ///< each coordinate rounded to the nearest double: for drawing, never for a decision
};

/// A planar face, given by simple cycles of corners (indices into `SolidData::corners`): the outer one first,
/// counterclockwise seen from outside the solid, then those of holes, clockwise.
struct FacetData {
  std::vector<std::vector<std::size_t>> cycles;
};

/// The dihedral angle of the solid at an edge, between 0 and 360 degrees and never 180.
struct EdgeAngle {
  std::string exact;    ///< an expression in the field: `45 deg`, `acos(1/3)`
  std::string cosine;   ///< exact
  std::string degrees;  ///< decimal, at least 20 significant digits
  bool reflex = false;  ///< greater than 180 degrees
};

/// A true edge: a maximal straight segment along which the same faces meet, none of them in one plane.
struct EdgeData {
  std::size_t from = 0, to = 0;   ///< corners, from < to
  Value length;                   ///< exact, also where it is no number of the plan's field
  std::vector<EdgeAngle> angles;  ///< one; more where the solid touches itself along the edge
};

/// A solid by its true boundary: neighbouring faces in one plane are one face, corners in the middle of straight edges are
/// gone. Corners are sorted by x, then y, then z; cycles begin with their smallest corner; facets and edges are sorted.
struct SolidData {
  std::vector<CornerData> corners;
  std::vector<FacetData> facets;
  std::vector<EdgeData> edges;
};

/// A solid under a name, as an index into `CheckGeometry::solids`.
struct NamedSolidData {
  std::string name;
  std::size_t solid = 0;
};

/// The pieces on the bench after a step, in the bench's order.
struct BenchData {
  int step = 0;  ///< 0: the start, before the first step
  std::vector<NamedSolidData> pieces;
};

/// Where pieces overlap, or what is missing from the goal or lies outside it: the set of points that a finding speaks of.
struct RegionData {
  std::string code;                 ///< the finding's: `overlap`, `missing` or `excess`
  int step = 0;                     ///< the finding's
  std::vector<std::string> pieces;  ///< the finding's
  std::size_t solid = 0;            ///< index into `CheckGeometry::solids`
};

/// What geometry a check is to keep. Whatever is not asked for costs nothing.
struct GeometryWish {
  bool start = false, goals = false;
  bool end = false;         ///< the pieces at the end
  bool every_step = false;  ///< the pieces after each step, and before the first
  std::vector<int> steps;   ///< the pieces after these steps; 0: before the first. Steps that there are not are passed over
  bool regions = false;     ///< of all listed findings that have one
  /// Asks for what either asks for.
  void add(const GeometryWish& other);
  bool any() const { return start || goals || end || every_step || !steps.empty() || regions; }
};

inline void GeometryWish::add(const GeometryWish& other) {
  start = start || other.start;
  goals = goals || other.goals;
  end = end || other.end;
  every_step = every_step || other.every_step;
  steps.insert(steps.end(), other.steps.begin(), other.steps.end());
  regions = regions || other.regions;
}

/// The geometry that was asked for, as far as the run came. A piece that stays as it is from step to step stands once.
struct CheckGeometry {
  std::vector<SolidData> solids;
  std::vector<NamedSolidData> start, goals;
  std::vector<NamedSolidData> end;  ///< empty when the run did not reach its end
  std::vector<BenchData> after;     ///< by increasing step; only steps that were carried out
  std::vector<RegionData> regions;  ///< in the order in which they were found; `Finding::region` is an index here
};

}  // namespace cutproof

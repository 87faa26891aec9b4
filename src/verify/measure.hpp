// SPDX-License-Identifier: GPL-3.0-or-later
// What a solid is: volume, area, counts, edges by length and dihedral angle, Dehn invariant; and the audit of its angles.
#pragma once

#include "cutproof/result.hpp"
#include "dehn/invariant.hpp"
#include "solid/engine.hpp"

#include <utility>
#include <vector>

namespace cutproof {

/// Every sector of every true edge of a canonical boundary (Engine::boundary), each counting `times`.
std::vector<CountedEdge> counted_edges(const Boundary& canonical, int times = 1);

/// Which dihedral angles edges may have. Sectors are counted: an edge where the solid touches itself counts once for each.
struct AngleRules {
  std::vector<Angle> allowed;
  /// Exactly so many edges have this angle, whatever `allowed` says about it.
  std::vector<std::pair<Angle, long>> exceptions;
};

/// Passes iff every edge has an allowed angle or an exception's, and each exception's number is exact. Lists the edges that
/// break the rules, in the order of their corners. Angles are compared exactly.
/// In dimension 2 what is audited are the angles at the corners of a figure.
AuditResult audit_angles(const Boundary& canonical, const AngleRules& rules, int dimension = 3);

/// The box around a canonical boundary, and its centroid.
ExtentResult extent_of(const Boundary& boundary, int dimension = 3);

/// Measures a piece; the engine that made it gives its true boundary, which is the same whatever the engine. A piece that
/// was joined from others may overlap itself: then what it covers is measured, once. Fills everything that depends on the
/// solid alone; the caller adds file, names and field. `answer` is `no` iff an audit was asked for and fails. Numbers are
/// elements of `field` or of fields below it.
MeasureResult measure(Engine& engine, const Solid& piece, const Field& field, const AngleRules* rules = nullptr,
                      bool may_overlap_itself = false, int dimension = 3);

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// Solids for tests of measuring and comparing.
#pragma once

#include "number/tower.hpp"
#include "report/formats.hpp"
#include "solid/engine.hpp"
#include "verify/compare.hpp"
#include "verify/measure.hpp"

#include <string>
#include <vector>

namespace cutproof::test {

SolidPointer hull(std::vector<Vector3> points);
SolidPointer box(const Number& a, const Number& b, const Number& c);
/// A closed surface of corners and cycles, counterclockwise from outside.
SolidPointer surface(const std::vector<Vector3>& corners, const std::vector<std::vector<int>>& faces);
/// An OFF file with integer coordinates.
SolidPointer off_file(const std::string& name);
/// Twelve corners, cyclic permutations of (+-2, +-1, 0): B. Jessen, Nordisk Mat. Tidskr. 15 (1967) 90-96.
SolidPointer jessen_icosahedron();
SolidPointer regular_tetrahedron();  ///< (1,1,1), ...: edge 2*sqrt(2), volume 8/3
SolidPointer regular_octahedron();   ///< (+-2,0,0), ...: edge 2*sqrt(2), volume 32/3

/// The rules `90 deg, 270 deg`, with exceptions.
AngleRules right_angles(std::vector<std::pair<Angle, long>> exceptions = {});

/// Writes a report for the re-checker in the other language.
void write_report(const std::string& name, const MeasureResult& result);
void write_report(const std::string& name, const CompareResult& result);

}  // namespace cutproof::test

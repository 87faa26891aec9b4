// SPDX-License-Identifier: GPL-3.0-or-later
// A baseline, never a part of the tool: the check of a rational plan as one would write it with CGAL's Nef polyhedra at
// once. Usage: plain_nef PLAN, or plain_nef --cuts-only PLAN. Exact, all pairs, no filter of its own. The kernel is the one
// that CGAL recommends for Nef polyhedra; Cartesian<Gmpq> without its filters is slower.
#include "bench_plan.hpp"

#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/Nef_polyhedron_3.h>
#include <CGAL/Polyhedron_3.h>
#include <CGAL/convex_hull_3.h>

#include <iostream>
#include <map>

namespace {

using namespace cutproof;
using Kernel = CGAL::Exact_predicates_exact_constructions_kernel;
using Nef = CGAL::Nef_polyhedron_3<Kernel>;
using Pieces = std::map<std::string, Nef>;

Kernel::FT number(const Number& value) {
  Rational rational;
  value.get_rational(rational);
  char* text = fmpq_get_str(nullptr, 10, rational);
  const Kernel::FT result{Kernel::FT::ET(text)};
  flint_free(text);
  return result;
}

Kernel::Plane_3 plane(const Plane& p) {
  return {number(p.normal.x), number(p.normal.y), number(p.normal.z), -number(p.offset)};
}

Kernel::Aff_transformation_3 transformation(const Motion& m) {
  const auto& r = m.rows();
  return {number(r[0].x), number(r[0].y),      number(r[0].z), number(m.shift().x), number(r[1].x), number(r[1].y),
          number(r[1].z), number(m.shift().y), number(r[2].x), number(r[2].y),      number(r[2].z), number(m.shift().z)};
}

Nef moved(Nef solid, const Motion& motion) {
  solid.transform(transformation(motion));
  return solid;
}

Nef build(const SolidDescription& solid) {
  if (const auto boundary = convex_boundary(solid)) {
    std::vector<Kernel::Point_3> points;
    for (const Vector3& p : boundary->vertices) points.emplace_back(number(p.x), number(p.y), number(p.z));
    CGAL::Polyhedron_3<Kernel> polyhedron;
    CGAL::convex_hull_3(points.begin(), points.end(), polyhedron);
    return Nef(polyhedron);
  }
  if (const auto* copy = std::get_if<PlacedDescription>(&solid.kind)) return moved(build(*copy->solid), copy->motion);
  const auto& combination = std::get<BooleanDescription>(solid.kind);
  Nef result = build(*combination.operands.front());
  for (std::size_t i = 1; i < combination.operands.size(); ++i) {
    const Nef next = build(*combination.operands[i]);
    result = combination.kind == BooleanKind::union_of_all          ? result + next
             : combination.kind == BooleanKind::intersection_of_all ? result * next
                                                                    : result - next;
  }
  return result.regularization();
}

void apply(const CutStep& step, Pieces& pieces) {
  std::map<std::string, Nef> parts;
  for (const std::string& name : taken(step.pieces, pieces)) parts.insert(pieces.extract(name));
  for (const Plane& by : step.planes) {
    Pieces next;
    for (const auto& [name, piece] : parts) {
      // CGAL takes the half-space on a plane's negative side.
      const Nef above = piece.intersection(plane(opposite(by)), Nef::OPEN_HALFSPACE).closure();
      const Nef below = piece.intersection(plane(by), Nef::OPEN_HALFSPACE).closure();
      if (above.is_empty() || below.is_empty()) {
        next.emplace(name, piece);
      } else {
        next.emplace(step.has_names ? step.positive.name : name + ".1", above);
        next.emplace(step.has_names ? step.negative.name : name + ".2", below);
      }
    }
    parts = std::move(next);
  }
  pieces.merge(parts);
}

void apply(const MoveStep& step, Pieces& pieces) {
  for (const MoveEntry& entry : step.entries)
    for (const std::string& name : taken(entry.pieces, pieces)) pieces[name] = moved(pieces[name], entry.motion);
}

bool all_disjoint(const Pieces& pieces) {
  for (auto a = pieces.begin(); a != pieces.end(); ++a)
    for (auto b = pieces.begin(); b != a; ++b)
      if (!(a->second.interior() * b->second.interior()).is_empty()) return false;
  return true;
}

Nef union_of(std::vector<Nef> solids) {
  for (; solids.size() > 1; solids.resize((solids.size() + 1) / 2))
    for (std::size_t i = 0; 2 * i < solids.size(); ++i)
      solids[i] = 2 * i + 1 < solids.size() ? solids[2 * i] + solids[2 * i + 1] : solids[2 * i];
  return solids.front();
}

bool check(const ExactPlan& plan, bool cuts_only) {
  Pieces pieces;
  for (const NamedSolid& start : plan.start) pieces.emplace(start.name, build(*start.solid));
  if (!all_disjoint(pieces)) return false;
  for (const Step& step : plan.steps) {
    if (const auto* cut = std::get_if<CutStep>(&step.action)) {
      apply(*cut, pieces);
    } else if (!cuts_only) {
      apply(std::get<MoveStep>(step.action), pieces);
      if (!all_disjoint(pieces)) return false;
    }
  }
  if (cuts_only) return true;
  std::vector<Nef> solids, goals;
  for (const auto& piece : pieces) solids.push_back(piece.second);
  for (const NamedSolid& goal : plan.goals) goals.push_back(build(*goal.solid));
  return union_of(solids).regularization() == union_of(goals);
}

}  // namespace

int main(int count, char** arguments) {
  const bool cuts_only = count == 3 && arguments[1] == std::string("--cuts-only");
  if (count != 2 && !cuts_only) return 2;
  const bool right = check(read_bench_plan(arguments[count - 1]), cuts_only);
  std::cout << (right ? "ok\n" : "wrong\n");
  return right ? 0 : 1;
}

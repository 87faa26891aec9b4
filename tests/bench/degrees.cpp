// SPDX-License-Identifier: GPL-3.0-or-later
// What a solid costs in fields of high degree, part by part: reading it, its true boundary, the decision about its Dehn
// invariant and the check of the certificate. CPU seconds, each part once, on the parts engine.
// Usage: degrees
#include "dehn/invariant.hpp"
#include "plan/read_plan.hpp"
#include "solid/engine.hpp"
#include "verify/measure.hpp"

#include <cstdio>
#include <ctime>
#include <string>
#include <vector>

namespace cutproof {
namespace {

double now() {
  timespec time;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
  return static_cast<double>(time.tv_sec) + 1e-9 * static_cast<double>(time.tv_nsec);
}

struct Case {
  const char* name;
  const char* let;
};

/// Numbers a to d that make the field; all of them stand in the corners.
const std::vector<Case> cases = {
    {"three square roots", "a: sqrt(2), b: sqrt(3), c: sqrt(5), d: 1"},
    {"cos(pi/7), two square roots", "a: sqrt(2), b: sqrt(3), c: 2, d: cos(pi/7)"},
    {"four square roots", "a: sqrt(2), b: sqrt(3), c: sqrt(5), d: sqrt(7)"},
    {"cos(pi/7), three square roots", "a: sqrt(2), b: sqrt(3), c: sqrt(5), d: cos(pi/7)"},
    {"cos(pi/90), sqrt(7)", "a: sqrt(7), b: cos(pi/90), c: 2*cos(pi/5), d: sin(pi/9)"},
};

/// A hull of five points; a block that leans; both in the field of the case.
const std::string solids =
    "solids:\n  hull: { convex-hull: [[0, 0, 0], [\"a + d\", 0, 0], [0, \"b + d\", 1], [\"c*d\", 1, c], [a, b, \"c + 2\"]] "
    "}\n"
    "  block: { prism: { base: [[0, 0], [\"2 + a\", 0], [\"2 + a\", d], [0, \"b + d\"]], along: [d, 0, c] } }\n";

void measure_case(const Case& each, const std::string& solid) {
  const double begin = now();
  ReadLimits limits;
  const ReadSolid read = read_solid(std::string("cutproof: 1\nlet: { ") + each.let + " }\n" + solids, solid, limits);
  const double read_end = now();
  const std::unique_ptr<Engine> engine = make_parts_engine();
  const Solid piece = engine->build(*read.solid);
  const double built = now();
  const Boundary boundary = engine->boundary(piece);
  const double bounded = now();
  const Field& field = read.tower->top();
  const DehnInvariant invariant = invariant_of(counted_edges(boundary), field);
  const double decided = now();
  const std::string fault = fault_in_certificate(invariant);
  const double checked = now();
  const DehnValue value = to_value(invariant);
  const double told = now();
  std::printf("%6d  %-32s %-6s %9.3f %9.3f %9.3f %9.3f %9.3f %9.3f%s\n", field.degree(), each.name, solid.c_str(),
              read_end - begin, built - read_end, bounded - built, decided - bounded, checked - decided,
              told - checked - (checked - decided), fault.empty() ? "" : "  FAULT");
}

}  // namespace
}  // namespace cutproof

int main() {
  std::printf("%6s  %-32s %-6s %9s %9s %9s %9s %9s %9s\n", "degree", "field", "solid", "reading", "building", "boundary",
              "decision", "check", "telling");
  for (const cutproof::Case& each : cutproof::cases)
    for (const char* solid : {"block", "hull"}) cutproof::measure_case(each, solid);
}

// SPDX-License-Identifier: GPL-3.0-or-later
// Somebody else's program: checks a plan that holds and one that cannot be read, through the public headers alone.
#include <cutproof/check.hpp>
#include <cutproof/report.hpp>
#include <cutproof/version.hpp>

#include <iostream>

int main() {
  const char* cube = R"(cutproof: 1
let: { a: sqrt(2) }
start: { A: { box: { size: [a, a, a] } } }
steps:
  - { cut: A, by: { equation: "x = a/2" }, into: [right, left] }
  - move: { left: { translation: [a, 0, 0] } }
goal: { box: { size: [a, a, a], at: [a/2, 0, 0] } }
)";
  int told = 0;
  const cutproof::CheckResult good =
      cutproof::check_plan_text(cube, "cube", {}, [&](const cutproof::CheckProgress&) { ++told; });
  std::cout << cutproof::outcome_word(good.outcome) << ' ' << cutproof::exit_code(good.outcome) << '\n';
  std::cout << cutproof::terminal_report(good);
  const cutproof::CheckResult bad = cutproof::check_plan_text("cutproof: 1\n", "empty");
  std::cout << cutproof::outcome_word(bad.outcome) << ' ' << cutproof::exit_code(bad.outcome) << '\n';
  std::cout << cutproof::json_report({bad}) << CUTPROOF_VERSION << '\n';
  return told >= 4 ? 0 : 1;
}

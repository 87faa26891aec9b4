// SPDX-License-Identifier: GPL-3.0-or-later
// A second implementation for tests only: real numbers to 300 digits, and integer relations among angles by lattice
// reduction (PARI/GP's lindep). It proves nothing; it must agree with the exact decision. Skipped where gp is not installed.
#include "dehn/torsion.hpp"
#include "number/flint.hpp"
#include "number/tower.hpp"
#include "support.hpp"

#include <catch2/catch.hpp>

#include <unistd.h>
#include <cstdio>
#include <cstdlib>
#include <fstream>

using namespace cutproof;
using namespace cutproof::test;

namespace {

constexpr int digits = 300;
constexpr std::size_t most_angles = 20;

/// dzero(L, A): is the sum of L[i] (x) A[i] zero? Angles are expressed in earlier ones and pi where small integers do it.
constexpr const char* program = R"(
default(realprecision, 308);
dzero(L, A) = {
  my(p = List(), s = List(), v, r, m);
  for (j = 1, #A,
    v = concat([Vec(p), [Pi, A[j]]]);
    m = #v;
    r = lindep(v);
    if (#r == m && r[m] != 0 && vecmax(abs(r)) < 10^(150 / m) && abs(sum(i = 1, m, r[i] * v[i])) < 1e-250,
      for (i = 1, #p, s[i] -= L[j] * r[i] / r[m])
    ,
      listput(p, A[j]); listput(s, L[j])));
  for (i = 1, #s, if (abs(s[i]) > 1e-100, return (0)));
  1
};
)";

std::string decimal(const Number& number) {
  Ball ball;
  number.enclose(ball, 1200);
  char* text = arb_get_str(ball, digits + 8, ARB_STR_NO_RADIUS);
  std::string result = text;
  flint_free(text);
  const auto exponent = result.find('e');
  if (exponent != std::string::npos) result.replace(exponent, 1, "E");
  return "(" + result + ")";
}

struct Questions {
  std::string text = program;
  std::vector<bool> ours;
  void ask(const std::vector<AngleTerm>& terms) {
    if (terms.empty() || terms.size() > most_angles) return;
    std::string lengths, angles;
    for (const AngleTerm& term : terms) {
      const std::string tangent = "sqrt" + decimal(term.tangent_squared);
      lengths += (lengths.empty() ? "" : ",") + decimal(term.coefficient) + "*" + tangent;
      angles += (angles.empty() ? "" : ",") + ("atan(" + tangent + ")");
    }
    text += "print(dzero([" + lengths + "],[" + angles + "]))\n";
    ours.push_back(decide(terms).zero);
  }
  void ask(const std::vector<CountedEdge>& edges, const Field& field) {
    const auto table = std::make_shared<AngleTable>(field);
    const DehnSum sum = sum_of(table, edges);
    std::vector<AngleTerm> terms;
    for (const auto& [angle, coefficient] : sum.terms()) terms.push_back({table->tangent_squared(angle), coefficient});
    ask(terms);
  }
};

std::vector<bool> answers(const std::string& script) {
  char name[] = "/tmp/cutproof-gp-XXXXXX";
  const int handle = mkstemp(name);
  REQUIRE(handle >= 0);
  close(handle);
  std::ofstream(name) << script << "\nquit\n";
  std::vector<bool> result;
  FILE* output = popen(("gp -q -f -s 64M " + std::string(name) + " < /dev/null 2>&1").c_str(), "r");
  REQUIRE(output != nullptr);
  char line[4096];
  while (std::fgets(line, sizeof line, output) != nullptr) {
    INFO(line);
    REQUIRE((line[0] == '0' || line[0] == '1'));
    result.push_back(line[0] == '1');
  }
  pclose(output);
  std::remove(name);
  return result;
}

}  // namespace

std::optional<bool> cutproof::test::second_opinion(const std::vector<CountedEdge>& edges, const Field& field) {
  static const bool installed = std::system("gp --version-short > /dev/null 2>&1") == 0;
  if (!installed) return {};
  Questions questions;
  questions.ask(edges, field);
  if (questions.ours.empty()) return {};
  const std::vector<bool> theirs = answers(questions.text);
  REQUIRE(theirs.size() == 1);
  return theirs.front();
}

TEST_CASE("Integer relations to 300 digits agree with the exact decision", "[dehn][gp]") {
  if (std::system("gp --version-short > /dev/null 2>&1") != 0) {
    WARN("gp is not installed: nothing was compared");
    return;
  }
  Questions questions;
  std::mt19937 random(31415);
  const Field* fields[] = {&rationals(), &root_two(), &cube_root_two(), &fourth_degree()};
  for (int round = 0; round < 60; ++round) {
    const Field& k = *fields[round % 4];
    std::vector<Vector3> points;
    for (int i = 0; i < 5; ++i) points.push_back(random_vector(random, k, 4));
    if (dot(cross(points[1] - points[0], points[2] - points[0]), points[3] - points[0]).is_zero()) continue;
    questions.ask(edges_of(hull(points)), k);
    // minus its two parts, cut through an edge
    const Vector3 inner = Number::fraction(1, 2) * (points[2] + points[3]);
    const Vector3 normal = cross(points[1] - points[0], inner - points[0]);
    const auto parts = halves(points, {normal, dot(normal, points[0])});
    if (parts.empty()) continue;
    std::vector<CountedEdge> edges = edges_of(hull(points));
    for (const auto& part : parts)
      for (const CountedEdge& each : edges_of(hull(part), -1)) edges.push_back(each);
    questions.ask(edges, k);
    const Number p = random_number(random, k, 5), q = random_number(random, k, 5);
    const Vector3 a{p, q, q}, b{q, p, q}, c{q, q, p}, zero{Number(0L, k), Number(0L, k), Number(0L, k)};
    if (!dot(cross(a, b), c).is_zero()) questions.ask(edges_of(hull({zero, a, a + b, a + b + c})), k);
    // angles with relations of the second order: products of random numbers
    const Number r(round % 3 + 1, k);
    std::vector<Direction> base;
    for (int i = 0; i < 3; ++i)
      base.push_back({random_number(random, k, 4) + Number(6L, k), random_number(random, k, 4) + Number(7L, k)});
    std::vector<AngleTerm> terms;
    for (const auto& exponents : std::vector<std::vector<long>>{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {2, 1, 0}, {1, -1, 3}}) {
      const Direction each = product(base, exponents, r);
      if (each.x.is_zero() || each.y.is_zero()) continue;
      const Number scale = divide(each.y, each.x);
      const long lengths[] = {-2, -1, 0, 1, 0};  // 2 phi_1 + phi_2 = phi_4
      const Number length(lengths[terms.size() % 5], k);
      terms.push_back({r * square(scale), divide(length, scale)});
    }
    questions.ask(terms);
    if (!terms.empty()) {
      terms[0].coefficient += Number(1L, k);
      questions.ask(terms);
    }
  }
  const Field& k = cube_root_two();
  const Number c = Number::generator(k), one(1L, k), two(2L, k);
  const Number h = divide(two - c, two + c - c * c), a = divide(two - c, one + c - c * c);
  questions.ask({{square(h), divide(two, h)}, {square(a), divide(-one, a)}});
  questions.ask({{square(h), divide(two, h)}, {square(a), divide(one, a)}});
  const std::vector<bool> theirs = answers(questions.text);
  REQUIRE(theirs.size() == questions.ours.size());
  std::size_t zeros = 0;
  for (std::size_t i = 0; i < theirs.size(); ++i) {
    INFO("question " << i);
    CHECK(theirs[i] == questions.ours[i]);
    zeros += theirs[i] ? 1 : 0;
  }
  INFO(theirs.size() << " questions, " << zeros << " zeros");
  CHECK(zeros > 60);
  CHECK(theirs.size() - zeros > 60);
}

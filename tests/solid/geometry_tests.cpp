// SPDX-License-Identifier: GPL-3.0-or-later
// Laws of planes and motions, over fields of every degree that the collection has.
#include "zoo/zoo.hpp"

#include "number/print.hpp"
#include "number/tower.hpp"

#include <catch2/catch.hpp>

#include <random>

using namespace cutproof;

namespace {

class Random {
 public:
  Random(unsigned seed, int degree) : engine_(seed), generator_(zoo::generator_of_degree(degree)) {}
  long upto(long bound) { return static_cast<long>(engine_() % static_cast<unsigned long>(2 * bound + 1)) - bound; }
  Number number() {
    return Number::fraction(upto(9), 1 + std::abs(upto(3))) + Number(upto(2)) * generator_ +
           Number(upto(1)) * generator_ * generator_;
  }
  Vector3 vector() { return {number(), number(), number()}; }
  Vector3 direction() {
    while (true) {
      const Vector3 v = vector();
      if (!is_zero(v)) return v;
    }
  }
  /// A rotation from a quaternion (1, q): no root is needed. Sometimes a reflection follows.
  Motion motion() {
    const Vector3 q = direction();
    const Number length = dot(q, q), norm = Number(1) + length;
    const Motion turn = Motion::rotation(vector(), q, divide(Number(1) - length, norm), divide(Number(2), norm));
    const Motion moved = turn.then(Motion::translation(vector()));
    return upto(2) == 0 ? moved.then(Motion::reflection({direction(), number()})) : moved;
  }

 private:
  std::mt19937 engine_;
  Number generator_;
};

bool same(const Motion& a, const Motion& b) {
  return a.rows() == b.rows() && a.shift() == b.shift() && a.is_proper() == b.is_proper();
}

template <class Use>
void for_each_case(int cases, Use use) {
  for (const int degree : {1, 2, 3, 4, 8})
    for (int i = 0; i < cases; ++i) {
      const unsigned seed = 1000u * static_cast<unsigned>(degree) + static_cast<unsigned>(i);
      INFO("degree " << degree << ", seed " << seed);
      Random random(seed, degree);
      use(random);
    }
}

std::string message_of_map(const std::array<Vector3, 3>& from, const std::array<Vector3, 3>& to) {
  try {
    Motion::map(from, to);
  } catch (const InvalidInput& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("a motion keeps distances and turns, and its inverse undoes it", "[geometry]") {
  for_each_case(40, [](Random& random) {
    const Motion a = random.motion(), b = random.motion();
    const Vector3 p = random.vector(), q = random.vector(), r = random.vector();
    CHECK(dot(a(p) - a(q), a(p) - a(q)) == dot(p - q, p - q));
    CHECK(a.then(b)(p) == b(a(p)));
    CHECK(a.then(a.inverse()).is_identity());
    CHECK(a.inverse()(a(p)) == p);
    CHECK(a.then(b).is_proper() == (a.is_proper() == b.is_proper()));
    const Vector3 turned = cross(a.direction(q - p), a.direction(r - p)), image = a.direction(cross(q - p, r - p));
    CHECK(turned == (a.is_proper() ? image : -image));
    CHECK(same(a, Motion(a.rows(), a.shift())));
  });
}

TEST_CASE("a plane moves with its points and keeps their sides", "[geometry]") {
  for_each_case(40, [](Random& random) {
    const Plane plane{random.direction(), random.number()};
    const Motion motion = random.motion();
    const Vector3 p = random.vector();
    CHECK(side_of(motion(plane), motion(p)) == side_of(plane, p));
    CHECK(side_of(opposite(plane), p) == -side_of(plane, p));
    CHECK(side_of(reduced(plane), p) == evaluate(plane, p).sign());
    const Motion mirror = Motion::reflection(plane);
    CHECK(side_of(plane, mirror(p)) == -side_of(plane, p));
    CHECK(mirror.then(mirror).is_identity());
    CHECK_FALSE(mirror.is_proper());
    const Vector3 on = p - divide(evaluate(plane, p), dot(plane.normal, plane.normal)) * plane.normal;
    CHECK(side_of(plane, on) == 0);
    CHECK(mirror(on) == on);
    bool same_side = false;
    const Number k = divide(Number(1), random.direction().x + Number(1000));
    CHECK(coincide(plane, {k * plane.normal, k * plane.offset}, &same_side));
    CHECK(same_side);
    CHECK(coincide(plane, opposite(plane), &same_side));
    CHECK_FALSE(same_side);
    CHECK_FALSE(coincide(plane, {plane.normal, plane.offset + k}));
  });
}

TEST_CASE("sides are decided however near a point is", "[geometry]") {
  Number tiny(1);
  for (int i = 0; i < 200; ++i) tiny *= Number::fraction(1, 1000);
  const Number& g = zoo::generator_of_degree(4);
  const Plane plane{{g, g * g, Number(1)}, g * g * g};
  const Vector3 on{0, g, 0};
  CHECK(side_of(plane, on) == 0);
  CHECK(side_of(plane, on + Vector3{0, 0, tiny}) == 1);
  CHECK(side_of(plane, on - Vector3{tiny, 0, 0}) == -1);
}

TEST_CASE("reduced planes have coprime integers over Q", "[geometry]") {
  const Plane plane = reduced({{Number::fraction(2, 3), Number::fraction(-4, 5), Number(0)}, Number::fraction(6, 7)});
  CHECK(to_exact(plane.normal) == "[35, -42, 0]");
  CHECK(to_exact(plane.offset) == "45");
}

TEST_CASE("a map of three points is found again from a motion", "[geometry]") {
  for_each_case(40, [](Random& random) {
    const Motion motion = random.motion();
    const std::array<Vector3, 3> from = {random.vector(), random.vector(), random.vector()};
    if (is_zero(cross(from[1] - from[0], from[2] - from[0]))) return;
    const Motion found = Motion::map(from, {motion(from[0]), motion(from[1]), motion(from[2])});
    CHECK(found.is_proper());
    for (const Vector3& p : from) CHECK(found(p) == motion(p));
    if (motion.is_proper()) CHECK(same(found, motion));
  });
}

TEST_CASE("a map that is not rigid names the points and both distances", "[geometry]") {
  const Vector3 o{0, 0, 0}, x{1, 0, 0}, y{0, 1, 0};
  CHECK(message_of_map({o, x, y}, {o, x, {0, 2, 0}}) ==
        "this map of points is not rigid: the first and the third point, [0, 0, 0] and [0, 1, 0], have the distance 1, but "
        "their "
        "images, [0, 0, 0] and [0, 2, 0], have the distance 2");
  CHECK(message_of_map({o, x, y}, {o, x, {0, -1, 0}}).empty());
  CHECK_THAT(message_of_map({o, x, {2, 0, 0}}, {o, y, {0, 2, 0}}), Catch::Contains("are in line"));
  CHECK_THAT(message_of_map({o, x, y}, {o, x, {1, 1, 0}}), Catch::Contains("have the distance sqrt(2)"));
}

TEST_CASE("what has no meaning is refused", "[geometry]") {
  const Vector3 o{0, 0, 0}, x{1, 0, 0};
  CHECK_THROWS_AS(plane_through(o, x, {2, 0, 0}), InvalidInput);
  CHECK_THROWS_AS(Motion::rotation(o, o, 1, 0), InvalidInput);
  CHECK_THROWS_AS(Motion::rotation(o, x, Number::fraction(3, 5), Number::fraction(3, 5)), InvalidInput);
  CHECK_THROWS_AS(Motion({Vector3{1, 0, 0}, Vector3{0, 1, 0}, Vector3{0, 0, 2}}, o), InvalidInput);
  CHECK_THROWS_AS(Motion::reflection({o, 1}), InvalidInput);
}

TEST_CASE("a quarter turn about z is right-handed", "[geometry]") {
  CHECK(Motion::rotation({1, 0, 0}, {0, 0, 2}, 0, Number::fraction(1, 2))(Vector3{2, 0, 5}) == Vector3{1, 1, 5});
  // 120 degrees about (1,1,1): sine/length = 1/2
  CHECK(Motion::rotation({0, 0, 0}, {1, 1, 1}, Number::fraction(-1, 2), Number::fraction(1, 2))(Vector3{1, 0, 0}) ==
        Vector3{0, 1, 0});
}

TEST_CASE("aligning takes a point, a ray and a side, whatever the distances", "[geometry]") {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    INFO("seed " << seed);
    FieldTower tower;
    std::mt19937 random(seed);
    const auto point = [&] {
      const auto coordinate = [&] { return Number(static_cast<long>(random() % 7) - 3); };
      return Vector3{coordinate(), coordinate(), coordinate()};
    };
    const std::array<Vector3, 3> from = {point(), point(), point()}, to = {point(), point(), point()};
    const Vector3 u = from[1] - from[0], v = to[1] - to[0];
    const Vector3 n = cross(u, from[2] - from[0]), m = cross(v, to[2] - to[0]);
    if (is_zero(n) || is_zero(m)) {
      CHECK_THROWS_AS(Motion::align(from, to, Number(1), Number(1)), InvalidInput);
      continue;
    }
    const Number lengths = tower.square_root(dot(u, u) * dot(v, v)), areas = tower.square_root(dot(n, n) * dot(m, m));
    const Motion motion = Motion::align(from, to, tower.lifted(lengths), areas);
    CHECK(motion.is_proper());
    CHECK(motion(from[0]) == to[0]);
    const Vector3 along = motion(from[1]) - to[0], across = motion(from[2]) - to[0];
    CHECK(is_zero(cross(along, v)));
    CHECK(dot(along, v).sign() > 0);
    const Vector3 area = cross(v, across);
    CHECK(is_zero(cross(area, m)));
    CHECK(dot(area, m).sign() > 0);
  }
}

// SPDX-License-Identifier: GPL-3.0-or-later
// Congruence against brute force over all corner correspondences, and against symmetries known from outside.
#include "solid/congruence.hpp"
#include "solid/hull.hpp"
#include "zoo/builder.hpp"
#include "zoo/published.hpp"
#include "zoo/zoo.hpp"

#include "number/print.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <random>
#include <set>

using namespace cutproof;

namespace {

class Random {
 public:
  Random(unsigned seed, int degree) : engine_(seed), generator_(zoo::generator_of_degree(degree)) {}
  long upto(long bound) { return static_cast<long>(engine_() % static_cast<unsigned long>(2 * bound + 1)) - bound; }
  Vector3 vector() { return {number(), number(), number()}; }
  /// A rotation from a quaternion (1, q), with a shift; a reflection follows for the other sense.
  Motion motion(Sense sense) {
    const Vector3 q{upto(2), upto(2), Number(1 + std::abs(upto(1)))};
    const Number length = dot(q, q), norm = Number(1) + length;
    const Motion turn = Motion::rotation(vector(), q, divide(Number(1) - length, norm), divide(Number(2), norm));
    return sense == Sense::direct ? turn : turn.then(Motion::reflection({{1, 2, 0}, number()}));
  }
  std::vector<Vector3> points(std::size_t count) {
    std::vector<Vector3> result;
    while (result.size() < count) result.push_back({Number(upto(1)) * scale(), Number(upto(1)), Number(upto(2))});
    return result;
  }
  template <class List>
  void shuffle(List& list) {
    std::shuffle(list.begin(), list.end(), engine_);
  }

 private:
  Number number() { return Number::fraction(upto(5), 1 + std::abs(upto(2))) + Number(upto(1)) * generator_; }
  Number scale() { return generator_; }
  std::mt19937 engine_;
  Number generator_;
};

Boundary moved(const Boundary& boundary, const Motion& motion) {
  Boundary image = boundary;
  for (Vector3& corner : image.vertices) corner = motion(corner);
  for (Facet& facet : image.facets) {
    facet.plane = motion(facet.plane);
    if (!motion.is_proper())
      for (std::vector<int>& cycle : facet.cycles) std::reverse(cycle.begin(), cycle.end());
  }
  return normalised(image);
}

bool equal(const Boundary& a, const Boundary& b) {
  if (a.vertices != b.vertices || a.facets.size() != b.facets.size()) return false;
  for (std::size_t i = 0; i < a.facets.size(); ++i)
    if (a.facets[i].cycles != b.facets[i].cycles) return false;
  return true;
}

/// Every way to send the corners of `a` onto those of `b` that keeps all distances, corner by corner; each that sends facets
/// to facets is counted by its sense. Shares nothing with the search under test but arithmetic.
class BruteForce {
 public:
  BruteForce(const Boundary& a, const Boundary& b) : a_(a), b_(b) {
    if (a.vertices.size() != b.vertices.size() || a.facets.size() != b.facets.size()) return;
    for (const Facet& facet : b.facets) facets_.insert(corners_of(facet, nullptr));
    place();
  }
  std::size_t direct = 0, mirrored = 0;

 private:
  static std::vector<std::set<int>> corners_of(const Facet& facet, const std::vector<int>* image) {
    std::vector<std::set<int>> result;
    for (const std::vector<int>& cycle : facet.cycles) {
      std::set<int> corners;
      for (const int corner : cycle) corners.insert(image == nullptr ? corner : (*image)[static_cast<std::size_t>(corner)]);
      result.push_back(corners);
    }
    std::sort(result.begin(), result.end());
    return result;
  }

  void place() {
    const std::size_t next = image_.size();
    if (next == a_.vertices.size()) return judge();
    for (std::size_t candidate = 0; candidate < b_.vertices.size(); ++candidate) {
      if (std::find(image_.begin(), image_.end(), static_cast<int>(candidate)) != image_.end()) continue;
      bool keeps = true;
      for (std::size_t i = 0; keeps && i < next; ++i) {
        const Vector3 before = a_.vertices[next] - a_.vertices[i];
        const Vector3 after = b_.vertices[candidate] - b_.vertices[static_cast<std::size_t>(image_[i])];
        keeps = dot(before, before) == dot(after, after);
      }
      if (!keeps) continue;
      image_.push_back(static_cast<int>(candidate));
      place();
      image_.pop_back();
    }
  }

  void judge() {
    for (const Facet& facet : a_.facets)
      if (facets_.count(corners_of(facet, &image_)) == 0) return;
    // The sense, from four corners that span space.
    const auto spread = [](const Boundary& boundary, const std::array<int, 4>& at) {
      const auto point = [&](int i) { return boundary.vertices[static_cast<std::size_t>(at[static_cast<std::size_t>(i)])]; };
      return dot(cross(point(1) - point(0), point(2) - point(0)), point(3) - point(0)).sign();
    };
    const int count = static_cast<int>(a_.vertices.size());
    for (int i = 1; i < count; ++i)
      for (int j = i + 1; j < count; ++j)
        for (int k = j + 1; k < count; ++k) {
          const int before = spread(a_, {0, i, j, k});
          if (before == 0) continue;
          const auto at = [&](int corner) { return image_[static_cast<std::size_t>(corner)]; };
          ++(spread(b_, {at(0), at(i), at(j), at(k)}) == before ? direct : mirrored);
          return;
        }
  }

  const Boundary &a_, &b_;
  std::multiset<std::vector<std::set<int>>> facets_;
  std::vector<int> image_;
};

void compare_with_brute_force(const Boundary& a, const Boundary& b) {
  const SurfaceForm from(a), onto(b);
  const BruteForce expected(a, b);
  for (const Sense sense : {Sense::direct, Sense::mirrored}) {
    const std::vector<Motion> motions = all_motions(from, onto, sense);
    CHECK(motions.size() == (sense == Sense::direct ? expected.direct : expected.mirrored));
    CHECK(find_motion(from, onto, sense).has_value() == !motions.empty());
    for (const Motion& motion : motions) {
      CHECK(motion.is_proper() == (sense == Sense::direct));
      CHECK(equal(moved(a, motion), b));
      CHECK(carries(motion, from, onto));
    }
  }
}

Boundary tetrahedron(const std::array<Vector3, 4>& corners) {
  return convex_hull({corners.begin(), corners.end()});
}

/// One of the six tetrahedra along the paths of the cube's edges from (0,0,0) to (1,1,1), in order of the axes.
Boundary path_tetrahedron(std::array<int, 3> axes) {
  std::array<Vector3, 4> corners{};
  for (std::size_t i = 0; i < 3; ++i) {
    corners[i + 1] = corners[i];
    Vector3& corner = corners[i + 1];
    (axes[i] == 0 ? corner.x : axes[i] == 1 ? corner.y : corner.z) = Number(1);
  }
  return tetrahedron(corners);
}

}  // namespace

TEST_CASE("motions between 200 random pairs are those that brute force finds", "[congruence]") {
  std::size_t congruent = 0, only_mirrored = 0;
  for (const int degree : {1, 2, 3, 4})
    for (unsigned i = 0; i < 50; ++i) {
      const unsigned seed = 5000u * static_cast<unsigned>(degree) + i;
      INFO("degree " << degree << ", seed " << seed);
      Random random(seed, degree);
      Boundary a;
      while (a.facets.empty()) {
        try {
          a = convex_hull(random.points(4 + i % 5));
        } catch (const InvalidInput&) {  // all in one plane
        }
      }
      const Sense sense = i % 2 == 0 ? Sense::direct : Sense::mirrored;
      Boundary b = moved(a, random.motion(sense));
      if (i % 3 == 2) {
        // Nearly equal: one corner a little aside.
        std::vector<Vector3> points = b.vertices;
        Number tiny(1);
        for (int power = 0; power < 30; ++power) tiny *= Number::fraction(1, 10);
        points.front().y += tiny;
        b = convex_hull(points);
      }
      compare_with_brute_force(a, b);
      const BruteForce found(a, b);
      congruent += found.direct + found.mirrored > 0;
      only_mirrored += found.direct == 0 && found.mirrored > 0;
    }
  CHECK(congruent > 100);
  CHECK(only_mirrored > 10);
}

TEST_CASE("symmetries of the collection, solids with cavities and pinched faces among them", "[congruence]") {
  for (const zoo::ZooSolid& solid : zoo::all_solids()) {
    INFO(solid.name << ", degree " << solid.degree);
    const Boundary boundary = normalised(zoo::boundary_of(solid.solid));
    Random random(7, 1);  // the regular solids have fields of their own
    for (const Sense sense : {Sense::direct, Sense::mirrored}) {
      const Boundary image = moved(boundary, random.motion(sense));
      CHECK(find_motion(SurfaceForm(boundary), SurfaceForm(image), sense));
    }
    if (solid.symmetries == 0 || solid.degree != 1) continue;
    const Box box = box_around(boundary.vertices);
    const Vector3 centre = Number::fraction(1, 2) * (box.minimum + box.maximum);
    int symmetries = 0;
    const SurfaceForm form(boundary);
    for (const Sense sense : {Sense::direct, Sense::mirrored})
      for (const Motion& motion : all_motions(form, form, sense)) {
        bool of_the_cube = motion(centre) == centre;
        for (const Vector3& row : motion.rows())
          for (const Number* entry : {&row.x, &row.y, &row.z}) of_the_cube = of_the_cube && entry->is_integer();
        symmetries += of_the_cube;
      }
    CHECK(symmetries == solid.symmetries);
  }
}

TEST_CASE("the orders of the groups of the regular and Archimedean solids", "[congruence]") {
  // 12, 24 and 60 rotations of the regular solids (H. S. M. Coxeter, Regular Polytopes, section 3.4; from memory); the snub
  // cube alone, of those here, has no mirror symmetry.
  for (const zoo::PublishedSolid& solid : zoo::published_solids()) {
    INFO(solid.name);
    const SurfaceForm form(convex_hull(solid.points));
    const std::vector<Motion> turns = all_motions(form, form, Sense::direct);
    CHECK((turns.size() == 12 || turns.size() == 24 || turns.size() == 60));
    CHECK(turns.front().is_identity());  // least turn first
    const bool snub = solid.name.find("snub") != std::string::npos;
    CHECK(all_motions(form, form, Sense::mirrored).size() == (snub ? 0 : turns.size()));
  }
}

TEST_CASE("six path tetrahedra are three of one shape and three of its mirror image", "[congruence]") {
  std::array<int, 3> axes{0, 1, 2};
  ShapeCatalogue space;
  std::vector<std::size_t> classes;
  do {
    const Boundary boundary = path_tetrahedron(axes);
    classes.push_back(space.add(volume(boundary), SurfaceForm(boundary)));
  } while (std::next_permutation(axes.begin(), axes.end()));
  CHECK(classes == std::vector<std::size_t>{0, 1, 1, 0, 0, 1});
  REQUIRE(space.shapes().size() == 2);
  CHECK(space.shapes()[0].chiral);
  CHECK_FALSE(space.shapes()[0].mirror_of);
  CHECK(space.shapes()[1].mirror_of == std::size_t{0});
}

TEST_CASE("a lattice of cubes is one shape, and cubes a little longer are others", "[congruence]") {
  ShapeCatalogue catalogue;
  for (long i = 0; i < 10; ++i)
    for (long j = 0; j < 10; ++j)
      for (long k = 0; k < 10; ++k) {
        const Boundary cube = normalised(zoo::Builder().box({i, j, k}, {i + 1, j + 1, k + 1}).boundary());
        REQUIRE(catalogue.add(Number(1), SurfaceForm(cube)) == 0);
      }
  CHECK_FALSE(catalogue.shapes().front().chiral);
  const Number longer = Number(1) + Number::fraction(1, 1000000000000000000L);
  const Number thinner = divide(Number(1), longer);
  std::vector<Vector3> corners;
  for (const Number& x : {Number(0), longer})
    for (const Number& y : {Number(0), thinner})
      for (const Number& z : {Number(0), Number(1)}) corners.push_back({x, y, z});
  CHECK(catalogue.add(Number(1), SurfaceForm(convex_hull(corners))) == 1);
}

TEST_CASE("equal corners and lengths are not enough: facets are compared", "[congruence]") {
  // A cube with a pyramid cut out of one face, or out of the face beside it: the apex at the centre of the cube both times,
  // once with four more corners that the other lacks none of.
  const auto dented = [](bool twice) {
    zoo::Builder builder;
    const std::array<Vector3, 8> p{Vector3{0, 0, 0}, Vector3{2, 0, 0}, Vector3{2, 2, 0}, Vector3{0, 2, 0},
                                   Vector3{0, 0, 2}, Vector3{2, 0, 2}, Vector3{2, 2, 2}, Vector3{0, 2, 2}};
    const Vector3 c{1, 1, 1};
    const auto face = [&](int i, int j, int k, int l, bool dent) {
      if (!dent) return builder.face({{p[i], p[j], p[k], p[l]}});
      builder.face({{p[i], p[j], c}});
      builder.face({{p[j], p[k], c}});
      builder.face({{p[k], p[l], c}});
      builder.face({{p[l], p[i], c}});
    };
    face(0, 3, 2, 1, true);
    face(4, 5, 6, 7, twice);
    face(0, 1, 5, 4, !twice);
    face(2, 3, 7, 6, false);
    face(1, 2, 6, 5, false);
    face(3, 0, 4, 7, false);
    return normalised(builder.boundary());
  };
  const SurfaceForm opposite_faces(dented(true)), neighbouring_faces(dented(false));
  CHECK_FALSE(find_motion(opposite_faces, neighbouring_faces, Sense::direct));
  CHECK_FALSE(find_motion(opposite_faces, neighbouring_faces, Sense::mirrored));
  CHECK(all_motions(opposite_faces, opposite_faces, Sense::direct).size() == 8);
  CHECK(all_motions(neighbouring_faces, neighbouring_faces, Sense::direct).size() == 2);
}

TEST_CASE("a plane figure turned over is its mirror image in the plane, though not in space", "[congruence]") {
  const zoo::Polygon ell{{0, 0}, {3, 0}, {3, 1}, {1, 1}, {1, 2}, {0, 2}},
      turned{{0, 0}, {3, 0}, {3, 2}, {2, 2}, {2, 1}, {0, 1}};
  const SurfaceForm a(normalised(zoo::Builder().prism({ell}, 0, 1).boundary()));
  const SurfaceForm b(normalised(zoo::Builder().prism({turned}, 0, 1).boundary()));
  CHECK(find_motion(a, b, Sense::direct));
  CHECK_FALSE(find_motion(a, b, Sense::direct, Ambient::plane));
  const std::vector<Motion> flips = all_motions(a, b, Sense::mirrored, Ambient::plane);
  REQUIRE(flips.size() == 1);
  CHECK(flips.front().rows()[2] == Vector3{0, 0, 1});
  ShapeCatalogue plane(Ambient::plane), space;
  CHECK(plane.add(4, a) == 0);
  CHECK(plane.add(4, b) == 1);
  CHECK(plane.shapes()[1].mirror_of == std::size_t{0});
  CHECK(space.add(4, a) == 0);
  CHECK(space.add(4, b) == 0);
}

TEST_CASE("a face is laid against a face, body against body", "[congruence]") {
  // The top of a prism over a scalene triangle onto the bottom of one beside it.
  const zoo::Polygon scalene{{0, 0}, {4, 0}, {1, 2}};
  const Boundary prism = normalised(zoo::Builder().prism({scalene}, 0, 1).boundary());
  const Boundary top = face_in(prism, {{0, 0, 1}, 1}), bottom = face_in(prism, {{0, 0, -1}, 0});
  CHECK(face_in(prism, {{0, 0, -1}, -1}).facets.empty());  // no facet looks down there
  const std::vector<Motion> stacked = all_motions(SurfaceForm(top), SurfaceForm(turned_inside_out(bottom)), Sense::direct);
  REQUIRE(stacked.size() == 1);
  CHECK(stacked.front().rows() == Motion().rows());
  CHECK(stacked.front().shift() == Vector3{0, 0, -1});
  CHECK(all_motions(SurfaceForm(top), SurfaceForm(bottom), Sense::direct).empty());
  CHECK(all_motions(SurfaceForm(top), SurfaceForm(bottom), Sense::mirrored).size() == 1);
  // The corners of a neighbour in the middle of an edge are none of the face.
  zoo::Builder step;
  step.prism({{{0, 0}, {2, 0}, {2, 2}, {0, 2}}}, 0, 1);
  step.prism({{{0, 0}, {1, 0}, {1, 1}, {0, 1}}}, 1, 2);
  const Boundary face = face_in(normalised(step.boundary()), {{0, -1, 0}, 0});
  CHECK(face.vertices.size() == 6);
  CHECK(face_in(normalised(step.boundary()), {{0, 1, 0}, 2}).vertices.size() == 4);
}

// SPDX-License-Identifier: GPL-3.0-or-later
// Everything in the collection is a boundary; each with one thing broken is refused for exactly that, naming what is at
// fault.
#include "zoo/builder.hpp"
#include "zoo/zoo.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <set>

using namespace cutproof;
using zoo::ZooSolid;

namespace {

struct Fault {
  std::string message = "accepted";
  int face = -2, point = -2;
};

Fault fault_of(const WrittenSurface& surface) {
  Fault fault;
  try {
    checked_boundary(surface);
  } catch (const BoundaryError& error) {
    fault = {error.what(), error.face(), error.point()};
  }
  return fault;
}

Fault fault_of(const Boundary& boundary) {
  return fault_of(zoo::written(boundary));
}

WrittenSurface surface(const std::vector<Vector3>& points, const std::vector<std::vector<std::vector<int>>>& faces) {
  Boundary boundary;
  boundary.vertices = points;
  for (const auto& cycles : faces) boundary.facets.push_back({{}, cycles});
  return zoo::written(boundary);
}

WrittenSurface written(const std::string& name) {
  for (const ZooSolid& solid : zoo::rational_solids())
    if (solid.name == name) return zoo::written(zoo::boundary_of(solid.solid));
  throw std::logic_error("no solid " + name);
}

void reverse(std::vector<std::vector<int>>& face) {
  for (std::vector<int>& cycle : face) std::reverse(cycle.begin(), cycle.end());
}

/// Calls use(solid, written surface) for the whole collection.
template <class Use>
void for_each_solid(Use use) {
  for (const ZooSolid& solid : zoo::all_solids()) {
    INFO(solid.name);
    use(solid, zoo::written(zoo::boundary_of(solid.solid)));
  }
}

using Catch::Contains;

}  // namespace

TEST_CASE("the whole collection passes", "[boundary_check]") {
  for_each_solid([](const ZooSolid& solid, const WrittenSurface& surface) {
    CHECK(fault_of(surface).message == "accepted");
    CHECK(volume(checked_boundary(surface)) == solid.volume);
  });
}

TEST_CASE("holes may run either way, and unused and doubled points are fine", "[boundary_check]") {
  for_each_solid([](const ZooSolid& solid, WrittenSurface surface) {
    for (auto& face : surface.faces)
      for (std::size_t h = 1; h < face.size(); ++h) std::reverse(face[h].begin(), face[h].end());
    const std::size_t count = surface.points.size();
    for (std::size_t i = 0; i < count; ++i) {
      surface.points.push_back(surface.points[i]);
      surface.point_names.push_back("twin" + std::to_string(i));
    }
    surface.points.push_back({Number(1000), Number(1000), Number(1000)});
    surface.point_names.push_back("unused");
    for (int& corner : surface.faces.front().front()) corner += static_cast<int>(count);
    REQUIRE(fault_of(surface).message == "accepted");
    CHECK(volume(checked_boundary(surface)) == solid.volume);
  });
}

TEST_CASE("a missing face: not closed", "[boundary_check]") {
  for_each_solid([](const ZooSolid&, WrittenSurface surface) {
    surface.faces.pop_back();
    surface.face_names.pop_back();
    CHECK_THAT(fault_of(surface).message, Contains("the surface is not closed: the edge from p"));
  });
}

TEST_CASE("a face given twice", "[boundary_check]") {
  for_each_solid([](const ZooSolid&, WrittenSurface surface) {
    for (const bool turned : {false, true}) {
      WrittenSurface doubled = surface;
      doubled.faces.push_back(doubled.faces[1]);
      if (turned) reverse(doubled.faces.back());
      doubled.face_names.push_back("again");
      CHECK(fault_of(doubled).message == "f1 and again are the same face");
    }
  });
}

TEST_CASE("one face inside out", "[boundary_check]") {
  for_each_solid([](const ZooSolid& solid, const WrittenSurface& surface) {
    for (std::size_t f = 0; f < surface.faces.size(); f += 3) {
      WrittenSurface turned = surface;
      reverse(turned.faces[f]);
      const Fault fault = fault_of(turned);
      INFO("face " << f << ": " << fault.message);
      // Where four faces meet at an edge of the reversed one, another edge of it may be found first, or that one.
      if (solid.name.find("touching along an edge") == std::string::npos &&
          solid.name.find("touching an edge") == std::string::npos &&
          solid.name.find("touching a face") == std::string::npos) {
        CHECK(fault.face == static_cast<int>(f));
        CHECK_THAT(fault.message, Contains("f" + std::to_string(f) + " is inside out: it runs along the edge from p"));
      } else {
        CHECK(fault.message != "accepted");
      }
    }
  });
}

TEST_CASE("everything inside out", "[boundary_check]") {
  for_each_solid([](const ZooSolid&, WrittenSurface surface) {
    for (auto& face : surface.faces) reverse(face);
    CHECK_THAT(fault_of(surface).message, Contains("the surface is inside out"));
  });
}

TEST_CASE("a corner that is moved out of a face's plane", "[boundary_check]") {
  Number tiny(1);
  for (int i = 0; i < 10; ++i) tiny *= Number::fraction(1, 1000);
  for_each_solid([&](const ZooSolid&, WrittenSurface surface) {
    const auto wide =
        std::find_if(surface.faces.begin(), surface.faces.end(), [](const auto& face) { return face[0].size() > 3; });
    if (wide == surface.faces.end()) return;
    const int corner = wide->front()[3];
    surface.points[corner] = surface.points[corner] + Vector3{tiny, tiny + tiny, Number(3) * tiny + tiny * tiny};
    CHECK_THAT(fault_of(surface).message, Contains("is not planar: the corner p"));
  });
}

TEST_CASE("faces that are wrong by themselves", "[boundary_check]") {
  const WrittenSurface box = written("box");
  const auto with_first = [&](std::vector<std::vector<int>> face) {
    WrittenSurface changed = box;
    changed.faces[0] = std::move(face);
    return fault_of(changed);
  };
  const std::vector<int> f0 = box.faces[0][0];
  CHECK_THAT(with_first({{f0[0], f0[1]}}).message, Contains("f0 has 2 corners; a face needs at least three"));
  CHECK_THAT(with_first({{f0[0], f0[1], 8}}).message,
             Contains("f0 uses the point number 8, but the points are numbered from 0 to 7"));
  CHECK_THAT(with_first({{f0[0], f0[1], -1}}).message, Contains("the point number -1"));
  CHECK_THAT(with_first({{f0[0], f0[1], f0[2], f0[0]}}).message, Contains("f0 passes the corner p0 twice"));
  CHECK_THAT(with_first({{f0[0], f0[2], f0[1], f0[3]}}).message, Contains("f0 crosses itself: its edges from p"));
  CHECK(with_first({{f0[0], f0[2], f0[1], f0[3]}}).face == 0);
  CHECK_THAT(fault_of(surface({}, {})).message, Contains("no faces"));

  const std::vector<Vector3> points = {{0, 0, 0}, {4, 0, 0}, {4, 4, 0}, {0, 4, 0}, {1, 0, 0}, {2, 0, 0},
                                       {2, 2, 0}, {3, 2, 0}, {3, 3, 0}, {5, 2, 0}, {6, 2, 0}, {6, 3, 0}};
  const std::vector<int> square = {0, 1, 2, 3};
  const auto alone = [&](const std::vector<std::vector<int>>& face) { return fault_of(surface(points, {face})).message; };
  CHECK_THAT(alone({{0, 4, 5}}), Contains("f0 is flat: its corners lie on one line"));
  CHECK_THAT(alone({{0, 1, 5, 2}}),
             Contains("f0 touches itself: its corner p5 lies in the middle of its edge from p0 to p1"));
  CHECK_THAT(alone({square, {6, 7, 8}}), Contains("not closed"));  // fine by itself
  CHECK_THAT(alone({square, {9, 10, 11}}), Contains("hole 1 of f0 does not lie inside the face"));
  CHECK_THAT(alone({square, {6, 9, 8}}), Contains("f0 crosses itself"));
  CHECK_THAT(alone({square, {6, 7, 8}, {6, 7, 8}}), Contains("f0 uses the edge"));
  CHECK_THAT(alone({{6, 7, 8}, square}), Contains("hole 1 of f0 does not lie inside the face"));
  // the hole passes from corner to corner, once inside and once outside
  CHECK_THAT(
      fault_of(surface({{0, 0, 0}, {4, 0, 0}, {2, 1, 0}, {4, 4, 0}, {0, 4, 0}, {1, 2, 0}}, {{{0, 1, 2, 3, 4}, {0, 3, 1}}}))
          .message,
      Contains("f0"));
  CHECK_THAT(
      fault_of(
          surface(
              {{0, 0, 0}, {6, 0, 0}, {6, 6, 0}, {0, 6, 0}, {1, 1, 0}, {5, 1, 0}, {3, 5, 0}, {2, 2, 0}, {4, 2, 0}, {3, 3, 0}},
              {{{0, 1, 2, 3}, {4, 5, 6}, {7, 8, 9}}}))
          .message,
      Contains("hole 2 of f0 lies inside hole 1"));
  WrittenSurface twin = box;
  twin.points.push_back(box.points[f0[0]]);
  twin.point_names.push_back("P");
  twin.faces[0][0].push_back(8);
  CHECK_THAT(fault_of(twin).message, Contains("f0 passes the corner P twice: p0 is the same point"));
}

TEST_CASE("a corner in the middle of another face's edge", "[boundary_check]") {
  // A corner is put into one edge of the collection's first face, there only.
  for_each_solid([](const ZooSolid&, WrittenSurface surface) {
    std::vector<int>& cycle = surface.faces[0][0];
    const int a = cycle[0], b = cycle[1], middle = static_cast<int>(surface.points.size());
    surface.points.push_back(Number::fraction(1, 3) * (surface.points[a] + surface.points[b] + surface.points[a]));
    surface.point_names.push_back("M");
    cycle.insert(cycle.begin() + 1, middle);
    const Fault fault = fault_of(surface);
    CHECK_THAT(fault.message, Contains("the corner M lies in the middle of the edge from p"));
    CHECK(fault.point == middle);
  });
  // of another shell
  zoo::Builder builder;
  builder.box({0, 0, 0}, {2, 2, 2}).box({2, 2, 1}, {3, 3, 2});
  CHECK_THAT(fault_of(builder.boundary()).message, Contains("lies in the middle of the edge"));
}

TEST_CASE("faces that cross or overlap", "[boundary_check]") {
  const auto message = [](const zoo::Builder& builder) { return fault_of(builder.boundary()).message; };
  // bodies that share inside points: an edge passes through a face, or an edge crosses an edge
  CHECK_THAT(message(zoo::Builder().box({0, 0, 0}, {2, 2, 2}).box({1, 1, 1}, {3, 3, 3})),
             Contains("cross: the edge from p"));
  CHECK_THAT(message(zoo::Builder().box({0, 0, 0}, {3, 3, 1}).box({1, 1, -1}, {2, 2, 2})),
             Contains("passes through the other at"));
  // a shared face, a part of a face, faces of which one lies in the other, from both sides
  CHECK_THAT(message(zoo::Builder().box({0, 0, 0}, {1, 1, 1}).box({1, 0, 0}, {2, 1, 1})), Contains("are the same face"));
  CHECK_THAT(message(zoo::Builder().box({0, 0, 0}, {3, 3, 1}).box({1, 1, 1}, {2, 2, 2})), Contains("overlap"));
  CHECK_THAT(message(zoo::Builder().box({0, 0, 0}, {3, 3, 1}).box({1, 1, 1}, {4, 4, 2})),
             Contains("overlap: they lie in one plane and their edges cross"));
  CHECK_THAT(message(zoo::Builder().box({0, 0, 0}, {2, 2, 1}).box({1, 1, 1}, {4, 4, 2})), Contains("overlap"));
  // a triangle and a square that share two edges of the triangle
  CHECK_THAT(message(zoo::Builder().box({0, 0, 0}, {1, 1, 1}).tetrahedron({0, 0, 1}, {1, 0, 1}, {1, 1, 1}, {1, 0, 2})),
             Contains("overlap"));
  // edges that cross in a point without a corner
  CHECK_THAT(message(zoo::Builder()
                         .tetrahedron({-1, 0, 0}, {1, 0, 0}, {0, 1, -1}, {0, -1, -1})
                         .tetrahedron({0, -1, 0}, {0, 1, 0}, {1, 0, 1}, {-1, 0, 1})),
             Contains("crosses an edge of the other, at [0, 0, 0]: if they only touch, give both a corner there"));
  // faces that cross along a line between two corners that both have: corner to corner through both insides
  CHECK_THAT(message(zoo::Builder()
                         .tetrahedron({0, 0, 0}, {4, 4, 0}, {4, 0, 0}, {4, 0, 3})
                         .tetrahedron({0, 0, 0}, {4, 0, 0}, {2, 2, 2}, {2, 2, -2})),
             Contains("cross"));
}

TEST_CASE("shells that face the wrong way", "[boundary_check]") {
  const auto message = [](const zoo::Builder& builder) { return fault_of(builder.boundary()).message; };
  const std::string reversed = "is inside out, or bounds a cavity that lies outside every body";
  CHECK_THAT(message(zoo::Builder().box({0, 0, 0}, {1, 1, 1}).turn_inside_out().box({5, 0, 0}, {6, 1, 1})),
             Contains(reversed));
  CHECK(fault_of(zoo::Builder().box({0, 0, 0}, {1, 1, 1}).turn_inside_out().box({5, 0, 0}, {6, 1, 1}).boundary()).face == 6);
  CHECK_THAT(message(zoo::Builder().turn_inside_out().box({5, 0, 0}, {6, 1, 1})), Contains("the surface is inside out"));
  const std::string doubled = "the shell of 6 faces to which f6 belongs lies inside another one and faces the same way";
  CHECK(message(zoo::Builder().box({0, 0, 0}, {5, 5, 5}).box({1, 1, 1}, {4, 4, 4})) == doubled);
  CHECK(message(zoo::Builder().box({0, 0, 0}, {5, 5, 5}).box({1, 1, 1}, {4, 4, 4}).box({2, 2, 2}, {3, 3, 3})) == doubled);
  // the outer shell is wrong, and the inner one right
  CHECK_THAT(message(zoo::Builder().turn_inside_out().box({1, 1, 1}, {4, 4, 4}).box({0, 0, 0}, {5, 5, 5})),
             Contains("to which f6 belongs " + reversed));
  // two bodies that touch along an edge, one of them inside out
  CHECK_THAT(message(zoo::Builder().box({0, 0, 0}, {1, 1, 1}).turn_inside_out().box({1, 1, 0}, {2, 2, 1})),
             Contains(reversed));
  // a cavity that reaches through the outside along an edge, or whose edge touches the face of its body from outside
  CHECK_THAT(message(zoo::Builder()
                         .box({0, 0, -1}, {4, 4, 0})
                         .turn_inside_out()
                         .tetrahedron({2, 2, 0}, {1, 1, 1}, {3, 1, 1}, {2, 3, 1})),
             Contains(reversed));
}

TEST_CASE("a surface that passes through a face in a ring of edges is refused", "[boundary_check]") {
  // A double pyramid whose middle square lies inside a face of a box: no two faces cross, but the bodies overlap.
  zoo::Builder builder;
  builder.box({0, 0, -4}, {6, 6, 0});
  const std::vector<Vector3> ring = {{2, 2, 0}, {4, 2, 0}, {4, 4, 0}, {2, 4, 0}};
  for (std::size_t i = 0; i < 4; ++i) {
    builder.face({{ring[i], ring[(i + 1) % 4], {3, 3, 2}}});
    builder.face({{ring[(i + 1) % 4], ring[i], {3, 3, -2}}});
  }
  CHECK(fault_of(builder.boundary()).message != "accepted");
}

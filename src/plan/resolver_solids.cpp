// SPDX-License-Identifier: GPL-3.0-or-later
// Solids as the plan writes them; what is wrong with one is shown at the text that is at fault.
#include "plan/resolver.hpp"

#include "number/print.hpp"
#include "plan/complaints.hpp"
#include "plan/spelling.hpp"
#include "solid/boundary_check.hpp"
#include "solid/figures.hpp"
#include "solid/hull.hpp"
#include "solid/shapes.hpp"

#include <algorithm>
#include <charconv>

namespace cutproof {

SolidPointer Resolver::solid_from(const Node& node) {
  if (node.is_scalar()) return solid(node);
  index_.mapping(node, "a solid", "as in `{ box: { size: [1, 1, 1] } }`");
  index_.allow_keys(node, "a solid", solid_kinds());
  if (node.entries.size() != 1)
    index_.fail_key(node.entries[1], "a solid is of one kind", "write `{ union: [...] }` for several together");
  const std::string& kind = node.entries.front().key;
  const Node& value = node.entries.front().value;
  if (value.is_broken()) throw Recorded{};
  return placed(value, [&] {
    if (index_.is_flat())
      if (SolidPointer figure = figure_from(kind, value)) return figure;
    if (kind == "box") return box(value);
    if (kind == "prism") return prism(value);
    if (kind == "pyramid") return pyramid(value);
    if (kind == "convex-hull") return hull(value);
    if (kind == "faces") return surface(value);
    if (kind == "mesh") return mesh(value);
    if (kind == "half-spaces") return half_spaces(value);
    if (kind == "zonohedron") return zonohedron(value);
    if (kind == "regular") return uniform(value, "a regular solid", regular_names(), &make_regular);
    if (kind == "archimedean") return uniform(value, "an Archimedean solid", archimedean_names(), &make_archimedean);
    if (kind == "union") return boolean(value, BooleanKind::union_of_all, kind);
    if (kind == "intersection") return boolean(value, BooleanKind::intersection_of_all, kind);
    if (kind == "difference") return boolean(value, BooleanKind::first_minus_others, kind);
    if (kind == "moved") return moved(value);
    if (kind == "scaled") return scaled(value);
    return mirrored(value);
  });
}

std::vector<Vector3> Resolver::points(const Node& node, const std::string& what) {
  index_.sequence(node, what, "write points: `[[0, 0, 0], P, ...]`");
  std::vector<Vector3> result;
  for (const Node::Entry& entry : node.entries) result.push_back(vector(entry.value));
  return result;
}

SolidPointer Resolver::box(const Node& node) {
  index_.mapping(node, "a box", "as in `{ size: [1, 2, 3], at: [0, 0, 0] }`");
  index_.allow_keys(node, "a box", {"size", "at"});
  const Node& size_node = index_.required(node, "size", "a box");
  if (size_node.is_sequence() && size_node.entries.size() == 2)  // 0 would do for a point, but for no size
    index_.fail(size_node, "a point or vector has three coordinates; this list has 2", "the third size is missing");
  const Vector3 size = vector(size_node);
  const Node* at = node.find("at");
  const Vector3 lowest = at ? vector(*at) : Vector3{};
  return placed(size_node, [&] { return make_box(size, lowest); });
}

std::vector<Vector3> Resolver::base(const Node& node, bool* has_three_coordinates) {
  index_.sequence(node, "a base", "write its corners: `[[0, 0], [2, 0], [1, 1]]`");
  std::vector<Vector3> corners;
  for (const Node::Entry& entry : node.entries) {
    const Node& corner = entry.value;
    if (corner.is_sequence() && corner.entries.size() == 2) {
      corners.push_back({number(corner.entries[0].value), number(corner.entries[1].value), Number(0L, tower_.top())});
    } else {
      corners.push_back(vector(corner));
      *has_three_coordinates = true;
    }
  }
  return corners;
}

SolidPointer Resolver::prism(const Node& node) {
  index_.mapping(node, "a prism", "as in `{ base: [[0, 0], [2, 0], [1, 1]], height: 1 }`");
  index_.allow_keys(node, "a prism", {"base", "height", "along"});
  const Node& base_node = index_.required(node, "base", "a prism");
  bool has_three_coordinates = false;
  const std::vector<Vector3> corners = base(base_node, &has_three_coordinates);
  const Node *height = node.find("height"), *along = node.find("along");
  if ((height == nullptr) == (along == nullptr))
    index_.fail(node, height ? "a prism has either `height` or `along`, not both" : "a prism needs `height` or `along`",
                "as in `height: 1`");
  if (along != nullptr) {
    const Vector3 direction = vector(*along);
    return placed(base_node, [&] {
      try {
        return make_prism(corners, direction);
      } catch (const FlatShape& error) {
        fault(*along, told(error).sentence);
      }
    });
  }
  if (has_three_coordinates)
    index_.fail(*height, "`height` goes with a base in the plane z = 0, whose corners have two coordinates",
                "write `along: v` with a vector v");
  const Number z = number(*height);
  if (z.sign() <= 0) fault(*height, "the height of this prism is " + to_exact(z) + ", which is not positive");
  return placed(base_node, [&] { return make_prism(corners, {Number(0), Number(0), z}); });
}

SolidPointer Resolver::pyramid(const Node& node) {
  index_.mapping(node, "a pyramid", "as in `{ base: [[0, 0], [2, 0], [1, 1]], apex: [1, 1, 1] }`");
  index_.allow_keys(node, "a pyramid", {"base", "apex"});
  index_.require(node, {"base", "apex"}, "a pyramid");
  const Node& base_node = index_.required(node, "base", "a pyramid");
  bool ignored = false;
  const std::vector<Vector3> corners = base(base_node, &ignored);
  const Node& apex_node = index_.required(node, "apex", "a pyramid");
  const Vector3 apex = vector(apex_node);
  return placed(base_node, [&] {
    try {
      return make_pyramid(corners, apex);
    } catch (const FlatShape& error) {
      fault(apex_node, told(error).sentence);
    }
  });
}

SolidPointer Resolver::hull(const Node& node) {
  HullDescription description{points(node, "a convex hull")};
  SolidPointer figure;
  try {
    if (index_.is_flat())
      figure = make_flat_hull(description.points);
    else
      convex_hull(description.points);
  } catch (const InvalidInput& error) {  // it is flat
    const std::vector<Vector3>& all = description.points;
    for (std::size_t i = 0; i < all.size(); ++i) {
      const auto earlier = std::find(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(i), all[i]);
      if (earlier != all.begin() + static_cast<std::ptrdiff_t>(i))
        index_.fail(node, told(error).sentence,
                    "points " + std::to_string(earlier - all.begin() + 1) + " and " + std::to_string(i + 1) +
                        " are the same: change one of them");
    }
    throw;
  }
  return figure != nullptr ? figure : make_solid(std::move(description));
}

SolidPointer Resolver::surface(const Node& node) {
  index_.mapping(node, "`faces`", "as in `{ points: { A: [0, 0, 0], ... }, faces: [[A, B, C], ...] }`");
  index_.allow_keys(node, "`faces`", {"points", "faces"});
  index_.require(node, {"points", "faces"}, "`faces`");
  const Node& point_node = index_.required(node, "points", "`faces`");
  const Node& face_node = index_.required(node, "faces", "`faces`");
  WrittenSurface surface;
  std::map<std::string, int> numbers;
  if (point_node.is_mapping()) {
    index_.mapping(point_node, "`points`", "write names and points");
    for (const Node::Entry& entry : point_node.entries) {
      const std::string name = piece_text(key_node(entry));
      if (!numbers.emplace(name, static_cast<int>(surface.points.size())).second)
        index_.fail_key(entry, "the name `" + name + "` stands twice here", "let an index stand in each of the names");
      surface.point_names.push_back(quoted_text(name));
      surface.points.push_back(vector(entry.value));
    }
  } else {
    surface.points = points(point_node, "`points`");
    for (std::size_t i = 0; i < surface.points.size(); ++i) surface.point_names.push_back("number " + std::to_string(i));
  }
  const auto corner = [&](const Node& name) {
    if (!name.is_scalar()) index_.fail(name, "a corner of a face is the name or the number of a point");
    const std::string text = piece_text(name);
    const auto known = numbers.find(text);
    if (known != numbers.end()) return known->second;
    if (point_node.is_mapping()) {
      std::vector<std::string> names;
      for (const auto& entry : numbers) names.push_back(entry.first);
      const std::string near = nearest_word(text, names);
      index_.fail(name, "there is no point " + quoted_text(text) + " among the points of these faces",
                  near.empty() ? "points are named under `points` of the same solid" : "did you mean `" + near + "`?");
    }
    int index = -1;
    const std::string digits = name.frame == nullptr ? text : to_exact(number(name));  // an index may stand in it
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), index);
    if (error != std::errc() || end != digits.data() + digits.size())
      index_.fail(name, "a corner of a face is the number of a point, counted from 0");
    if (index < 0 || index >= static_cast<int>(surface.points.size()))
      index_.fail(name, "there is no point number " + digits,
                  "the points are numbered from 0 to " + std::to_string(static_cast<int>(surface.points.size()) - 1));
    return index;
  };
  const auto cycle = [&](const Node& list) {
    index_.sequence(list, "a face", "write its corners counterclockwise as seen from outside");
    std::vector<int> corners;
    for (const Node::Entry& entry : list.entries) corners.push_back(corner(entry.value));
    return corners;
  };
  index_.sequence(face_node, "the list of faces", "write the corners of each face: `[[A, B, C], ...]`");
  for (std::size_t i = 0; i < face_node.entries.size(); ++i) {
    const Node& face = face_node.entries[i].value;
    std::vector<std::vector<int>> cycles;
    const Node* outer = &face;
    if (face.is_mapping()) {
      index_.allow_keys(face, "a face", {"outer", "holes"});
      outer = &index_.required(face, "outer", "a face with holes");
      cycles.push_back(cycle(*outer));
      if (const Node* holes = face.find("holes")) {
        index_.sequence(*holes, "`holes`", "write each hole's corners: `holes: [[E, F, G]]`");
        for (const Node::Entry& entry : holes->entries) cycles.push_back(cycle(entry.value));
      }
    } else {
      cycles.push_back(cycle(face));
    }
    std::string name = "face " + std::to_string(i + 1) + " [";
    for (std::size_t k = 0; k < outer->entries.size() && k < 8; ++k) name += (k ? ", " : "") + outer->entries[k].value.text;
    surface.face_names.push_back(name + (outer->entries.size() > 8 ? ", ...]" : "]"));
    surface.faces.push_back(std::move(cycles));
  }
  try {
    return make_solid(SurfaceDescription{checked_boundary(surface)});
  } catch (const BoundaryError& error) {
    const Node& at = error.face() >= 0 ? face_node.entries[static_cast<std::size_t>(error.face())].value : face_node;
    index_.fail(at, told(error).sentence, told(error).hint);
  }
}

SolidPointer Resolver::half_spaces(const Node& node) {
  index_.sequence(node, "a list of half-spaces", "write planes whose normals point out of the solid");
  std::vector<Plane> planes;
  for (const Node::Entry& entry : node.entries) planes.push_back(plane(entry.value));
  return make_half_spaces(planes);
}

SolidPointer Resolver::zonohedron(const Node& node) {
  index_.mapping(node, "a zonohedron", "as in `{ edges: [u, v, w], at: [0, 0, 0] }`");
  index_.allow_keys(node, "a zonohedron", {"edges", "at"});
  const Node& edge_node = index_.required(node, "edges", "a zonohedron");
  const std::vector<Vector3> edges = points(edge_node, "`edges`");
  const Node* at = node.find("at");
  const Vector3 corner = at ? vector(*at) : Vector3{};
  return placed(edge_node, [&] { return make_zonohedron(edges, corner); });
}

SolidPointer Resolver::uniform(const Node& node, const std::string& what, const std::vector<std::string>& known,
                               SolidPointer (*make)(const std::string&, const Number&, const Vector3&, FieldTower&)) {
  index_.mapping(node, what, "as in `{ name: " + known.front() + ", edge: 1 }`");
  index_.allow_keys(node, what, {"name", "edge", "at"});
  index_.require(node, {"name", "edge"}, what);
  const Node& name_node = index_.required(node, "name", what);
  const std::string name = index_.word(name_node, "the name of " + what);
  if (std::find(known.begin(), known.end(), name) == known.end()) {
    const std::string near = nearest_word(name, known);
    std::string all;
    for (std::size_t i = 0; i < known.size(); ++i) all += (i == 0 ? "" : i + 1 == known.size() ? " or " : ", ") + known[i];
    index_.fail(name_node, "there is no " + what.substr(what.find(' ') + 1) + " " + quoted_text(name),
                near.empty() ? all : "did you mean `" + near + "`?");
  }
  const Node& edge_node = index_.required(node, "edge", what);
  const Number edge = number(edge_node);
  const Node* at = node.find("at");
  const Vector3 centre = at ? vector(*at) : Vector3{};
  return placed(edge_node, [&] { return make(name, edge, centre, tower_); });
}

SolidPointer Resolver::boolean(const Node& node, BooleanKind kind, const std::string& key) {
  index_.sequence(node, "`" + key + "`", "write solids: `[A, B]`");
  BooleanDescription description{kind, {}};
  for (const Node::Entry& entry : node.entries) description.operands.push_back(solid(entry.value));
  return make_solid(std::move(description));
}

SolidPointer Resolver::moved(const Node& node) {
  index_.mapping(node, "`moved`", "as in `{ solid: S, by: MOTION }`");
  index_.allow_keys(node, "`moved`", {"solid", "by"});
  index_.require(node, {"solid", "by"}, "`moved`");
  const SolidPointer original = solid(index_.required(node, "solid", "`moved`"));
  const Motion motion_of = motion(index_.required(node, "by", "`moved`"));
  return make_solid(PlacedDescription{original, motion_of, Number(1), {}});
}

SolidPointer Resolver::scaled(const Node& node) {
  index_.mapping(node, "`scaled`", "as in `{ solid: S, factor: 2, about: [0, 0, 0] }`");
  index_.allow_keys(node, "`scaled`", {"solid", "factor", "about"});
  index_.require(node, {"solid", "factor"}, "`scaled`");
  const SolidPointer original = solid(index_.required(node, "solid", "`scaled`"));
  const Node& factor_node = index_.required(node, "factor", "`scaled`");
  const Number factor = number(factor_node);
  if (factor.sign() <= 0)
    fault(factor_node, "the factor of `scaled` is " + to_exact(factor) + ", which is not positive",
          "write `mirrored` for a mirror image");
  const Node* about = node.find("about");
  const Vector3 centre = about ? vector(*about) : Vector3{};
  if (index_.is_flat()) return scaled_figure(original, factor, centre);
  return make_solid(PlacedDescription{original, Motion(), factor, centre});
}

SolidPointer Resolver::mirrored(const Node& node) {
  index_.mapping(node, "`mirrored`", "as in `{ solid: S, in: PLANE }`");
  index_.allow_keys(node, "`mirrored`", {"solid", "in"});
  index_.require(node, {"solid", "in"}, "`mirrored`");
  const SolidPointer original = solid(index_.required(node, "solid", "`mirrored`"));
  const Plane in = plane(index_.required(node, "in", "`mirrored`"));
  return make_solid(PlacedDescription{original, Motion::reflection(in), Number(1), {}});
}

}  // namespace cutproof

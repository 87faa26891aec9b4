// SPDX-License-Identifier: GPL-3.0-or-later
// OFF: a count of points, of faces and of edges; the points; the faces with their corners, counted from 0, and perhaps
// colours. Of `COFF`, `NOFF` and `STOFF` what follows the coordinates is left out.
#include "solid/mesh/formats.hpp"

namespace cutproof {

Mesh read_off(std::string_view bytes, BitBudget bits) {
  Mesh mesh;
  mesh.kind = "OFF";
  MeshText text(bytes, /*comments=*/true);
  const std::string_view keyword = text.word("the word OFF");
  const bool decorated = keyword != "OFF";
  if (keyword.find_first_of("4n") != std::string_view::npos)
    text.fail(shown_bytes(keyword) + " has points of another dimension than 3");
  std::string_view word = text.word("the number of points");
  if (word == "BINARY") text.fail("a binary OFF is not read", "write it as text");
  const long point_count = text.whole(word, "the number of points", 0);
  const long face_count = text.whole(text.word("the number of faces"), "the number of faces", 0);
  const std::vector<std::string_view> edges = text.rest_of_line();
  if (edges.size() > 1) text.fail(shown_bytes(edges[1]) + " stands behind the numbers of points, faces and edges");
  if (!edges.empty()) text.whole(edges[0], "the number of edges", 0);
  const auto allow_numbers = [&](const std::vector<std::string_view>& words, std::size_t most, const char* behind) {
    for (const std::string_view each : words) text.number(each, "a number", bits);
    if (words.size() > most)
      text.fail(shown_bytes(words[most]) + " stands behind " + behind, "give each point and each face a line of its own");
  };
  for (long i = 0; i < point_count; ++i) {
    const std::string name = " of the point " + std::to_string(i);
    std::array<Rational, 3> point;
    const char* const axes[] = {"x", "y", "z"};
    for (std::size_t axis = 0; axis < 3; ++axis) {
      const std::string what = axes[axis] + name;
      word = text.word(what);
      point[axis] = text.number(word, what, bits);
    }
    mesh.points.push_back(point);
    allow_numbers(text.rest_of_line(), decorated ? 9 : 0, "the coordinates of a point");
  }
  for (long i = 0; i < face_count; ++i) {
    const std::string name = "face " + std::to_string(i + 1);
    const long corners = text.whole(text.word("the number of corners of " + name), "the number of corners of " + name, 0);
    mesh.face_lines.push_back(text.line());
    std::vector<int> face;
    for (long k = 0; k < corners; ++k) {
      const std::string what = "a corner of " + name;
      word = text.word(what);
      face.push_back(static_cast<int>(text.whole(word, what, 0, point_count - 1)));
    }
    mesh.faces.push_back(std::move(face));
    constexpr std::size_t most_of_a_colour = 4;
    allow_numbers(text.rest_of_line(), most_of_a_colour, "the corners of a face");
  }
  if (!text.at_end()) text.fail(shown_bytes(text.word("")) + " stands behind the last face");
  return mesh;
}

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// OBJ: a line for each point, `v x y z`, and each face, `f 1 2 3`, `f 1/1/1 2/2/1 3/3/1`; corners are counted from 1, or
// from the last point backwards by negative numbers. Curved surfaces, edges and points by themselves are refused.
#include "solid/mesh/formats.hpp"

#include <algorithm>

namespace cutproof {

namespace {

/// Lines that a backslash joins, as one; the others as they stand.
std::vector<std::string_view> words_of_line(MeshText& text) {
  std::vector<std::string_view> words = text.rest_of_line();
  while (!words.empty() && words.back().back() == '\\') {
    words.back().remove_suffix(1);
    if (words.back().empty()) words.pop_back();
    if (text.at_end()) break;
    words.push_back(text.word("the rest of the line"));
    const std::vector<std::string_view> more = text.rest_of_line();
    words.insert(words.end(), more.begin(), more.end());
  }
  return words;
}

class ObjReader {
 public:
  ObjReader(std::string_view bytes, BitBudget bits) : text_(bytes, /*comments=*/true), bits_(bits) {
    mesh_.kind = "OBJ";
    mesh_.first_point = 1;
  }

  Mesh read() {
    while (!text_.at_end()) {
      const std::string_view keyword = text_.word("");
      const int line = text_.line();
      const std::vector<std::string_view> words = words_of_line(text_);
      if (keyword == "v") {
        point(words);
      } else if (keyword == "f") {
        face(words, line);
      } else {
        constexpr std::string_view without_part[] = {"vt", "vn", "vp", "o", "g", "s", "mg", "mtllib", "usemtl", "usemap"};
        if (std::find(std::begin(without_part), std::end(without_part), keyword) == std::end(without_part))
          text_.fail(shown_bytes(keyword) + " is nothing that a closed surface of plane faces is made of",
                     "points are written `v x y z`, faces `f 1 2 3`");
      }
    }
    const auto count = static_cast<int>(mesh_.points.size());
    for (std::size_t f = 0; f < mesh_.faces.size(); ++f)
      for (const int corner : mesh_.faces[f])
        if (corner >= count)
          throw InvalidInput("line " + std::to_string(mesh_.face_lines[f]) + ": there is no point number " +
                             std::to_string(static_cast<long>(corner) + 1) + ": the file has " + std::to_string(count));
    return std::move(mesh_);
  }

 private:
  void point(const std::vector<std::string_view>& words) {
    // A fourth number is a weight, three or four more are a colour.
    if (words.size() < 3) text_.fail("a point has three coordinates, and here are " + std::to_string(words.size()));
    if (words.size() == 5 || words.size() > 7)
      text_.fail("a point has three coordinates, and here are " + std::to_string(words.size()) + " numbers");
    std::array<Rational, 3> point;
    for (std::size_t i = 0; i < words.size(); ++i) {
      const Rational value = text_.number(words[i], "a coordinate", bits_);
      if (i < 3) point[i] = value;
      if (i == 3 && words.size() == 4 && !fmpq_is_one(value))
        text_.fail("the weight of this point is " + shown_bytes(words[i]) + ", and only 1 makes sense for plane faces");
    }
    mesh_.points.push_back(point);
  }

  void face(const std::vector<std::string_view>& words, int line) {
    std::vector<int> corners;
    const auto count = static_cast<long>(mesh_.points.size());
    for (const std::string_view word : words) {
      const std::size_t slash = word.find('/');
      if (slash != std::string_view::npos && word.find_first_not_of("0123456789-/", slash) != std::string_view::npos)
        text_.fail(shown_bytes(word) + " is no corner", "a corner is the number of a point: `3`, `3/1`, `3//2` or `3/1/2`");
      const long number = text_.whole(word.substr(0, slash), "a corner", -count, std::numeric_limits<int>::max());
      if (number == 0) text_.fail("a corner is `0`, and points are counted from 1");
      corners.push_back(static_cast<int>(number > 0 ? number - 1 : count + number));
    }
    mesh_.faces.push_back(std::move(corners));
    mesh_.face_lines.push_back(line);
  }

  MeshText text_;
  BitBudget bits_;
  Mesh mesh_;
};

}  // namespace

Mesh read_obj(std::string_view bytes, BitBudget bits) {
  return ObjReader(bytes, bits).read();
}

}  // namespace cutproof

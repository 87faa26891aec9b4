// SPDX-License-Identifier: GPL-3.0-or-later
// STL: triangles by the coordinates of their corners, counterclockwise as seen from outside; normals say nothing more. As
// text, or as 80 bytes for anything, a count, and 50 bytes a triangle: twelve floats and two bytes for anything.
#include "solid/mesh/formats.hpp"

#include <algorithm>
#include <cstring>
#include <unordered_map>

namespace cutproof {

namespace {

/// Words in either case.
std::string lower(std::string_view word) {
  std::string result(word);
  std::transform(result.begin(), result.end(), result.begin(), [](char letter) {
    return letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
  });
  return result;
}

/// Points that are written alike are read once.
class KnownPoints {
 public:
  explicit KnownPoints(Mesh* mesh) : mesh_(mesh) {}
  template <class Read>
  int index(const std::string& written, const Read& read) {
    const auto [known, fresh] = known_.try_emplace(written, static_cast<int>(mesh_->points.size()));
    if (fresh) mesh_->points.push_back(read());
    return known->second;
  }

 private:
  Mesh* mesh_;
  std::unordered_map<std::string, int> known_;
};

class TextStlReader {
 public:
  TextStlReader(std::string_view bytes, BitBudget bits) : text_(bytes, /*comments=*/false), bits_(bits), points_(&mesh_) {
    mesh_.kind = "STL";
    mesh_.first_point = 1;
  }

  Mesh read() {
    while (!text_.at_end()) {
      expect("solid");
      text_.rest_of_line();  // its name
      for (;;) {
        const std::string word = lower(text_.word("`facet` or `endsolid`"));
        if (word == "endsolid") break;
        if (word != "facet") text_.fail(shown_bytes(word) + " stands where `facet` or `endsolid` is wanted");
        triangle();
      }
      text_.rest_of_line();
    }
    return std::move(mesh_);
  }

 private:
  void expect(const char* keyword) {
    const std::string_view word = text_.word(std::string("`") + keyword + "`");
    if (lower(word) != keyword) text_.fail(shown_bytes(word) + " stands where `" + keyword + "` is wanted");
  }

  void triangle() {
    mesh_.face_lines.push_back(text_.line());
    expect("normal");
    for (int i = 0; i < 3; ++i) text_.word("a normal");
    expect("outer");
    expect("loop");
    std::vector<int> corners;
    for (int i = 0; i < 3; ++i) {
      expect("vertex");
      std::string_view words[3];
      std::string written;
      for (std::string_view& word : words) {
        word = text_.word("a coordinate");
        (written += word) += ' ';
      }
      corners.push_back(points_.index(written, [&] {
        return std::array<Rational, 3>{text_.number(words[0], "a coordinate", bits_),
                                       text_.number(words[1], "a coordinate", bits_),
                                       text_.number(words[2], "a coordinate", bits_)};
      }));
    }
    expect("endloop");
    expect("endfacet");
    mesh_.faces.push_back(std::move(corners));
  }

  MeshText text_;
  BitBudget bits_;
  Mesh mesh_;
  KnownPoints points_;
};

}  // namespace

Mesh read_text_stl(std::string_view bytes, BitBudget bits) {
  return TextStlReader(bytes, bits).read();
}

Mesh read_binary_stl(std::string_view bytes, BitBudget bits) {
  constexpr std::size_t header = 84, record = 50, normal = 12, corner = 12;
  Mesh mesh;
  mesh.kind = "binary STL";
  mesh.first_point = 1;
  KnownPoints points(&mesh);
  for (std::size_t at = header; at + record <= bytes.size(); at += record) {
    std::vector<int> corners;
    for (std::size_t i = 0; i < 3; ++i) {
      const std::string_view written = bytes.substr(at + normal + i * corner, corner);
      corners.push_back(points.index(std::string(written), [&] {
        std::array<Rational, 3> point;
        for (std::size_t axis = 0; axis < 3; ++axis) {
          const auto pattern = static_cast<std::uint32_t>(little_endian(written.substr(4 * axis, 4)));
          float value = 0;
          std::memcpy(&value, &pattern, sizeof value);
          if (!exact_fraction(value, &point[axis]))
            throw InvalidInput("a coordinate of face " + std::to_string(mesh.faces.size() + 1) + " is no number");
          bits.take(point[axis]);
        }
        return point;
      }));
    }
    mesh.faces.push_back(std::move(corners));
  }
  return mesh;
}

}  // namespace cutproof

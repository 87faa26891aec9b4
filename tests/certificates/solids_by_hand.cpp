// SPDX-License-Identifier: GPL-3.0-or-later
#include "solids_by_hand.hpp"

#include "solid/edges.hpp"

#include <cstdlib>
#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>

namespace cutproof::test {

namespace {

Vector3 area_vector(const std::vector<Vector3>& corners, const std::vector<int>& cycle) {
  Vector3 sum;
  for (std::size_t i = 1; i + 1 < cycle.size(); ++i)
    sum = sum + cross(corners[cycle[i]] - corners[cycle[0]], corners[cycle[i + 1]] - corners[cycle[0]]);
  return sum;
}

}  // namespace

SolidPointer hull(std::vector<Vector3> points) {
  return make_solid(HullDescription{std::move(points)});
}

SolidPointer box(const Number& a, const Number& b, const Number& c) {
  std::vector<Vector3> corners;
  for (int i = 0; i < 8; ++i) corners.push_back({i & 1 ? a : Number(0), i & 2 ? b : Number(0), i & 4 ? c : Number(0)});
  return hull(std::move(corners));
}

SolidPointer surface(const std::vector<Vector3>& corners, const std::vector<std::vector<int>>& faces) {
  Boundary boundary;
  boundary.vertices = corners;
  for (const auto& cycle : faces) {
    const Vector3 normal = area_vector(corners, cycle);
    boundary.facets.push_back({{normal, dot(normal, corners[cycle[0]])}, {cycle}});
  }
  return make_solid(SurfaceDescription{normalised(boundary)});
}

SolidPointer off_file(const std::string& name) {
  std::ifstream file(std::string(TEST_SOLIDS_FOLDER) + "/" + name);
  if (!file) throw std::runtime_error("cannot read " + name);
  std::string line, text;
  while (std::getline(file, line))
    if (!line.empty() && line[0] != '#' && line != "OFF") text += line + "\n";
  std::istringstream in(text);
  std::size_t vertex_count = 0, face_count = 0, edge_count = 0;
  in >> vertex_count >> face_count >> edge_count;
  std::vector<Vector3> corners(vertex_count);
  for (Vector3& corner : corners) {
    long x = 0, y = 0, z = 0;
    in >> x >> y >> z;
    corner = {x, y, z};
  }
  std::vector<std::vector<int>> faces(face_count);
  for (auto& face : faces) {
    std::size_t size = 0;
    in >> size;
    face.resize(size);
    for (int& corner : face) in >> corner;
  }
  if (!in) throw std::runtime_error("cannot understand " + name);
  return surface(corners, faces);
}

SolidPointer jessen_icosahedron() {
  std::vector<Vector3> corners;
  std::map<std::vector<long>, int> numbers;
  const auto corner = [&](long x, long y, long z) {
    const auto [place, fresh] = numbers.emplace(std::vector<long>{x, y, z}, static_cast<int>(corners.size()));
    if (fresh) corners.push_back({x, y, z});
    return place->second;
  };
  std::vector<std::vector<int>> faces;
  for (int signs = 0; signs < 8; ++signs) {
    const long a = signs & 1 ? -1 : 1, b = signs & 2 ? -1 : 1, c = signs & 4 ? -1 : 1;
    std::vector<int> face = {corner(2 * a, b, 0), corner(0, 2 * b, c), corner(a, 0, 2 * c)};
    if (a * b * c < 0) std::swap(face[1], face[2]);
    faces.push_back(face);
  }
  // Six long edges, such as (1,0,2) to (1,0,-2), with a triangle on either side; seen from outside the dent.
  for (int axis = 0; axis < 3; ++axis)
    for (const long a : {1L, -1L}) {
      const auto turned = [&](long x, long y, long z) {
        return axis == 0 ? corner(x, y, z) : axis == 1 ? corner(z, x, y) : corner(y, z, x);
      };
      const int up = turned(a, 0, 2), down = turned(a, 0, -2), left = turned(2 * a, 1, 0), right = turned(2 * a, -1, 0);
      const bool positive = a > 0;
      faces.push_back(positive ? std::vector<int>{left, up, down} : std::vector<int>{left, down, up});
      faces.push_back(positive ? std::vector<int>{right, down, up} : std::vector<int>{right, up, down});
    }
  return surface(corners, faces);
}

SolidPointer regular_tetrahedron() {
  return hull({{1, 1, 1}, {1, -1, -1}, {-1, 1, -1}, {-1, -1, 1}});
}

SolidPointer regular_octahedron() {
  return hull({{2, 0, 0}, {-2, 0, 0}, {0, 2, 0}, {0, -2, 0}, {0, 0, 2}, {0, 0, -2}});
}

AngleRules right_angles(std::vector<std::pair<Angle, long>> exceptions) {
  return {{degrees_angle(Number(90)), degrees_angle(Number(270))}, std::move(exceptions)};
}

namespace {
/// For whom it may concern: into a folder that the environment names.
void write(const std::string& name, const std::string& text) {
  const char* folder = std::getenv("TEST_REPORTS_FOLDER");
  if (folder == nullptr) return;
  std::ofstream file(std::string(folder) + "/" + name + ".json");
  file << text;
  if (!file.flush()) throw std::runtime_error("cannot write the report " + name);
}
}  // namespace

void write_report(const std::string& name, const MeasureResult& result) {
  write(name, json_report(std::vector<MeasureResult>{result}));
}
void write_report(const std::string& name, const CompareResult& result) {
  write(name, json_report(result));
}

}  // namespace cutproof::test

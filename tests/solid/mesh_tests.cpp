// SPDX-License-Identifier: GPL-3.0-or-later
// Readers of meshes: each number exactly as it is written, in every format, and what is said of files that are wrong.
#include "solid/mesh/mesh.hpp"

#include "number/decimal.hpp"
#include "number/errors.hpp"
#include "number/number.hpp"
#include "number/print.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstdint>
#include <cstring>
#include <random>
#include <utility>
#include <vector>

using namespace cutproof;
using Catch::Matchers::Contains;

namespace {

constexpr std::size_t bits = 1u << 20;

std::string text_of(const Rational& value) {
  return to_exact(Number(value, Field::rational()));
}

/// The corners of all faces, with their coordinates.
std::string faces_of(const Mesh& mesh) {
  std::string text;
  for (const std::vector<int>& face : mesh.faces) {
    text += text.empty() ? "" : " | ";
    for (std::size_t i = 0; i < face.size(); ++i) {
      const auto& [x, y, z] = mesh.points[static_cast<std::size_t>(face[i])];
      text += (i ? " " : "") + text_of(x) + "," + text_of(y) + "," + text_of(z);
    }
  }
  return text;
}

std::string message_of(const std::string& bytes) {
  try {
    read_mesh(bytes, bits);
  } catch (const InvalidInput& error) {
    return error.what();
  }
  return "nothing is wrong";
}

template <class Value>
std::string bytes_of(Value value, bool big_end_first = false) {
  std::string bytes(sizeof value, '\0');
  std::memcpy(&bytes[0], &value, sizeof value);
  return big_end_first ? std::string(bytes.rbegin(), bytes.rend()) : bytes;
}

std::string stl_of(const std::vector<float>& coordinates, std::uint32_t count) {
  std::string bytes(80, ' ');
  bytes += bytes_of(count);
  for (std::size_t i = 0; i + 9 <= coordinates.size(); i += 9) {
    bytes += std::string(12, '\0');
    for (std::size_t k = 0; k < 9; ++k) bytes += bytes_of(coordinates[i + k]);
    bytes += std::string(2, '\0');
  }
  return bytes;
}

std::string ply_of(const std::string& form, const std::string& vertex, const std::string& face, const std::string& body) {
  return "ply\nformat " + form + " 1.0\ncomment seen from outside\n" + vertex + face + "end_header\n" + body;
}

const std::string three_points = "element vertex 3\nproperty double x\nproperty double y\nproperty double z\n";
const std::string one_face = "element face 1\nproperty list uchar int vertex_indices\n";

}  // namespace

TEST_CASE("decimals are read exactly") {
  const std::pair<const char*, const char*> decimals[] = {{"0.1", "1/10"},
                                                          {"-.5", "-1/2"},
                                                          {"+2.", "2"},
                                                          {"1e-3", "1/1000"},
                                                          {"12.50E+1", "125"},
                                                          {"-0", "0"},
                                                          {"0e99999999999999999999", "0"}};
  for (const auto& [text, value] : decimals) {
    INFO(text);
    REQUIRE(is_decimal(text));
    CHECK(text_of(decimal_value(text, bits)) == value);
  }
  for (const char* text : {"", "+", ".", "e5", "1e", "1e+", "nan", "inf", "0x10", "1,5", "1 ", "--1", "1.2.3", "1f"}) {
    INFO(text);
    CHECK_FALSE(is_decimal(text));
  }
  CHECK_THROWS_AS(decimal_value("1e1000000000", bits), LimitReached);
  CHECK_THROWS_AS(decimal_value("1e-99999999999999999999999", bits), LimitReached);
}

TEST_CASE("the same triangle in every format") {
  const std::string triangle = "0,0,0 1/10,0,0 0,-1/1000000000000000000000000000000,2";
  const std::string points = "0 0 0\n0.1 0 0\n0 -1e-30 2\n";
  CHECK(faces_of(read_mesh("OFF\n3 1 0\n" + points + "3 0 1 2\n", bits)) == triangle);
  CHECK(
      faces_of(read_mesh("# made by hand\r\nCOFF # with colours\r\n3 1\r\n0 0 0 255 0 0 1\r\n0.1 0 0 0 0 0 1\r\n0 -1e-30 2 "
                         "9 9 9 1\r\n3 0 1 2 0.5 0.5 0.5\r\n",
                         bits)) == triangle);
  CHECK(faces_of(
            read_mesh("# a comment\nmtllib x.mtl\no thing\nv 0 0 0\nv 0.1 0 0 1\nv 0 -1e-30 2 0.5 0.5 0.5\nvn 0 0 1\ng a\n"
                      "usemtl b\ns off\nf 1/1/1 2//1 3\n",
                      bits)) == triangle);
  CHECK(faces_of(read_mesh("v 0 0 0\nv 0.1 0 0\nv 0 -1e-30 \\\n 2\nf -3 \\\n-2 -1", bits)) == triangle);
  CHECK(faces_of(read_mesh(ply_of("ascii", three_points, one_face, points + "3 0 1 2\n"), bits)) == triangle);
  CHECK(faces_of(
            read_mesh("solid a name\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 0.1 0.0 0e0\nVERTEX 0 -1e-30 2\n"
                      "endloop\nendfacet\nendsolid a name\n",
                      bits)) == triangle);
}

TEST_CASE("binary numbers are the fractions that they are") {
  // IEEE 754: 0.1 as a float is 13421773/2^27, as a double 3602879701896397/2^55.
  const std::string single = "0,0,0 13421773/134217728,0,0 0,-1/1024,2";
  CHECK(faces_of(read_mesh(stl_of({0, 0, 0, 0.1f, 0, 0, 0, -0x1p-10f, 2}, 1), bits)) == single);
  CHECK(read_mesh(stl_of({0, 0, 0, 0.1f, 0, 0, 0, -0x1p-10f, 2}, 1), bits).kind == "binary STL");
  for (const bool big : {false, true}) {
    std::string body;
    for (const double each : {0.0, 0.0, 0.0, 0.1, -0.0, 0.0, 0.0, -0x1p-1074, 0x1p1000}) body += bytes_of(each, big);
    body += bytes_of<std::uint8_t>(3);
    for (const int each : {0, 1, 2}) body += bytes_of(each, big);
    const Mesh mesh =
        read_mesh(ply_of(big ? "binary_big_endian" : "binary_little_endian", three_points, one_face, body), bits);
    CHECK(text_of(mesh.points[1][0]) == "3602879701896397/36028797018963968");
    Rational expected;
    fmpz_one(expected.numerator());
    fmpz_mul_2exp(expected.numerator(), expected.numerator(), 1000);
    CHECK(fmpq_equal(mesh.points[2][2], expected) != 0);
    fmpz_set_si(expected.numerator(), -1);
    fmpz_one(expected.denominator());
    fmpz_mul_2exp(expected.denominator(), expected.denominator(), 1074);
    CHECK(fmpq_equal(mesh.points[2][1], expected) != 0);
    CHECK(mesh.faces == std::vector<std::vector<int>>{{0, 1, 2}});
  }
}

TEST_CASE("what has no part in the surface is read over, and equal points are one") {
  const std::string vertex =
      "element edge 1\nproperty int8 a\nproperty list uint16 float32 b\nelement vertex 4\nproperty uchar red\nproperty "
      "short x\n"
      "property list uchar short spare\nproperty float y\nproperty int z\n";
  const std::string face =
      "element face 1\nproperty float weight\nproperty list int uint vertex_index\nelement after 1000000000\n";
  const Mesh mesh = read_mesh(
      ply_of("ascii", vertex, face, "-3 2 0.5 0.25\n9 0 0 0 0\n9 1 2 7 7 0 0\n9 1 0 0 0\n9 0 1 5 1.5 0\n0.5 3 0 2 3\n"),
      bits);
  CHECK(faces_of(mesh) == "0,0,0 1,0,0 0,3/2,0");
  CHECK(mesh.faces.front() == std::vector<int>{0, 1, 3});
  CHECK(mesh.point_name(3) == "number 3");
}

TEST_CASE("a mesh that is wrong is refused with its line, or with its number") {
  const std::string off = "OFF\n3 1 0\n0 0 0\n1 0 0\n0 1 0\n";
  const std::string obj = "v 0 0 0\nv 1 0 0\nv 0 1 0\n";
  const std::string stl =
      "solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\n";
  const std::pair<std::string, const char*> wrong[] = {
      {"", "the file is empty"},
      {"\n \t\n", "none of the kinds"},
      {"hello", "none of the kinds"},
      {std::string(300, '\0'), "as a binary STL it is to have 0 triangles, which take 84 bytes, but the file has 300"},
      {off, "line 6: the file ends where the number of corners of face 1 is wanted"},
      {off + "3 0 1 -1\n", "line 6: a corner of face 1 is `-1`, and it is to be from 0 to 2"},
      {off + "3 0 1 3\n", "line 6: a corner of face 1 is `3`, and it is to be from 0 to 2"},
      {off + "3 0 1 1.5\n", "line 6: `1.5` is no whole number; a corner of face 1 is wanted here"},
      {off + "3 0 1 2 1 2 3 4 5\n", "line 6: `5` stands behind the corners of a face"},
      {off + "3 0 1 2\n3 0 1 2\n", "line 7: `3` stands behind the last face"},
      {"OFF\n3 1 0\n0 0 0 255 0 0\n", "line 3: `255` stands behind the coordinates of a point"},
      {"OFF\n4000000000 1 0\n0 0 0\n", "line 4: the file ends where x of the point 1 is wanted"},
      {"OFF\n-3 1 0\n", "line 2: the number of points is `-3`, which is negative"},
      {"OFF\n99999999999999999999 1 0\n", "line 2: the number of points is `99999999999999999999`, which is too large"},
      {"OFF BINARY\n", "line 1: a binary OFF is not read"},
      {"4OFF\n1 1 1\n", "line 1: `4OFF` has points of another dimension than 3"},
      {"OFF\n1 0 0\n0 0 one\n", "line 3: `one` is no number; z of the point 0 is wanted here"},
      {"OFF\n1 0 0\n0 0 `\x1b\xff\n", "line 3: `???` is no number"},
      {obj + "v 0 nan 0\n", "line 4: `nan` is no number; a coordinate is wanted here"},
      {obj + "v 0 0\n", "line 4: a point has three coordinates, and here are 2"},
      {obj + "v 0 0 0 2\n", "line 4: the weight of this point is `2`"},
      {obj + "f 1 2 0\n", "line 4: a corner is `0`, and points are counted from 1"},
      {obj + "f 1 2 -4\n", "line 4: a corner is `-4`"},
      {obj + "f 1 2 4\n", "line 4: there is no point number 4: the file has 3"},
      {obj + "f 1 2 x\n", "line 4: `x` is no whole number"},
      {obj + "f 1/a 2 3\n", "line 4: `1/a` is no corner"},
      {obj + "curv 0 1 2\n", "line 4: `curv` is nothing that a closed surface of plane faces is made of"},
      {"ply\nformat ascii 2.0\n", "line 2: `format` is wanted here"},
      {"ply\nformat ebcdic 1.0\n", "line 2: `ebcdic` is no form of a PLY"},
      {"ply\nformat ascii 1.0\nelement vertex 3\nproperty quad x\n", "line 4: `quad` is no type of numbers"},
      {"ply\nformat ascii 1.0\nelement vertex 3\n", "line 4: the header does not end"},
      {"ply\nformat ascii 1.0\nproperty int x\n", "line 3: a property stands before all elements"},
      {"ply\nformat ascii 1.0\nelement a 1\nelement a 1\n", "line 4: the elements `a` stand here twice"},
      {"ply\nformat ascii 1.0\nelement a 1\nproperty int b\nproperty int b\n", "line 5: the property `b` stands here twice"},
      {"ply\nformat ascii 1.0\nelement a 1\nproperty list float int b\n", "line 4: the length of a list is a whole number"},
      {"ply\nformat ascii 1.0\nmaterial red\n", "line 3: `material` begins no line of a header"},
      {ply_of("ascii", three_points, "", ""), "this PLY has no elements `face`"},
      {ply_of("ascii", "", one_face, ""), "this PLY has no elements `vertex`"},
      {ply_of("ascii", "element vertex 1\nproperty int x\n", one_face, ""), "no coordinate `y`"},
      {ply_of("ascii", three_points, "element face 1\nproperty list uchar float vertex_indices\n", ""),
       "have no list `vertex_indices` of whole numbers"},
      {ply_of("ascii", three_points, one_face, "0 0 0 1 0 0 0 1 0 3 0 1 3"),
       "is 3, and the points are numbered from 0 to 2"},
      {ply_of("ascii", three_points, one_face, "0 0 0 1 0 0 0 1 0 3 0 1 2 7"), "something stands behind the last element"},
      {ply_of("ascii", three_points, one_face, "0 0 0 1 0 0 0 1 0 -1"), "is -1, which is negative"},
      {ply_of("ascii", three_points, one_face, "0 0 0 1 0 0\n0 1"), "line 12: the file ends where z of the element 2"},
      {ply_of("binary_little_endian", three_points, one_face, std::string(30, '\0')),
       "the file ends in the element 1 of `vertex` of 3"},
      {ply_of("binary_little_endian", three_points, one_face, std::string(24, '\xff') + std::string(60, '\0')),
       "x of the element 0 of `vertex` is no number"},
      {stl, "line 9: the file ends where `facet` or `endsolid` is wanted"},
      {stl.substr(0, 70), "the file ends where"},
      {stl + "endsolid\nfacet\n", "line 10: `facet` stands where `solid` is wanted"},
      {"solid\nfacet normal 0 0 0\nouter loop\nvertex 0 0 0\nendloop\n",
       "line 5: `endloop` stands where `vertex` is wanted"},
      {"solid\nfacet normal 0 0 0\nouter loop\nvertex 0 0 inf\nvertex\n", "line 4: `inf` is no number"},
      {stl_of({}, 4000000000u),
       "as a binary STL it is to have 4000000000 triangles, which take 200000000084 bytes, but the file has 84"},
      {stl_of({0, 0, 0, 1, 0, 0, 0, 1, 0}, 1).substr(0, 100), "as a binary STL it is to have 1 triangles"},
      {stl_of({0, 0, 0, 1, 0, 0, 0, 1, NAN}, 1), "a coordinate of face 1 is no number"},
  };
  for (const auto& [bytes, message] : wrong) {
    INFO(bytes.substr(0, 120));
    CHECK_THAT(message_of(bytes), Contains(message));
  }
  CHECK_THROWS_AS(read_mesh("OFF\n1 0 0\n0 0 1e999999999\n", bits), LimitReached);
  CHECK_THROWS_AS(read_mesh("OFF\n1 0 0\n0 0 1e30\n", 64), LimitReached);
}

TEST_CASE("every beginning of a mesh, and every byte changed, is read or refused") {
  std::string binary_body;
  for (const double each : {0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0, 0.0}) binary_body += bytes_of(each);
  binary_body += bytes_of<std::uint8_t>(3);
  for (const int each : {0, 1, 2}) binary_body += bytes_of(each);
  const std::string meshes[] = {
      "OFF\n3 1 0\n0 0 0\n1 0 0\n0 1 0\n3 0 1 2\n",
      "v 0 0 0\nv 1 0 0\nv 0 1 0 \\\n 1\nf 1/1 2//2 -1\n",
      ply_of("ascii", three_points, one_face, "0 0 0\n1 0 0\n0 1 0\n3 0 1 2\n"),
      ply_of("binary_little_endian", three_points, one_face, binary_body),
      "solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\nendsolid\n",
      stl_of({0, 0, 0, 1, 0, 0, 0, 1, 0}, 1)};
  constexpr unsigned seed = 20261129;
  INFO("seed " << seed);
  std::mt19937 random(seed);
  std::size_t read = 0, refused = 0;
  const auto try_it = [&](const std::string& bytes) {
    try {
      const Mesh mesh = read_mesh(bytes, 1000);
      for (const std::vector<int>& face : mesh.faces)
        for (const int corner : face) REQUIRE((corner >= 0 && static_cast<std::size_t>(corner) < mesh.points.size()));
      ++read;
    } catch (const InvalidInput& error) {
      REQUIRE(std::string(error.what()).size() < 300);
      ++refused;
    } catch (const LimitReached&) {
      ++refused;
    }
  };
  for (const std::string& mesh : meshes) {
    for (std::size_t size = 0; size <= mesh.size(); ++size) try_it(mesh.substr(0, size));
    for (int i = 0; i < 2000; ++i) {
      std::string changed = mesh;
      for (int k = 0; k <= i % 3; ++k) changed[random() % changed.size()] = static_cast<char>(random());
      try_it(changed);
    }
  }
  CHECK(read > 100);
  CHECK(refused > 1000);
}

// SPDX-License-Identifier: GPL-3.0-or-later
// Which format a file has, and what all of them need.
#include "solid/mesh/mesh.hpp"

#include "number/decimal.hpp"
#include "solid/mesh/formats.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <iterator>
#include <numeric>

namespace cutproof {

namespace {

bool is_blank(char letter) {
  return letter == ' ' || letter == '\t' || letter == '\n' || letter == '\r' || letter == '\v' || letter == '\f';
}

bool is_one_of(std::string_view word, std::initializer_list<std::string_view> words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

/// `OFF`, and what may stand before it.
bool is_off(std::string_view word) {
  for (const std::string_view prefix : {"ST", "C", "N", "4", "n"})
    if (word.substr(0, prefix.size()) == prefix) word.remove_prefix(prefix.size());
  return word == "OFF";
}

bool is_below(const std::array<Rational, 3>& a, const std::array<Rational, 3>& b) {
  for (std::size_t i = 0; i < 3; ++i)
    if (const int order = fmpq_cmp(a[i], b[i]); order != 0) return order < 0;
  return false;
}

/// Has faces use the first of equal points.
void unite_points(Mesh* mesh) {
  std::vector<int> order(mesh->points.size()), first(mesh->points.size());
  std::iota(order.begin(), order.end(), 0);
  const auto point = [&](int index) -> const std::array<Rational, 3>& {
    return mesh->points[static_cast<std::size_t>(index)];
  };
  std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return is_below(point(a), point(b)); });
  for (std::size_t i = 0; i < order.size(); ++i) {
    const bool equal = i > 0 && !is_below(point(order[i - 1]), point(order[i]));
    first[static_cast<std::size_t>(order[i])] = equal ? first[static_cast<std::size_t>(order[i - 1])] : order[i];
  }
  for (std::vector<int>& face : mesh->faces)
    for (int& corner : face) corner = first[static_cast<std::size_t>(corner)];
}

Mesh read_by_content(std::string_view bytes, BitBudget bits) {
  if (bytes.empty()) throw InvalidInput("the file is empty");
  if (bytes.substr(0, 4) == "ply\n" || bytes.substr(0, 4) == "ply\r") return read_ply(bytes, bits);
  constexpr std::size_t header = 84, record = 50;
  const unsigned long triangles = bytes.size() < header ? 0 : little_endian(bytes.substr(80, 4));
  if (bytes.size() >= header && (bytes.size() - header) % record == 0 && (bytes.size() - header) / record == triangles)
    return read_binary_stl(bytes, bits);
  const bool is_text = bytes.substr(0, 1024).find('\0') == std::string_view::npos;
  if (is_text) {
    MeshText text(bytes, /*comments=*/true);
    const std::string_view first = text.at_end() ? std::string_view() : text.word("");
    if (is_off(first)) return read_off(bytes, bits);
    if (is_one_of(first, {"v", "vt", "vn", "vp", "f", "o", "g", "s", "mtllib", "usemtl"})) return read_obj(bytes, bits);
    if (is_one_of(first, {"solid", "SOLID", "Solid"})) return read_text_stl(bytes, bits);
  } else if (bytes.size() >= header) {
    throw InvalidInput("as a binary STL it is to have " + std::to_string(triangles) + " triangles, which take " +
                           std::to_string(header + record * triangles) + " bytes, but the file has " +
                           std::to_string(bytes.size()),
                       "it was cut off, or it is something else");
  }
  throw InvalidInput("this is none of the kinds of meshes that are read",
                     "these are OFF, OBJ, PLY and STL; which one a file is, is told by how it begins");
}

}  // namespace

std::string Mesh::face_name(std::size_t face) const {
  const std::string name = "face " + std::to_string(face + 1);
  return face_lines.empty() ? name : name + " (line " + std::to_string(face_lines[face]) + ")";
}

std::string Mesh::point_name(std::size_t point) const {
  return "number " + std::to_string(static_cast<long>(point) + first_point);
}

Mesh read_mesh(std::string_view bytes, std::size_t max_bits) {
  Mesh mesh = read_by_content(bytes, BitBudget(max_bits));
  unite_points(&mesh);
  return mesh;
}

std::string shown_bytes(std::string_view bytes) {
  constexpr std::size_t most = 40;
  std::string shown = "`";
  for (const char byte : bytes.substr(0, most)) shown += byte > ' ' && byte <= '~' && byte != '`' ? byte : '?';
  return shown + (bytes.size() > most ? "...`" : "`");
}

void BitBudget::take(const Rational& value) {
  used_ += fmpz_bits(value.numerator()) + fmpz_bits(value.denominator());
  if (used_ > of_all)
    throw LimitReached("max-bits", "the coordinates of this mesh take more than " + std::to_string(of_all >> 23) + " MB",
                       "are their exponents meant to be smaller?");
}

bool MeshText::skip_blanks(bool over_lines) {
  for (; at_ < text_.size(); ++at_) {
    const char letter = text_[at_];
    if (letter == '\n' || letter == '\r') {
      if (!over_lines) return false;
      if (letter == '\n' || at_ + 1 == text_.size() || text_[at_ + 1] != '\n') ++line_;
    } else if (comments_ && letter == '#') {
      while (at_ + 1 < text_.size() && text_[at_ + 1] != '\n' && text_[at_ + 1] != '\r') ++at_;
    } else if (!is_blank(letter)) {
      return true;
    }
  }
  return false;
}

bool MeshText::at_end() {
  const bool more = skip_blanks(/*over_lines=*/true);
  word_line_ = line_;
  return !more;
}

std::string_view MeshText::word(const std::string& what) {
  if (at_end()) fail("the file ends where " + what + " is wanted", "was it cut off?");
  const std::size_t begin = at_;
  while (at_ < text_.size() && !is_blank(text_[at_]) && !(comments_ && text_[at_] == '#')) ++at_;
  return text_.substr(begin, at_ - begin);
}

std::vector<std::string_view> MeshText::rest_of_line() {
  std::vector<std::string_view> words;
  while (skip_blanks(/*over_lines=*/false)) words.push_back(word(""));
  return words;
}

void MeshText::fail(const std::string& message, const std::string& hint) const {
  throw InvalidInput("line " + std::to_string(word_line_) + ": " + message, hint);
}

Rational MeshText::number(std::string_view word, const std::string& what, BitBudget& bits) const {
  if (!is_decimal(word)) fail(shown_bytes(word) + " is no number; " + what + " is wanted here");
  Rational value = decimal_value(word, bits.of_one());
  bits.take(value);
  return value;
}

long MeshText::whole(std::string_view word, const std::string& what, long least, long most) const {
  long value = 0;
  const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
  if (error == std::errc::invalid_argument || end != word.data() + word.size())
    fail(shown_bytes(word) + " is no whole number; " + what + " is wanted here");
  if (error != std::errc() || value < least || value > most) {
    const bool bounded = least > std::numeric_limits<long>::min() && most < std::numeric_limits<long>::max();
    fail(what + " is " + shown_bytes(word) +
         (bounded                   ? ", and it is to be from " + std::to_string(least) + " to " + std::to_string(most)
          : least == 0 && value < 0 ? ", which is negative"
                                    : ", which is too large"));
  }
  return value;
}

bool exact_fraction(double value, Rational* fraction) {
  if (!std::isfinite(value)) return false;
  constexpr int digits = std::numeric_limits<double>::digits;
  int exponent = 0;
  const double mantissa = std::ldexp(std::frexp(value, &exponent), digits);  // a whole number
  exponent -= digits;
  fmpz_set_si(fraction->numerator(), static_cast<long>(mantissa));
  fmpz_one(fraction->denominator());
  fmpz* const scaled = exponent < 0 ? fraction->denominator() : fraction->numerator();
  fmpz_mul_2exp(scaled, scaled, static_cast<ulong>(std::abs(exponent)));
  fmpq_canonicalise(*fraction);
  return true;
}

unsigned long little_endian(std::string_view bytes) {
  unsigned long value = 0;
  for (std::size_t i = bytes.size(); i-- > 0;) value = value << 8 | static_cast<unsigned char>(bytes[i]);
  return value;
}

}  // namespace cutproof

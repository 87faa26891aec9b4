// SPDX-License-Identifier: GPL-3.0-or-later
// Whoever writes a new message about planes or solids looks here: where exchanging single words makes bad English, the whole
// phrase stands in the table.
#include "plan/dimension_words.hpp"

#include <algorithm>
#include <cctype>
#include <iterator>

namespace cutproof {

namespace {

struct Exchange {
  std::string_view space, plane;
};

// Longer phrases stand before their parts.
constexpr Exchange phrases[] = {
    {"volumes and Dehn invariants are equal, and by the theorem of Dehn and Sydler that is all a dissection needs",
     "the areas are equal, and by the theorem of Wallace, Bolyai and Gerwien that is all a dissection of polygons needs"},
    {"the face that is laid has {corners} corners and the area {area}, the other {corners_there} corners and the area "
     "{area_there}",
     "the edge that is laid has the length {area}, the other the length {area_there}"},
    {"pieces hang together where they share an area of their faces: an edge or a corner is not enough",
     "pieces hang together where they share a length of their edges: a corner is not enough"},
    {"do not hang together through faces", "do not hang together along edges"},
    {"write three points", "write two points"},
    {"name a plane in which there is", "name a line on which there is"},
    {"in the plane of", "on the line of"},
    {"in the plane", "on the line"},
    {"no motion in space", "no motion in two dimensions"},
    {"a face", "an edge"},
    {"a volume", "an area"},
    {"one face", "one edge"},
    {"linear in x, y and z", "linear in x and y"},
    {"the dihedral angles of", "the angles of"},
    {"dihedral angles", "angles"},
    {"every edge is to have", "every corner is to have"},
    {"edge has", "corner has"},
    {"edges have", "corners have"},
    {"plane", "line"},
    {"planes", "lines"},
    {"solid", "figure"},
    {"solids", "figures"},
    {"volume", "area"},
    {"volumes", "areas"},
    {"Volume", "Area"},
    {"face", "edge"},
    {"faces", "edges"},
};

constexpr Exchange examples[] = {
    {"`planes`", "`lines`"},
    {"`solids`", "`figures`"},
    {"`volume`", "`area`"},
    {"`volume: { A: 1/2 }`", "`area: { A: 1/2 }`"},
    {"`[x, y, z]`", "`[x, y]`"},
    {"`[P, Q, R]`", "`[P, Q]`"},
    {"`[[0, 0, 0], P, ...]`", "`[[0, 0], P, ...]`"},
    {"`{ through: [P, Q, R] }`", "`{ through: [P, Q] }`"},
    {"`{ from: [P, Q, R], to: [S, T, U] }`", "`{ from: [P, Q], to: [S, T] }`"},
    {"`{ box: { size: [1, 1, 1] } }`", "`{ box: { size: [1, 1] } }`"},
    {"`{ size: [1, 2, 3], at: [0, 0, 0] }`", "`{ size: [1, 2], at: [0, 0] }`"},
    {"`{ solid: S, factor: 2, about: [0, 0, 0] }`", "`{ solid: S, factor: 2, about: [0, 0] }`"},
    {"`{ solid: S, in: PLANE }`", "`{ solid: S, in: LINE }`"},
    {"`{ translation: [1, 0, 0] }`", "`{ translation: [1, 0] }`"},
    {"`move: { A: { translation: [1, 0, 0] } }`", "`move: { A: { translation: [1, 0] } }`"},
    {"`{ about: z, angle: 90 deg }`", "`{ about: P, angle: 90 deg }`"},
    {"`{ cut: T, by: PLANE, into: [A, B] }`", "`{ cut: T, by: LINE, into: [A, B] }`"},
    {"`{ above: PLANE }`", "`{ above: LINE }`"},
    {"`lay: { in: PLANE }`", "`lay: { in: LINE }`"},
    {"`against: { of: PIECE, in: PLANE }`", "`against: { of: PIECE, in: LINE }`"},
    {"`z`", "a third coordinate"},
};

struct DimensionWord {
  int dimension;
  std::string_view word, meant;
};

constexpr DimensionWord dimension_words[] = {
    {3, "planes", "lines"}, {2, "lines", "planes"},  {3, "solids", "figures"}, {2, "figures", "solids"},
    {3, "volume", "area"},  {2, "area", "volume"},   {3, "dehn", ""},          {3, "prism", "polygon"},
    {3, "pyramid", ""},     {3, "faces", "polygon"}, {3, "half-spaces", ""},   {3, "zonohedron", ""},
    {3, "archimedean", ""}, {3, "mesh", ""},         {2, "polygon", "prism"},
};

bool is_letter(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-' || c == '_';
}

bool stands_at(std::string_view text, std::size_t at, std::string_view phrase) {
  if (text.compare(at, phrase.size(), phrase) != 0) return false;
  const std::size_t end = at + phrase.size();
  return (at == 0 || !is_letter(text[at - 1]) || !is_letter(phrase.front())) &&
         (end == text.size() || !is_letter(text[end]) || !is_letter(phrase.back()));
}

std::string exchanged(std::string_view text, bool with_examples) {
  // What is offered there is a name of the plan's.
  with_examples = with_examples && text.find("did you mean") == std::string_view::npos;
  std::string result;
  for (std::size_t at = 0; at < text.size();) {
    const auto* found = std::find_if(std::begin(phrases), std::end(phrases),
                                     [&](const Exchange& each) { return stands_at(text, at, each.space); });
    if (found != std::end(phrases)) {
      result += found->plane;
      at += found->space.size();
      continue;
    }
    const char closing = text[at] == '`' ? '`' : text[at] == '{' ? '}' : '\0';
    const std::size_t close = closing == '\0' ? std::string_view::npos : text.find(closing, at + 1);
    if (close == std::string_view::npos) {
      result += text[at++];
      continue;
    }
    const std::string_view inner = text.substr(at, close + 1 - at);
    const auto* example = std::find_if(std::begin(examples), std::end(examples),
                                       [&](const Exchange& each) { return with_examples && each.space == inner; });
    result += example == std::end(examples) ? inner : example->plane;
    at = close + 1;
  }
  return result;
}

}  // namespace

std::string in_dimension(int dimension, std::string_view sentence) {
  return dimension == 2 ? exchanged(sentence, false) : std::string(sentence);
}

std::string hint_in_dimension(int dimension, std::string_view hint) {
  return dimension == 2 ? exchanged(hint, true) : std::string(hint);
}

int dimension_of_word(std::string_view word, std::string_view* meant) {
  const auto* found = std::find_if(std::begin(dimension_words), std::end(dimension_words),
                                   [&](const DimensionWord& each) { return each.word == word; });
  if (found == std::end(dimension_words)) return 0;
  *meant = found->meant;
  return found->dimension;
}

}  // namespace cutproof

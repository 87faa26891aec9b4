// SPDX-License-Identifier: GPL-3.0-or-later
// Words that other trades use; which of them has a meaning in a place depends on the words known there.
#include "plan/synonyms.hpp"

#include "plan/expression.hpp"
#include "plan/spelling.hpp"

#include <algorithm>

namespace cutproof {

namespace {

struct Synonym {
  std::string_view written, meant;
};

constexpr Synonym synonyms[] = {
    {"target", "goal"},
    {"result", "goal"},
    {"end", "goal"},
    {"finish", "goal"},
    {"initial", "start"},
    {"begin", "start"},
    {"source-solid", "start"},
    {"variables", "let"},
    {"parameters", "let"},
    {"constants", "let"},
    {"define", "let"},
    {"vectors", "points"},
    {"shapes", "solids"},
    {"bodies", "solids"},
    {"pieces", "solids"},
    {"moves", "steps"},
    {"actions", "steps"},
    {"name", "title"},
    {"author", "source"},
    {"reference", "source"},
    {"description", "note"},
    {"comment", "note"},
    {"slice", "cut"},
    {"saw", "cut"},
    {"place", "move"},
    {"translate", "move"},
    {"rotate", "move"},
    {"glue", "join"},
    {"merge", "join"},
    {"unite", "join"},
    {"separate", "split"},
    {"assert", "expect"},
    {"check", "expect"},
    {"with", "by"},
    {"along", "by"},
    {"plane", "by"},
    {"using", "by"},
    {"names", "into"},
    {"halves", "into"},
    {"to", "into"},
    {"to", "as"},
    {"into", "as"},
    {"name", "as"},
    {"translate", "translation"},
    {"shift", "translation"},
    {"move", "translation"},
    {"slide", "translation"},
    {"rotate", "rotation"},
    {"turn", "rotation"},
    {"spin", "rotation"},
    {"mirror", "reflection"},
    {"reflect", "reflection"},
    {"flip", "half-turn"},
    {"axis", "about"},
    {"around", "about"},
    {"by", "angle"},
    {"degrees", "angle"},
    {"cube", "box"},
    {"cuboid", "box"},
    {"block", "box"},
    {"brick", "box"},
    {"cone", "pyramid"},
    {"extrusion", "prism"},
    {"extrude", "prism"},
    {"mesh", "faces"},
    {"polyhedron", "faces"},
    {"tetrahedron", "regular"},
    {"octahedron", "regular"},
    {"dodecahedron", "regular"},
    {"icosahedron", "regular"},
    {"platonic", "regular"},
    {"subtract", "difference"},
    {"minus", "difference"},
    {"intersect", "intersection"},
    {"common", "intersection"},
    {"add", "union"},
    {"scale", "scaled"},
    {"mirror", "mirrored"},
    {"reflected", "mirrored"},
    {"origin", "at"},
    {"position", "at"},
    {"center", "at"},
    {"centre", "at"},
    {"corner", "at"},
    {"dimensions", "size"},
    {"sides", "size"},
    {"thickness", "height"},
    {"depth", "height"},
    {"polygon", "base"},
    {"outline", "base"},
    {"tip", "apex"},
    {"top", "apex"},
    {"vertices", "points"},
    {"corners", "points"},
    {"side", "edge"},
    {"length", "edge"},
    {"by", "factor"},
    {"kind", "name"},
    {"direction", "normal"},
    {"perpendicular", "normal"},
    {"points", "through"},
    {"origin", "point"},
    {"count", "pieces"},
    {"volumes", "volume"},
    {"piece", "pieces"},
    {"motion", "by"},
};

}  // namespace

std::string word_meant(std::string_view written, const std::vector<std::string>& words) {
  const std::string near = nearest_word(written, words);
  if (!near.empty()) return near;
  for (const Synonym& each : synonyms)
    if (each.written == written && std::find(words.begin(), words.end(), each.meant) != words.end())
      return std::string(each.meant);
  return "";
}

}  // namespace cutproof

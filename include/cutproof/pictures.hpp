// SPDX-License-Identifier: GPL-3.0-or-later
// Pictures of a plan as data: plane areas in the order in which they are painted. Made where the exact pieces are; whoever
// writes them as SVG needs no geometry. Coordinates are hundredths of pixels, rounded, y downward.
#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <vector>

namespace cutproof {

/// What a body in a picture is.
enum class BodyRole { piece, overlap, missing, excess };

/// Something that is painted in one way: a piece, a part of a piece that becomes one piece at the end, or a region that a
/// finding speaks of.
struct PictureBody {
  BodyRole role = BodyRole::piece;
  std::string piece;                 ///< its name in this state; of a region: empty
  std::array<double, 3> shift = {};  ///< by which it stands apart from its place
  int colour = 0;                    ///< 0 to 6: the seven of Paul Tol's bright scheme, in the order in which they are used
  int hatching = 0;                  ///< 0: none; else which, from 1
  bool pale = false;                 ///< not concerned: painted without its colour
  bool convex = false;               ///< one convex part: its areas never hide each other
};

using PictureLine = std::array<long, 4>;  ///< x, y of its two ends

struct PicturePatch {
  std::size_t body = 0;
  int tone = 0;                           ///< 0 to 2: from the lightest to the darkest
  std::vector<std::vector<long>> cycles;  ///< x, y, x, y ...: filled by the nonzero rule
  /// The whole border is drawn as edges; else it is drawn in the patch's own colour, so that nothing shines through, and
  /// over that those in `edges` are.
  bool outlined = false;
  std::vector<PictureLine> edges, cuts;  ///< true edges; cuts to come, dashed
};

/// A piece's name, where the piece is seen.
struct PictureName {
  std::size_t body = 0;
  long x = 0, y = 0;  ///< the middle of the text
  int size = 0;       ///< in pixels
};

struct Picture {
  enum class Kind { start, step, end, finding };
  Kind kind = Kind::start;
  int step = 0;                    ///< whose bench is shown; 0: the start
  std::size_t finding = 0;         ///< of `finding`: its index in `CheckResult::findings`
  bool apart = false;              ///< the pieces stand apart
  std::array<long, 4> frame = {};  ///< left, top, width, height
  std::vector<PictureBody> bodies;
  std::vector<PicturePatch> patches;  ///< the farthest first
  std::vector<PictureLine> traces;    ///< edges of regions, drawn over everything so that hidden regions are found
  std::vector<PictureName> names;
  std::vector<std::string> unnamed;  ///< concerned pieces that are seen nowhere widely enough for their names
};

/// The pictures of one plan: from one direction, in one scale.
struct PictureSet {
  std::array<double, 6> projection = {};  ///< two rows of three: a point's x and y in pixels
  std::vector<Picture> pictures;
  std::string left_out;  ///< why there are fewer than there might be, or empty
};

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// Where names can stand: a picture as pixels that tell which body is seen there. Only for names and for choosing a view;
// what hides what is decided exactly.
#pragma once

#include "cutproof/pictures.hpp"

#include <string>
#include <vector>

namespace cutproof {

class SeenMap {
 public:
  /// Paints the patches of the picture, one pixel for each. Large pictures are taken smaller.
  explicit SeenMap(const Picture& picture);

  /// How many pixels show each body.
  std::vector<std::size_t> counts() const;
  /// Finds the place for a name on what is seen of the bodies, which are one piece: as far from its border as may be, and on
  /// one patch where there is room; false where there is none for text of at least 11 pixels.
  bool place(const std::vector<std::size_t>& bodies, const std::string& text, PictureName* name) const;

 private:
  /// The patch that is seen there, or -1.
  int at(int x, int y) const { return seen_[static_cast<std::size_t>(y) * width_ + x]; }
  void paint(const PicturePatch& patch, int number);
  bool place(const std::vector<std::size_t>& bodies, const std::string& text, bool on_one_patch, PictureName* name) const;

  int width_ = 0, height_ = 0;
  double scale_ = 1;  ///< of this map's pixels to hundredths
  long left_ = 0, top_ = 0;
  std::size_t bodies_ = 0;
  int smallest_;  ///< of the sizes of names, so that none is shown below 11 pixels
  std::vector<int> seen_;
  std::vector<std::size_t> body_of_;       ///< of each patch
  std::vector<std::array<int, 4>> boxes_;  ///< of each body: where it may be seen
};

/// How wide the text is, in ems, at most, in a bold sans-serif typeface: an estimate by kinds of characters.
double text_width(const std::string& text);

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/labels.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace cutproof {
namespace {

constexpr int most_pixels_wide = 1600;
constexpr long widest_unshrunk = 42400;  // hundredths of pixels; a wider picture may be shown by a twelfth smaller

int width_in_hundredths(unsigned code) {
  if (code == ' ') return 40;
  if (code < 0x20 || (code >= 0x7f && code < 0xa0) || code == 0xad || (code >= 0x2000 && code < 0x2070) ||
      (code >= 0xe000 && code < 0xf900) || code >= 0xfe00)
    return 720;  // may be written as an escape
  if (code >= 0x80) return 120;
  const char c = static_cast<char>(code);
  if (std::string("ijlI.,:;'|!()[]-tfr").find(c) != std::string::npos) return 52;
  if (std::string("mwMW@%").find(c) != std::string::npos) return 112;
  return c >= 'a' && c <= 'z' ? 73 : 84;
}

}  // namespace

double text_width(const std::string& text) {
  double width = 0;
  for (std::size_t i = 0; i < text.size();) {
    const unsigned lead = static_cast<unsigned char>(text[i]);
    const std::size_t length = lead < 0xc0 ? 1 : lead < 0xe0 ? 2 : lead < 0xf0 ? 3 : 4;
    unsigned code = length == 1 ? lead : lead & (0xffu >> (length + 1));
    for (std::size_t k = 1; k < length && i + k < text.size(); ++k)
      code = code << 6 | (static_cast<unsigned char>(text[i + k]) & 0x3fu);
    width += width_in_hundredths(code) / 100.0;
    i += length;
  }
  return width;
}

SeenMap::SeenMap(const Picture& picture)
    : left_(picture.frame[0]),
      top_(picture.frame[1]),
      bodies_(picture.bodies.size()),
      smallest_(picture.frame[2] > widest_unshrunk ? 12 : 11) {
  const long longest = std::max({picture.frame[2], picture.frame[3], 1L});
  scale_ = std::max(100.0, static_cast<double>(longest) / most_pixels_wide);
  width_ = static_cast<int>(std::ceil(static_cast<double>(picture.frame[2]) / scale_)) + 1;
  height_ = static_cast<int>(std::ceil(static_cast<double>(picture.frame[3]) / scale_)) + 1;
  seen_.assign(static_cast<std::size_t>(width_) * height_, -1);
  boxes_.assign(bodies_, {width_, height_, -1, -1});
  for (const PicturePatch& patch : picture.patches) {
    paint(patch, static_cast<int>(body_of_.size()));
    body_of_.push_back(patch.body);
  }
}

void SeenMap::paint(const PicturePatch& patch, int number) {
  struct Crossing {
    double x;
    int sense;
  };
  double lowest = height_, highest = -1;
  for (const auto& cycle : patch.cycles)
    for (std::size_t i = 1; i < cycle.size(); i += 2) {
      const double y = static_cast<double>(cycle[i] - top_) / scale_;
      lowest = std::min(lowest, y);
      highest = std::max(highest, y);
    }
  std::vector<Crossing> crossings;
  std::array<int, 4>& box = boxes_[patch.body];
  const int first = std::max(0, static_cast<int>(std::floor(lowest)) - 1);
  const int last = std::min(height_ - 1, static_cast<int>(std::ceil(highest)) + 1);
  for (int y = first; y <= last; ++y) {
    const double middle = y + 0.5;
    crossings.clear();
    for (const auto& cycle : patch.cycles)
      for (std::size_t i = 0; i + 1 < cycle.size(); i += 2) {
        const std::size_t j = i + 2 < cycle.size() ? i + 2 : 0;
        const double y0 = static_cast<double>(cycle[i + 1] - top_) / scale_,
                     y1 = static_cast<double>(cycle[j + 1] - top_) / scale_;
        if ((y0 <= middle) == (y1 <= middle)) continue;
        const double x0 = static_cast<double>(cycle[i] - left_) / scale_,
                     x1 = static_cast<double>(cycle[j] - left_) / scale_;
        crossings.push_back({x0 + (x1 - x0) * (middle - y0) / (y1 - y0), y0 < y1 ? 1 : -1});
      }
    std::sort(crossings.begin(), crossings.end(), [](const Crossing& a, const Crossing& b) { return a.x < b.x; });
    int winding = 0;
    for (std::size_t k = 0; k + 1 < crossings.size(); ++k) {
      winding += crossings[k].sense;
      if (winding == 0) continue;
      const int from = std::max(0, static_cast<int>(std::ceil(crossings[k].x - 0.5)));
      const int to = std::min(width_, static_cast<int>(std::ceil(crossings[k + 1].x - 0.5)));
      if (from >= to) continue;
      std::fill(seen_.begin() + static_cast<std::ptrdiff_t>(y) * width_ + from,
                seen_.begin() + static_cast<std::ptrdiff_t>(y) * width_ + to, number);
      box = {std::min(box[0], from), std::min(box[1], y), std::max(box[2], to - 1), std::max(box[3], y)};
    }
  }
}

std::vector<std::size_t> SeenMap::counts() const {
  std::vector<std::size_t> counts(bodies_);
  for (const int patch : seen_)
    if (patch >= 0) ++counts[body_of_[static_cast<std::size_t>(patch)]];
  return counts;
}

bool SeenMap::place(const std::vector<std::size_t>& bodies, const std::string& text, PictureName* name) const {
  return place(bodies, text, true, name) || place(bodies, text, false, name);
}

bool SeenMap::place(const std::vector<std::size_t>& bodies, const std::string& text, bool on_one_patch,
                    PictureName* name) const {
  std::array<int, 4> box = {width_, height_, -1, -1};
  for (const std::size_t body : bodies)
    box = {std::min(box[0], boxes_[body][0]), std::min(box[1], boxes_[body][1]), std::max(box[2], boxes_[body][2]),
           std::max(box[3], boxes_[body][3])};
  const int width = box[2] - box[0] + 1, height = box[3] - box[1] + 1;
  const double ems = text_width(text), pixel = scale_ / 100;
  if (width <= 0 || height <= 0 || ems * smallest_ > width * pixel) return false;
  const auto is_own = [&](int patch) {
    return patch >= 0 && std::find(bodies.begin(), bodies.end(), body_of_[static_cast<std::size_t>(patch)]) != bodies.end();
  };
  // How many pixels that may be written on lie above and to the left of each.
  std::vector<int> sums(static_cast<std::size_t>(width + 1) * (height + 1), 0);
  const auto sum = [&](int x, int y) -> int& { return sums[static_cast<std::size_t>(y) * (width + 1) + x]; };
  double middle_x = 0, middle_y = 0;
  int pixels = 0;
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x) {
      const int seen = at(box[0] + x, box[1] + y);
      bool own = is_own(seen);
      if (own && on_one_patch)  // a border is no place to write on
        own = (x == 0 || at(box[0] + x - 1, box[1] + y) == seen) && (y == 0 || at(box[0] + x, box[1] + y - 1) == seen);
      sum(x + 1, y + 1) = sum(x, y + 1) + sum(x + 1, y) - sum(x, y) + (own ? 1 : 0);
      if (!own) continue;
      ++pixels;
      middle_x += x;
      middle_y += y;
    }
  if (pixels == 0) return false;
  middle_x /= pixels;
  middle_y /= pixels;
  for (int size = 13; size >= smallest_; --size)
    for (const double margin : {48.0, 32.0, 22.0, 15.0, 10.0, 6.0, 4.0, 2.0}) {
      const int w = static_cast<int>(std::ceil((ems * size + 2 * margin) / pixel)),
                h = static_cast<int>(std::ceil((1.1 * size + 2 * std::min(margin, 12.0)) / pixel));
      double nearest = -1;
      for (int y = 0; y + h <= height; y += 2)
        for (int x = 0; x + w <= width; x += 2) {
          if (sum(x + w, y + h) - sum(x, y + h) - sum(x + w, y) + sum(x, y) != w * h) continue;
          const double dx = x + w / 2.0 - middle_x, dy = y + h / 2.0 - middle_y, distance = dx * dx + dy * dy;
          if (nearest >= 0 && distance >= nearest) continue;
          nearest = distance;
          name->x = left_ + std::lround((box[0] + x + w / 2.0) * scale_);
          name->y = top_ + std::lround((box[1] + y + h / 2.0) * scale_);
        }
      if (nearest < 0) continue;
      name->size = size;
      return true;
    }
  return false;
}

}  // namespace cutproof

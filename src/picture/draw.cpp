// SPDX-License-Identifier: GPL-3.0-or-later
// What hides what is exact; only then are corners rounded and projected.
#include "picture/draw.hpp"

#include "picture/labels.hpp"
#include "picture/patches.hpp"
#include "solid/edges.hpp"
#include "solid/parts/boundary.hpp"
#include "solid/parts/motion.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <map>
#include <optional>

namespace cutproof {
namespace {

constexpr double widest = 460, highest = 360, margin = 10;  // pixels
constexpr double room_between = 0.32;                       // by which centroids move away from the centre
constexpr std::size_t fewest_pixels = 24;                   // of a piece that counts as seen

/// A parallel projection with rational directions, so that signs are exact and the rows are orthonormal.
struct Projection {
  Vector3 toward_viewer;
  std::array<double, 3> right, down;
};

Projection flat_projection() {
  return {{0, 0, 1}, {1, 0, 0}, {0, -1, 0}};
}

/// From an azimuth and an elevation whose cosines and sines are rational: 8/17 and 15/17.
std::vector<Projection> oblique_projections() {
  std::vector<Projection> all;
  for (const auto& [x, y] :
       std::vector<std::pair<long, long>>{{8, -15}, {15, -8}, {-8, -15}, {-15, -8}, {15, 8}, {8, 15}, {-15, 8}, {-8, 15}}) {
    const double c = static_cast<double>(x) / 17, s = static_cast<double>(y) / 17, ce = 15.0 / 17, se = 8.0 / 17;
    all.push_back({{15 * x, 15 * y, 8 * 17}, {-s, c, 0}, {se * c, se * s, -ce}});
  }
  return all;
}

double along(const std::array<double, 3>& row, double x, double y, double z) {
  return row[0] * x + row[1] * y + row[2] * z;
}

/// The middle of the parts, weighted by volume, in doubles: it only says how far pieces move apart.
struct Weight {
  double volume = 0;
  std::array<double, 3> moment = {};
  void add(const Weight& other) {
    volume += other.volume;
    for (int i = 0; i < 3; ++i) moment[i] += other.moment[i];
  }
  std::array<double, 3> middle() const {
    if (!(volume > 0)) return {0, 0, 0};
    return {moment[0] / volume, moment[1] / volume, moment[2] / volume};
  }
};

Weight weight(const ConvexPart& part) {
  Weight sum;
  const Corner& apex = *part.corners().front();
  for (const CellFace& face : part.faces())
    for (int i = 1; i + 1 < face.end - face.begin; ++i) {
      const Corner &a = *part.corner(face, 0), &b = *part.corner(face, i), &c = *part.corner(face, i + 1);
      const double ax = a.x - apex.x, ay = a.y - apex.y, az = a.z - apex.z, bx = b.x - apex.x, by = b.y - apex.y,
                   bz = b.z - apex.z, cx = c.x - apex.x, cy = c.y - apex.y, cz = c.z - apex.z;
      const double volume = std::fabs(ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)) / 6;
      sum.add({volume,
               {volume * (apex.x + a.x + b.x + c.x) / 4, volume * (apex.y + a.y + b.y + c.y) / 4,
                volume * (apex.z + a.z + b.z + c.z) / 4}});
    }
  return sum;
}

/// How far a piece is moved for a picture: whole multiples of a power of ten, so that it is exact and short.
class Shift {
 public:
  void set(int axis, long steps, int exponent) {
    steps_[axis] = steps;
    exponent_ = exponent;
  }
  Number exact(int axis) const {
    Number power = 1;
    for (int i = 0; i < std::abs(exponent_); ++i) power *= Number(10);
    return exponent_ < 0 ? divide(Number(steps_[axis]), power) : Number(steps_[axis]) * power;
  }
  std::array<double, 3> told() const {
    const double power = std::pow(10.0, std::abs(exponent_));
    std::array<double, 3> shift{};
    for (int axis = 0; axis < 3; ++axis) {
      const double steps = static_cast<double>(steps_[axis]);
      shift[axis] = exponent_ < 0 ? steps / power : steps * power;
    }
    return shift;
  }

 private:
  std::array<long, 3> steps_ = {};
  int exponent_ = 0;
};

/// What is painted in one way: parts where they are drawn, and the lines on their surface.
struct Body {
  PictureBody told;
  std::size_t piece = 0;
  CellList parts;
  BodyLines lines;
};

/// Each edge of a convex part once: two of its faces meet there, and no two lie in one plane.
std::vector<Line> edges_of(const ConvexPart& part) {
  const std::vector<int> neighbours = part.neighbours();
  std::vector<Line> lines;
  for (std::size_t i = 0; i < part.faces().size(); ++i) {
    const CellFace& face = part.faces()[i];
    for (int k = face.begin; k < face.end; ++k)
      if (static_cast<int>(i) < neighbours[k])
        lines.push_back(
            {part.corners()[part.cycles()[k]], part.corners()[part.cycles()[k + 1 < face.end ? k + 1 : face.begin]]});
  }
  return lines;
}

std::vector<Line> edges_of(const CellList& parts) {
  if (parts.size() == 1) return edges_of(*parts.front());
  const Boundary boundary = true_boundary(parts);
  std::vector<CornerPointer> corners;
  for (const Vector3& point : boundary.vertices) corners.push_back(std::make_shared<const Corner>(point));
  std::vector<Line> lines;
  for (const TrueEdge& edge : true_edges(boundary)) lines.push_back({corners[edge.from], corners[edge.to]});
  return lines;
}

void append(CellList& list, const CellList& more) {
  list.insert(list.end(), more.begin(), more.end());
}

std::vector<Shift> shifts_of_pieces(const DrawnState& state) {
  std::vector<Shift> shifts(state.pieces.size());
  if (!state.apart) return shifts;
  std::vector<Weight> weights(shifts.size());
  Weight all;
  for (std::size_t i = 0; i < shifts.size(); ++i) {
    for (const DrawnBlock& block : state.pieces[i].blocks)
      for (const CellPointer& part : block.parts) weights[i].add(weight(*part));
    all.add(weights[i]);
  }
  double largest = 0;
  std::vector<std::array<double, 3>> wanted(shifts.size());
  for (std::size_t i = 0; i < shifts.size(); ++i)
    for (int axis = 0; axis < 3; ++axis) {
      wanted[i][axis] = room_between * (weights[i].middle()[axis] - all.middle()[axis]);
      largest = std::fmax(largest, std::fabs(wanted[i][axis]));
    }
  if (!(largest > 1e-250 && largest < 1e250)) return shifts;
  const int exponent = static_cast<int>(std::floor(std::log10(largest))) - 5;
  for (std::size_t i = 0; i < shifts.size(); ++i)
    for (int axis = 0; axis < 3; ++axis)
      if (std::isfinite(wanted[i][axis]))
        shifts[i].set(axis, std::lround(wanted[i][axis] / std::pow(10.0, exponent)), exponent);
  return shifts;
}

/// A rectangle of the picture: left, top, right, bottom.
using Extent = std::array<double, 4>;

/// What the state fills, at one pixel for a unit; nothing where coordinates are beyond what can be drawn.
std::optional<Extent> extent_of(const DrawnState& state, const Projection& projection) {
  std::optional<Extent> extent;
  bool drawable = true;
  const auto add = [&](const CellList& parts, const std::array<double, 3>& shift) {
    for (const CellPointer& part : parts)
      for (const CornerPointer& corner : part->corners()) {
        drawable = drawable && corner->size < 0x1p200 && corner->radius < 0x1p200;
        const std::array<double, 3> point = {corner->x + shift[0], corner->y + shift[1], corner->z + shift[2]};
        const double x = along(projection.right, point[0], point[1], point[2]),
                     y = along(projection.down, point[0], point[1], point[2]);
        if (!extent) extent = Extent{x, y, x, y};
        extent = Extent{std::min((*extent)[0], x), std::min((*extent)[1], y), std::max((*extent)[2], x),
                        std::max((*extent)[3], y)};
      }
  };
  const std::vector<Shift> shifts = shifts_of_pieces(state);
  for (std::size_t i = 0; i < state.pieces.size(); ++i)
    for (const DrawnBlock& block : state.pieces[i].blocks) add(block.parts, shifts[i].told());
  for (const DrawnRegion& region : state.regions) add(region.parts, {0, 0, 0});
  return drawable ? extent : std::nullopt;
}

/// A state that can be drawn, with its pieces where they are drawn, and what of it hides what.
class Stage {
 public:
  Stage(const DrawnState& state, const std::vector<Paint>& paints) : state_(state) {
    for (const DrawnRegion& region : state.regions) {
      Body body;
      body.told.role = region.role;
      body.parts = region.parts;
      body.lines.edges = edges_of(region.parts);
      bodies_.push_back(std::move(body));
    }
    const std::vector<Shift> shifts = shifts_of_pieces(state);
    for (std::size_t i = 0; i < state.pieces.size(); ++i) add_piece(i, shifts[i], paints);
    std::vector<OwnedPart> parts;
    for (std::size_t i = 0; i < bodies_.size(); ++i)
      for (const CellPointer& part : bodies_[i].parts) parts.push_back({part, i});
    tree_.emplace(parted(parts));
  }

  const std::vector<Body>& bodies() const { return bodies_; }
  std::vector<OwnedPart> order(const Projection& projection) const { return tree_->order(projection.toward_viewer); }

 private:
  void add_piece(std::size_t index, const Shift& shift, const std::vector<Paint>& paints) {
    const DrawnPiece& piece = state_.pieces[index];
    std::map<std::size_t, CellList> by_paint;
    for (const DrawnBlock& block : piece.blocks) append(by_paint[block.paint], block.parts);
    CellMap map(Motion::translation({shift.exact(0), shift.exact(1), shift.exact(2)}));
    CellList whole;
    const std::size_t first = bodies_.size();
    for (auto& [paint, parts] : by_paint) {
      Body body;
      body.told.piece = piece.name;
      body.told.shift = shift.told();
      body.told.colour = paints[paint].colour;
      body.told.hatching = paints[paint].hatching;
      body.told.pale = !piece.concerned;
      body.piece = index;
      body.parts = state_.apart ? map(parts) : parts;
      body.told.convex = body.parts.size() == 1;
      append(whole, body.parts);
      bodies_.push_back(std::move(body));
    }
    const std::vector<Line> edges = edges_of(whole);
    for (std::size_t i = first; i < bodies_.size(); ++i) {
      bodies_[i].lines.edges = edges;
      if (by_paint.size() > 1) bodies_[i].lines.cuts = edges_of(bodies_[i].parts);
    }
  }

  const DrawnState& state_;
  std::vector<Body> bodies_;
  std::optional<PaintersTree> tree_;
};

/// Points to hundredths of pixels.
class Pen {
 public:
  Pen(const Projection& projection, double pixels_per_unit) : projection_(projection), factor_(100 * pixels_per_unit) {}
  std::array<long, 2> at(const Corner& corner) const {
    return {std::lround(factor_ * along(projection_.right, corner.x, corner.y, corner.z)),
            std::lround(factor_ * along(projection_.down, corner.x, corner.y, corner.z))};
  }
  PictureLine line(const Line& line) const {
    const auto from = at(*line.from), to = at(*line.to);
    return {from[0], from[1], to[0], to[1]};
  }
  std::vector<long> cycle(const Cycle& corners) const {
    std::vector<long> points;
    for (const CornerPointer& corner : corners) {
      const auto point = at(*corner);
      if (points.size() >= 2 && points[points.size() - 2] == point[0] && points.back() == point[1]) continue;
      points.push_back(point[0]);
      points.push_back(point[1]);
    }
    return points;
  }
  std::array<long, 4> frame(const Extent& extent) const {
    const long edge = std::lround(100 * margin), left = std::lround(factor_ * extent[0]) - edge,
               top = std::lround(factor_ * extent[1]) - edge;
    return {left, top, std::lround(factor_ * extent[2]) + edge - left, std::lround(factor_ * extent[3]) + edge - top};
  }

 private:
  const Projection& projection_;
  double factor_;
};

/// By light from the upper left in front: 0 bright, 2 dark.
int tone_of(const Plane& outward, const Projection& projection) {
  const double x = outward.normal.x.approximate(), y = outward.normal.y.approximate(), z = outward.normal.z.approximate();
  const double length = std::sqrt(x * x + y * y + z * z);
  if (!(length > 0) || !std::isfinite(length)) return 1;
  const double right = along(projection.right, x, y, z) / length, up = -along(projection.down, x, y, z) / length;
  const double near = std::sqrt(std::max(0.0, 1 - right * right - up * up));
  const double light = -0.55 * right + 0.75 * up + 0.37 * near;
  return light > 0.62 ? 0 : light > 0.02 ? 1 : 2;
}

double pixels_per_unit(const Extent& extent) {
  const double wide = extent[2] - extent[0], high = extent[3] - extent[1];
  double factor = std::numeric_limits<double>::infinity();
  if (wide > 0) factor = (widest - 2 * margin) / wide;
  if (high > 0) factor = std::min(factor, (highest - 2 * margin) / high);
  return factor;
}

/// Everything that is turned to the viewer, in doubles: enough to see which pieces are seen.
Picture sketch(const Stage& stage, const Projection& projection, const Extent& extent) {
  Picture picture;
  const Pen pen(projection, pixels_per_unit(extent));
  picture.frame = pen.frame(extent);
  for (const Body& body : stage.bodies()) picture.bodies.push_back(body.told);
  for (const OwnedPart& part : stage.order(projection))
    for (const CellFace& face : part.cell->faces()) {
      Cycle corners;
      for (int i = 0; i < face.end - face.begin; ++i) corners.push_back(part.cell->corner(face, i));
      PicturePatch patch;
      patch.body = part.owner;
      patch.cycles = {pen.cycle(corners)};
      const std::vector<long>& points = patch.cycles.front();
      double area = 0;
      for (std::size_t i = 0; i < points.size(); i += 2) {
        const std::size_t j = (i + 2) % points.size();
        area += static_cast<double>(points[i]) * static_cast<double>(points[j + 1]) -
                static_cast<double>(points[j]) * static_cast<double>(points[i + 1]);
      }
      if (area < 0) picture.patches.push_back(std::move(patch));  // y runs downward
    }
  return picture;
}

std::size_t count_seen(const Stage& stage, const Projection& projection, const Extent& extent) {
  const std::vector<std::size_t> pixels = SeenMap(sketch(stage, projection, extent)).counts();
  std::map<std::size_t, std::size_t> of_piece;
  for (std::size_t i = 0; i < pixels.size(); ++i) of_piece[stage.bodies()[i].piece] += pixels[i];
  return static_cast<std::size_t>(
      std::count_if(of_piece.begin(), of_piece.end(), [](const auto& each) { return each.second >= fewest_pixels; }));
}

void add_names(const DrawnState& state, const std::vector<Body>& bodies, Picture& picture) {
  if (std::none_of(state.pieces.begin(), state.pieces.end(), [](const DrawnPiece& piece) { return piece.named; })) return;
  const SeenMap seen(picture);
  for (std::size_t piece = 0; piece < state.pieces.size(); ++piece) {
    if (!state.pieces[piece].named) continue;
    std::vector<std::size_t> own;
    for (std::size_t i = 0; i < bodies.size(); ++i)
      if (bodies[i].told.role == BodyRole::piece && bodies[i].piece == piece) own.push_back(i);
    if (own.empty()) continue;
    PictureName name;
    name.body = own.front();
    if (seen.place(own, state.pieces[piece].name, &name)) {
      picture.names.push_back(name);
    } else {
      picture.unnamed.push_back(state.pieces[piece].name);
    }
  }
}

Picture finished(const DrawnState& state, const std::vector<Paint>& paints, const Projection& projection, double scale,
                 const Extent& extent) {
  const Stage stage(state, paints);
  const Pen pen(projection, scale);
  Picture picture;
  picture.kind = state.kind;
  picture.step = state.step;
  picture.finding = state.finding;
  picture.apart = state.apart;
  picture.frame = pen.frame(extent);
  std::vector<BodyLines> lines;
  for (const Body& body : stage.bodies()) {
    picture.bodies.push_back(body.told);
    lines.push_back(body.lines);
    if (body.told.role != BodyRole::piece)
      for (const Line& line : body.lines.edges) picture.traces.push_back(pen.line(line));
  }
  for (const Patch& patch : visible_patches(stage.order(projection), projection.toward_viewer, lines)) {
    PicturePatch painted;
    painted.body = patch.body;
    painted.tone = tone_of(patch.outward, projection);
    painted.outlined = patch.seams.empty();
    for (const Cycle& cycle : patch.cycles) painted.cycles.push_back(pen.cycle(cycle));
    if (!painted.outlined)
      for (const Line& line : patch.edges) painted.edges.push_back(pen.line(line));
    for (const Line& line : patch.cuts) painted.cuts.push_back(pen.line(line));
    picture.patches.push_back(std::move(painted));
  }
  add_names(state, stage.bodies(), picture);
  return picture;
}

}  // namespace

PictureSet draw(std::size_t count, const StateMaker& state, const std::vector<Paint>& paints, std::size_t view_of,
                bool flat) {
  PictureSet set;
  Projection projection = flat ? flat_projection() : oblique_projections().front();
  if (!flat && view_of < count) {
    const DrawnState shown = state(view_of);
    if (extent_of(shown, projection)) {
      const Stage stage(shown, paints);
      std::size_t most = 0;
      for (const Projection& each : oblique_projections())
        if (const std::size_t seen = count_seen(stage, each, *extent_of(shown, each)); seen > most) {
          most = seen;
          projection = each;
        }
    }
  }
  double scale = std::numeric_limits<double>::infinity();
  std::vector<std::optional<Extent>> extents;
  for (std::size_t i = 0; i < count; ++i) {
    extents.push_back(extent_of(state(i), projection));
    if (extents.back()) scale = std::min(scale, pixels_per_unit(*extents.back()));
  }
  if (!(scale > 0) || !std::isfinite(scale)) {
    set.left_out = "the coordinates are beyond what can be drawn";
    return set;
  }
  for (int i = 0; i < 3; ++i) {
    set.projection[i] = scale * projection.right[i];
    set.projection[i + 3] = scale * projection.down[i];
  }
  for (std::size_t i = 0; i < count; ++i) {
    if (extents[i]) {
      set.pictures.push_back(finished(state(i), paints, projection, scale, *extents[i]));
    } else {
      set.left_out = "pictures of states whose coordinates are beyond what can be drawn";
    }
  }
  return set;
}

}  // namespace cutproof

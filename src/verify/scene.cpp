// SPDX-License-Identifier: GPL-3.0-or-later
#include "verify/scene.hpp"

#include "number/nearest.hpp"
#include "solid/edges.hpp"
#include "solid/parts/algebra.hpp"
#include "solid/parts/boundary.hpp"
#include "solid/parts/motion.hpp"
#include "verify/solid_data.hpp"

#include <algorithm>
#include <map>
#include <memory>
#include <utility>

namespace cutproof {
namespace {

std::array<double, 3> nearest(const Vector3& point) {
  return {nearest_double(point.x), nearest_double(point.y), nearest_double(point.z)};
}

std::array<double, 12> numbers_of(const Motion& motion) {
  std::array<double, 12> numbers{};
  auto next = numbers.begin();
  for (const Vector3* each : {&motion.rows()[0], &motion.rows()[1], &motion.rows()[2], &motion.shift()})
    for (const double number : nearest(*each)) *next++ = number;
  return numbers;
}

// A true edge of a piece, where the piece lay when it came.
using Segment = std::pair<Vector3, Vector3>;

// What is drawn of a piece of several blocks: its edges when it came, and where its first block lies.
struct Drawn {
  std::vector<PlacedBlock> blocks;  // as they were when it came
  std::vector<Segment> edges;
  std::shared_ptr<const Motion> pose;
  int seen = 0;
};

class SceneMaker {
 public:
  SceneMaker(const BlockHistory& history, const CheckResult& result) : history_(history), result_(result) {}

  void fill(Scene* scene) {
    if (history_.state_count() == 0) return;
    number_blocks(scene);
    poses_.resize(scene->blocks.size());
    for (std::size_t i = 0; i < history_.state_count(); ++i) scene->states.push_back(drawn(history_.change(i)));
  }

 private:
  // In the order of the pieces at the end, and of their corners where they lie at the start: so that every engine, however
  // it divides pieces, numbers them alike.
  void number_blocks(Scene* scene) {
    struct Numbered {
      std::size_t piece, block;
      Boundary boundary;
    };
    std::vector<Numbered> order;
    const BenchState end = history_.state(history_.state_count() - 1);
    for (std::size_t piece = 0; piece < end.pieces.size(); ++piece)
      for (const PlacedBlock& placed : history_.refined(end.pieces[piece].blocks))
        order.push_back({piece, placed.block, true_boundary(history_.parts(placed.block))});
    // What lemmas took stands behind what is there at the end.
    const auto& taken = history_.taken();
    for (std::size_t i = 0; i < taken.size(); ++i)
      for (const PlacedBlock& placed : history_.refined(taken[i].second))
        order.push_back({end.pieces.size() + i, placed.block, true_boundary(history_.parts(placed.block))});
    std::stable_sort(order.begin(), order.end(), [](const Numbered& a, const Numbered& b) {
      return a.piece != b.piece ? a.piece < b.piece : a.boundary.vertices < b.boundary.vertices;
    });
    for (const Numbered& each : order) {
      number_[each.block] = scene->blocks.size();
      const bool at_end = each.piece < end.pieces.size();
      scene->blocks.push_back(
          {corner_data(each.boundary), facet_data(each.boundary), at_end ? end.pieces[each.piece].name : std::string()});
    }
  }

  SceneState drawn(const BenchChange& change) {
    SceneState result;
    result.step = change.step;
    if (change.step > 0) {
      const StepResult& step = result_.steps.at(static_cast<std::size_t>(change.step) - 1);
      result.kind = step.kind;
      result.title = step.title;
      result.line = step.line;
    }
    for (const StatePiece& piece : change.pieces) {
      const auto known = pieces_.find(piece.name);
      const bool is_new = known == pieces_.end() || !same_blocks(known->second.blocks, piece.blocks);
      if (!is_new) known->second.seen = change.step;
      if (is_new || known->second.pose != piece.blocks.front().pose) draw(piece, is_new, &result);
    }
    for (const std::string& name : change.gone) {
      const auto piece = pieces_.find(name);
      if (piece == pieces_.end() || piece->second.seen == change.step) continue;  // the name came again
      result.gone.push_back(name);
      pieces_.erase(piece);
    }
    const std::size_t state = shown_++;
    for (const auto& [without, blocks] : history_.taken()) {
      if (without != state) continue;
      for (const PlacedBlock& placed : history_.refined(blocks)) {
        const std::size_t block = number_.at(placed.block);
        if (poses_[block] == nullptr) continue;
        poses_[block] = nullptr;
        result.poses.push_back({block, std::nullopt});
      }
    }
    std::sort(result.poses.begin(), result.poses.end(),
              [](const ScenePose& a, const ScenePose& b) { return a.block < b.block; });
    return result;
  }

  // A piece that is new or has moved.
  void draw(const StatePiece& piece, bool is_new, SceneState* result) {
    const std::vector<PlacedBlock> blocks = history_.refined(piece.blocks);
    std::map<const Motion*, std::array<double, 12>> numbers;  // many blocks share one pose
    for (const PlacedBlock& placed : blocks) {
      std::shared_ptr<const Motion>& pose = poses_[number_.at(placed.block)];
      if (pose == placed.pose) continue;
      const bool stays = pose && pose->rows() == placed.pose->rows() && pose->shift() == placed.pose->shift();
      pose = placed.pose;
      if (stays) continue;
      auto known = numbers.find(pose.get());
      if (known == numbers.end()) known = numbers.emplace(pose.get(), numbers_of(*pose)).first;
      result->poses.push_back({number_.at(placed.block), known->second});
    }
    const bool several = blocks.size() > 1;
    Drawn& now = pieces_[piece.name];
    now.seen = result->step;
    now.pose = piece.blocks.front().pose;
    if (is_new) {
      now.blocks = piece.blocks;
      now.edges = several ? edges_of(piece.blocks) : std::vector<Segment>();
    }
    if (!is_new && !several) return;
    ScenePiece entry;
    entry.name = piece.name;
    for (const PlacedBlock& placed : blocks) entry.blocks.push_back(number_.at(placed.block));
    std::sort(entry.blocks.begin(), entry.blocks.end());
    const Motion since = is_new ? Motion() : now.blocks.front().pose->inverse().then(*now.pose);
    for (const auto& [from, to] : now.edges) entry.edges.push_back({nearest(since(from)), nearest(since(to))});
    result->pieces.push_back(std::move(entry));
  }

  static bool same_blocks(const std::vector<PlacedBlock>& a, const std::vector<PlacedBlock>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](const PlacedBlock& p, const PlacedBlock& q) { return p.block == q.block; });
  }

  // Of blocks as they were then, before later cuts parted them.
  std::vector<Segment> edges_of(const std::vector<PlacedBlock>& blocks) const {
    CellList parts;
    for (const PlacedBlock& placed : blocks) {
      const CellList there = CellMap(*placed.pose)(history_.parts(placed.block));
      // Blocks share points only where pieces that overlapped were joined.
      const CellList rest = difference(there, parts);
      parts.insert(parts.end(), rest.begin(), rest.end());
    }
    const Boundary boundary = true_boundary(parts);
    std::vector<Segment> edges;
    for (const TrueEdge& edge : true_edges(boundary))
      edges.emplace_back(boundary.vertices[static_cast<std::size_t>(edge.from)],
                         boundary.vertices[static_cast<std::size_t>(edge.to)]);
    return edges;
  }

  const BlockHistory& history_;
  const CheckResult& result_;
  std::map<std::size_t, std::size_t> number_;         // of a block of the history in the scene
  std::vector<std::shared_ptr<const Motion>> poses_;  // of each block of the scene, so far
  std::map<std::string, Drawn> pieces_;               // on the bench so far
  std::size_t shown_ = 0;                             // states so far
};

}  // namespace

void SceneKeeper::on_start(const std::vector<NamedSolid>&, const std::vector<Solid>&, const std::vector<NamedSolid>& names,
                           const std::vector<Solid>& goals) {
  for (std::size_t i = 0; i < goals.size(); ++i) {
    const Boundary boundary = engine_.boundary(goals[i]);
    goals_.push_back({names[i].name, corner_data(boundary), facet_data(boundary)});
  }
}

void SceneKeeper::on_replaced(const std::vector<const BenchPiece*>& consumed, const std::vector<const BenchPiece*>& made) {
  history_.on_replaced(consumed, made);
}

void SceneKeeper::on_used(const std::vector<const BenchPiece*>& consumed, const std::vector<const BenchPiece*>& made) {
  history_.on_used(consumed, made);
}

void SceneKeeper::on_moved(const BenchPiece& piece, const Motion& motion) {
  history_.on_moved(piece, motion);
}

void SceneKeeper::on_bench(int step, const Bench& bench) {
  history_.on_bench(step, bench);
}

void SceneKeeper::on_region(Finding& finding, const Region& region) {
  finding.region = regions_.size();
  regions_.push_back(
      {finding.code, finding.step, finding.pieces, corner_data(region.boundary), facet_data(region.boundary)});
}

Scene SceneKeeper::scene(const CheckResult& result) {
  Scene scene;
  SceneMaker(history_, result).fill(&scene);
  scene.goals = std::move(goals_);
  scene.regions = std::move(regions_);
  return scene;
}

}  // namespace cutproof

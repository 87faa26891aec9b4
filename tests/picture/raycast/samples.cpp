// SPDX-License-Identifier: GPL-3.0-or-later
// samples FOLDER COUNT PLAN...: draws COUNT scenes, and the plans, as SVG, and writes the parts of what is shown beside each
// picture, for a program that casts rays.
#include "../scenes.hpp"
#include "files/check_text.hpp"
#include "picture/draw.hpp"
#include "picture/plan_pictures.hpp"
#include "report/picture_files.hpp"
#include "solid/parts/motion.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <string>

using namespace cutproof;

namespace {

DrawnState state_of(const std::vector<OwnedPart>& parts, bool apart) {
  DrawnState state;
  state.apart = apart;
  for (const OwnedPart& part : parts) {
    while (state.pieces.size() <= part.owner)
      state.pieces.push_back({"piece " + std::to_string(state.pieces.size()), {{{}, state.pieces.size()}}, true, true});
    state.pieces[part.owner].blocks.front().parts.push_back(part.cell);
  }
  return state;
}

nlohmann::json told(const ConvexPart& part) {
  nlohmann::json corners = nlohmann::json::array(), planes = nlohmann::json::array(), edges = nlohmann::json::array();
  for (const CornerPointer& corner : part.corners()) corners.push_back({corner->x, corner->y, corner->z});
  for (const CellFace& face : part.faces()) {
    const double sign = face.flipped ? -1 : 1;
    const FacePlane& p = *face.plane;
    planes.push_back({sign * p.a, sign * p.b, sign * p.c, sign * p.d});
    for (int i = face.begin; i < face.end; ++i) {
      const int from = part.cycles()[i], to = part.cycles()[i + 1 < face.end ? i + 1 : face.begin];
      if (from < to) edges.push_back({from, to});
    }
  }
  return {{"corners", corners}, {"planes", planes}, {"edges", edges}};
}

/// The parts of each piece, in place: corners, planes a x + b y + c z <= d, and edges as pairs of corners.
nlohmann::json told(const DrawnState& state) {
  nlohmann::json pieces = nlohmann::json::array();
  for (const DrawnPiece& piece : state.pieces) {
    nlohmann::json parts = nlohmann::json::array();
    for (const CellPointer& part : piece.blocks.front().parts) parts.push_back(told(*part));
    pieces.push_back({{"name", piece.name}, {"parts", parts}});
  }
  return pieces;
}

nlohmann::json told(const BlockHistory& history, const BenchState& state) {
  nlohmann::json pieces = nlohmann::json::array();
  for (const StatePiece& piece : state.pieces) {
    nlohmann::json parts = nlohmann::json::array();
    for (const PlacedBlock& block : piece.blocks) {
      CellMap map(*block.pose);
      for (const CellPointer& part : map(history.parts(block.block))) parts.push_back(told(*part));
    }
    pieces.push_back({{"name", piece.name}, {"parts", parts}});
  }
  return pieces;
}

void write(const std::string& folder, int number, const std::string& svg, const nlohmann::json& pieces) {
  const std::string file = fmt::format("{}/{:04}", folder, number);
  std::ofstream(file + ".svg") << svg;
  std::ofstream(file + ".json") << pieces;
}

/// The pictures of a plan, but not of findings whose regions are cut out of pieces: those are no pieces on the bench.
void draw_plan(const std::string& folder, const std::string& path, int* number) {
  check_plan_file(path, {}, {}, [&](const BlockHistory& history, CheckResult* result) {
    const PictureSet set = plan_pictures(history, *result);
    for (const Picture& picture : set.pictures) {
      if (picture.kind == Picture::Kind::finding) continue;
      for (std::size_t i = 0; i < history.state_count(); ++i)
        if (history.step_of(i) == picture.step)
          write(folder, (*number)++,
                svg_picture(picture, set.projection, {path + ", " + picture_stem(picture), "a plan"}, ""),
                told(history, history.state(i)));
    }
  });
}

}  // namespace

int main(int count, char** arguments) {
  if (count < 3) return 2;
  const std::string folder = arguments[1];
  int number = 0;
  while (number < std::atoi(arguments[2])) {
    const int i = number, kind = i % test::scene_kinds, degree = 1 + i / test::scene_kinds % 4;
    const bool apart = i % 3 == 1;
    const unsigned seed = 1 + static_cast<unsigned>(i);
    const DrawnState state = state_of(test::scene(kind, degree, seed), apart);
    const PictureSet set = draw(
        1, [&](std::size_t) { return state; }, painted(state.pieces.size(), {}), 0, false);
    const std::string title = fmt::format("kind {}, degree {}, seed {}{}", kind, degree, seed, apart ? ", apart" : "");
    if (set.pictures.size() != 1) {
      std::fprintf(stderr, "%s: no picture\n", title.c_str());
      return 1;
    }
    write(folder, number++, svg_picture(set.pictures.front(), set.projection, {title, "a scene"}, ""), told(state));
  }
  for (int i = 3; i < count; ++i) draw_plan(folder, arguments[i], &number);
  return 0;
}

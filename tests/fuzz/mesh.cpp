// SPDX-License-Identifier: GPL-3.0-or-later
// Any bytes through the readers of meshes: a mesh whose faces have points, the same one each time, or a message that is
// short and of plain ASCII.
#include "solid/mesh/mesh.hpp"
#include "fuzz/demand.hpp"
#include "number/errors.hpp"

#include <algorithm>

using namespace cutproof;
using fuzz::demand;

namespace {

constexpr std::size_t longest_input = 4000, most_bits = 3000;

bool same(const Mesh& a, const Mesh& b) {
  return a.kind == b.kind && a.faces == b.faces && a.face_lines == b.face_lines &&
         std::equal(a.points.begin(), a.points.end(), b.points.begin(), b.points.end(), [](const auto& p, const auto& q) {
           return fmpq_equal(p[0], q[0]) != 0 && fmpq_equal(p[1], q[1]) != 0 && fmpq_equal(p[2], q[2]) != 0;
         });
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size > longest_input) return -1;
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  try {
    const Mesh mesh = read_mesh(bytes, most_bits);
    demand(mesh.face_lines.empty() || mesh.face_lines.size() == mesh.faces.size(), "each face of a text has a line");
    for (const std::vector<int>& face : mesh.faces)
      for (const int corner : face)
        demand(corner >= 0 && static_cast<std::size_t>(corner) < mesh.points.size(), "a corner is one of the points");
    demand(same(mesh, read_mesh(bytes, most_bits)), "the same bytes are the same mesh");
  } catch (const InvalidInput& error) {
    const std::string message = error.what();
    demand(message.size() < 400, "a message is short");
    demand(std::all_of(message.begin(), message.end(), [](char each) { return each >= ' ' && each <= '~'; }),
           "a message is plain text");
  } catch (const LimitReached&) {
  }
  return 0;
}

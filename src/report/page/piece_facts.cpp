// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/piece_facts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>

namespace cutproof {
namespace {

// `45 deg` as 45 degrees; anything else with its size.
std::string angle_text(const EdgeAngle& angle) {
  constexpr std::string_view unit = " deg";
  const std::string& exact = angle.exact;
  const bool plain = exact.size() > unit.size() && exact.compare(exact.size() - unit.size(), unit.size(), unit) == 0 &&
                     exact.find_first_not_of("0123456789/ deg") == std::string::npos;
  if (plain) return exact.substr(0, exact.size() - unit.size()) + "°";
  constexpr std::size_t readable = 40;
  const std::string rounded = fmt::format("{:.4f}°", std::strtod(angle.degrees.c_str(), nullptr));
  return exact.size() > readable ? "about " + rounded : exact + ", about " + rounded;
}

// A, B, ..., Z, AA, AB, ...
std::string letters(std::size_t index) {
  std::string text;
  for (++index; index > 0; index = (index - 1) / 26) text.insert(text.begin(), static_cast<char>('A' + (index - 1) % 26));
  return text;
}

}  // namespace

PieceFacts::PieceFacts(const CheckResult& result) : result_(result) {
  if (!result.geometry) return;
  for (const NamedSolidData& each : result.geometry->end) solids_[each.name] = &result.geometry->solids[each.solid];
}

bool PieceFacts::some_in_parts() const {
  return std::any_of(result_.pieces.begin(), result_.pieces.end(), [](const PieceResult& piece) { return piece.parts > 1; });
}

std::string PieceFacts::shape(const PieceResult& piece) const {
  if (!piece.shape || *piece.shape >= result_.shapes.size()) return "";
  constexpr std::size_t most = 6;
  const ShapeResult& shape = result_.shapes[*piece.shape];
  std::vector<std::string> others;
  for (const std::string& name : shape.pieces) {
    if (name != piece.name && others.size() <= most) others.push_back(name);
  }
  std::string text = letters(*piece.shape);
  for (std::size_t i = 0; i < std::min(most, others.size()); ++i) text += (i == 0 ? ", as " : ", ") + others[i];
  if (shape.pieces.size() > most + 1) text += fmt::format(" and {} more", shape.pieces.size() - most - 1);
  if (shape.mirror_of) text += "; the mirror image of " + letters(*shape.mirror_of);
  return text;
}

std::vector<PieceFacts::Angle> PieceFacts::angles(const std::string& piece) const {
  const auto found = solids_.find(piece);
  if (found == solids_.end()) return {};
  std::map<std::string, Angle> by_exact;
  for (const EdgeData& edge : found->second->edges) {
    for (const EdgeAngle& angle : edge.angles) {
      Angle& entry = by_exact[angle.exact];
      if (entry.count++ == 0) entry = {angle_text(angle), angle.degrees, 1};
    }
  }
  std::vector<Angle> sorted;
  for (auto& [exact, angle] : by_exact) sorted.push_back(std::move(angle));
  std::stable_sort(sorted.begin(), sorted.end(), [](const Angle& a, const Angle& b) {
    return std::strtod(a.degrees.c_str(), nullptr) < std::strtod(b.degrees.c_str(), nullptr);
  });
  return sorted;
}

std::string PieceFacts::edges(const std::string& piece) const {
  std::string text;
  for (const Angle& angle : angles(piece))
    text += fmt::format("{}{} of {}", text.empty() ? "" : "; ", angle.count, angle.text);
  return text;
}

}  // namespace cutproof

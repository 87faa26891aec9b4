// SPDX-License-Identifier: GPL-3.0-or-later
#include "plan/dimension_words.hpp"
#include "report/findings_text.hpp"
#include "report/page/markup.hpp"
#include "report/page/page_pictures.hpp"
#include "report/page/piece_facts.hpp"
#include "report/page/sheet_parts.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace cutproof {
namespace {

constexpr std::size_t most_rows = 2000;

std::string cell(const char* label, const std::string& text) {
  return fmt::format("<td data-label=\"{}\">{}</td>", label, text);
}

// The expression alone, where it is short enough to be read.
std::string exactly(const Value& value) {
  constexpr std::size_t readable = 60;
  return value.exact.size() > readable ? shown(value) : value.exact;
}

}  // namespace

std::string pieces_part(const Sheet& sheet) {
  const CheckResult& result = sheet.result;
  if (result.pieces.empty()) return "";
  const PieceFacts facts(result);
  const bool with_edges = facts.knows_edges() && result.dimension == 3, with_parts = facts.some_in_parts();
  std::string text =
      part(sheet, "pieces", result.steps.size() == result.total_steps ? "Pieces at the end" : "Pieces where the run ended");
  const auto paints = paints_of(result);
  text += "<div class=\"scroll\"><table class=\"stack\">\n<thead><tr><th scope=\"col\">Piece</th>";
  const std::string volume = in_dimension(result.dimension, "Volume");
  text += "<th scope=\"col\">" + volume + ", exactly</th>";
  if (with_parts) text += "<th scope=\"col\">Parts</th>";
  if (with_edges) text += "<th scope=\"col\">Edges by dihedral angle</th>";
  if (facts.knows_shapes()) text += "<th scope=\"col\">Shape</th>";
  text += "</tr></thead>\n<tbody>\n";
  const std::size_t shown_rows = std::min(most_rows, result.pieces.size());
  for (std::size_t i = 0; i < shown_rows; ++i) {
    const PieceResult& piece = result.pieces[i];
    text += "<tr><th scope=\"row\">";
    const auto paint = paints.find(piece.name);
    if (paint != paints.end()) text += swatch(paint->second.first, paint->second.second);
    text += name_in_page(piece.name) + "</th>" + cell(volume.c_str(), in_page(exactly(piece.volume)));
    if (with_parts) text += cell("Parts", std::to_string(piece.parts));
    if (with_edges) text += cell("Edges", in_page(facts.edges(piece.name)));
    if (facts.knows_shapes()) text += cell("Shape", in_page(facts.shape(piece)));
    text += "</tr>\n";
  }
  text += "</tbody></table></div>\n";
  if (shown_rows < result.pieces.size())
    text += fmt::format("<p>and {} more, {} in all</p>\n", result.pieces.size() - shown_rows, result.pieces.size());
  return text;
}

}  // namespace cutproof

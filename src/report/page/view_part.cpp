// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/view_part.hpp"

#include "report/escape.hpp"
#include "report/findings_text.hpp"
#include "report/page/assets.hpp"
#include "report/page/markup.hpp"
#include "report/page/page_pictures.hpp"
#include "report/page/piece_facts.hpp"
#include "report/scene.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <set>

namespace cutproof {
namespace {

bool has_scene(const CheckResult& result) {
  return result.scene && !result.scene->blocks.empty() && result.dimension == 3;  // pictures show all of the plane
}

using Json = nlohmann::ordered_json;

std::string icon_button(const char* id, const char* name, const char* path) {
  return fmt::format(
      "<button type=\"button\" id=\"{}\" aria-label=\"{}\" title=\"{}\"><svg viewBox=\"0 0 16 16\" "
      "aria-hidden=\"true\"><path "
      "d=\"{}\"/></svg></button>\n",
      id, name, name, path);
}

std::string controls() {
  std::string text = "<div class=\"row\">\n";
  text += icon_button("view-previous", "Step back", "M11 2.5 5 8l6 5.5");
  text += "<button type=\"button\" id=\"view-play\">Play</button>\n";
  text += icon_button("view-next", "Step on", "M5 2.5 11 8l-6 5.5");
  text += "</div>\n<label>Step <input type=\"range\" id=\"view-step\" min=\"0\" max=\"0\" step=\"1\" value=\"0\"></label>\n";
  text += "<label>Apart <input type=\"range\" id=\"view-apart\" min=\"0\" max=\"100\" step=\"1\" value=\"0\"></label>\n";
  text += "<div class=\"row\">\n";
  text += icon_button("view-left", "Turn left", "M13 8H3m4-4L3 8l4 4");
  text += icon_button("view-right", "Turn right", "M3 8h10M9 4l4 4-4 4");
  text += icon_button("view-up", "Turn up", "M8 13V3M4 7l4-4 4 4");
  text += icon_button("view-down", "Turn down", "M8 3v10M4 9l4 4 4-4");
  text += icon_button("view-nearer", "Zoom in", "M8 3v10M3 8h10");
  text += icon_button("view-farther", "Zoom out", "M3 8h10");
  text += "</div>\n<div class=\"row\">\n<button type=\"button\" id=\"view-back\">Turn back</button>\n";
  text += "<button type=\"button\" id=\"view-release\">Let go</button>\n";
  text += "<label class=\"check\"><input type=\"checkbox\" id=\"view-named\" checked> Names</label>\n</div>\n";
  return text;
}

constexpr const char* keys =
    "<details class=\"small\"><summary>Keys</summary><dl class=\"keys\" id=\"view-keys\">\n"
    "<dt>arrows</dt><dd>turn, while the picture has the focus</dd>\n<dt>+ -</dt><dd>zoom</dd>\n<dt>, .</dt><dd>step back, "
    "step "
    "on</dd>\n"
    "<dt>space</dt><dd>play and stop, while the picture has the focus</dd>\n<dt>Escape</dt><dd>let go of what was "
    "picked</dd>\n</dl></details>\n";

std::string legend(const std::vector<Sheet>& sheets) {
  std::set<std::string> kinds;
  for (const Sheet& sheet : sheets) {
    for (const Finding& finding : sheet.result.findings) kinds.insert(finding.code);
  }
  std::string text;
  for (const auto& [kind, words] : {std::pair("overlap", "pieces overlap"), std::pair("missing", "missing from the goal"),
                                    std::pair("excess", "outside the goal")}) {
    if (kinds.count(kind) != 0) text += fmt::format("<span class=\"{}\">{}</span>", kind, words);
  }
  return text.empty() ? "" : "<p class=\"legend\">" + text + "</p>\n";
}

std::string text(const std::string& raw) {
  return is_utf8(raw) ? raw : escaped(raw);
}

Json words(const CheckResult& result) {
  Json list = {"The start."};
  for (const StepResult& step : result.steps) {
    std::string line = deed(step, /*markup=*/false);
    line[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(line[0])));
    if (!step.title.empty()) line += ": " + step.title;
    // Of several motions the page's list of steps tells each.
    if (step.motions.size() == 1) line += "; " + step.motions[0].words;
    list.push_back(text(escaped(line + ".")));
  }
  return list;
}

Json piece_facts(const CheckResult& result) {
  const PieceFacts facts(result);
  Json object = Json::object();
  for (const PieceResult& piece : result.pieces) {
    std::string line = "volume " + shown(piece.volume);
    const std::string shape = facts.shape(piece), edges = facts.edges(piece.name);
    if (!shape.empty()) line += "; shape " + shape;
    if (!edges.empty()) line += "; edges: " + edges;
    Json angles = Json::array();
    for (const PieceFacts::Angle& angle : facts.angles(piece.name))
      angles.push_back({{"text", angle.text}, {"degrees", std::strtod(angle.degrees.c_str(), nullptr)}});
    object[text(piece.name)] = {{"text", line + "."}, {"angles", angles}};
  }
  return object;
}

}  // namespace

std::string view_part(const std::vector<Sheet>& sheets) {
  if (std::none_of(sheets.begin(), sheets.end(), [](const Sheet& sheet) { return has_scene(sheet.result); })) return "";
  if (viewer_script().empty())
    return "<p class=\"soft\">This page has no view in space: the program was built without it.</p>\n";
  std::string part =
      "<p id=\"view-missing\" class=\"soft\">The view in space is not here: it needs JavaScript. All pictures and texts "
      "are.</p>\n"
      "<section id=\"view\" aria-labelledby=\"view-title\" hidden>\n"
      "<h2 class=\"part\" id=\"view-title\">In space</h2>\n<p id=\"view-notice\" class=\"soft\" hidden></p>\n";
  if (sheets.size() > 1) {
    part += "<p><label for=\"view-plan\">Plan</label> <select id=\"view-plan\">\n";
    for (const Sheet& sheet : sheets) {
      if (!has_scene(sheet.result)) continue;
      part += fmt::format("<option value=\"{}\">{}</option>\n", sheet.number, title_of(sheet.result));
    }
    part += "</select></p>\n";
  }
  part +=
      "<div id=\"view-body\">\n<div>\n<div class=\"stage\">\n"
      "<canvas id=\"view-canvas\" tabindex=\"0\" role=\"application\" aria-label=\"The pieces in space\" "
      "aria-describedby=\"view-words\"></canvas>\n<div id=\"view-names\" aria-hidden=\"true\"></div>\n</div>\n" +
      legend(sheets) +
      "<p class=\"soft small\">Between steps pieces are shown as moving on screws, a turn about a line and a slide along "
      "it, "
      "from place to place. Their paths were not examined: pieces may run through each other on the way.</p>\n</div>\n"
      "<div class=\"panel\">\n<div id=\"view-told\" aria-live=\"polite\"><p id=\"view-place\"></p><p "
      "id=\"view-words\"></p></div>\n" +
      controls() +
      "<div><div id=\"view-pieces\" role=\"group\" aria-label=\"Pieces on the bench\"></div><p id=\"view-pieces-rest\" "
      "class=\"soft small\"></p></div>\n<p id=\"view-facts\" aria-live=\"polite\"></p>\n" +
      keys + "</div>\n</div>\n</section>\n";
  return part;
}

std::string view_data(const Sheet& sheet) {
  if (!has_scene(sheet.result) || viewer_script().empty()) return "";
  Json concerned = Json::array();
  for (const Finding& finding : sheet.result.findings) {
    for (const std::string& piece : finding.pieces) concerned.push_back(text(piece));
  }
  Json rest = {{"words", words(sheet.result)}, {"facts", piece_facts(sheet.result)}, {"concerned", concerned}};
  for (const auto& [piece, paint] : paints_of(sheet.result)) rest["colours"][text(piece)] = {paint.first, paint.second};
  if (const auto direction = direction_of(sheet.result)) {
    rest["azimuth"] = (*direction)[0];
    rest["elevation"] = (*direction)[1];
  }
  const std::string tail = rest.dump(-1, ' ', /*ensure_ascii=*/true);
  return fmt::format("<script type=\"application/json\" class=\"plan-data\" data-plan=\"{}\">{}</script>\n", sheet.number,
                     data_in_page("{\"scene\":" + scene_for_drawing(*sheet.result.scene) + "," + tail.substr(1)));
}

}  // namespace cutproof

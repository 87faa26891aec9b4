// SPDX-License-Identifier: GPL-3.0-or-later
// Pictures as SVG, and what is said about them in words.
#include "report/svg.hpp"

#include "report/picture_files.hpp"
#include "report/sample_results.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <string>

using namespace cutproof;

namespace {

std::string sample_svg(const std::string& prefix = "") {
  const PictureSet set = sample_pictures();
  return svg_picture(set.pictures.front(), set.projection, {"a <title>", "a \"description\" & more"}, prefix);
}

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("a picture as SVG has all that the data hold", "[svg]") {
  const std::string svg = sample_svg();
  INFO(svg);
  CHECK(holds(svg, "viewBox=\"-10 -10.5 50 40\" width=\"50\" height=\"40\""));
  CHECK(holds(svg, "data-projection=\"1 2 3 4 5 6.5\""));
  CHECK(holds(svg, "<title id=\"title\">a &lt;title&gt;</title>"));
  CHECK(holds(svg, "<desc id=\"desc\">a &quot;description&quot; &amp; more</desc>"));
  CHECK(holds(svg, "<g data-piece=\"A\" data-shift=\"0.25 0 -1.5\">"));
  CHECK(holds(svg, "<path class=\"c31h1\" d=\"M0 0l10.05 0 0 20.5-10.05 0zM2 2l0 1 1 0z\"/>"));  // a hole
  CHECK(holds(svg, "<path class=\"l\" d=\"M0 0l10.05 0\"/>"));
  CHECK(holds(svg, "<path class=\"d\" d=\"M10.05 0l0 20.5\"/>"));
  CHECK(holds(svg, "<path class=\"p0 o\" d=\"M0 0l-.07-1 .57 1.5z\"/>"));  // pale
  CHECK(holds(svg, "<g class=\"region\" data-region=\"overlap\">"));
  CHECK(holds(svg, "<path class=\"trace\" d=\"M0 0l.5 .5\"/>"));
  CHECK(holds(svg, "<text x=\"5\" y=\"14.2\" font-size=\"12\">A</text>"));
  CHECK(holds(svg, ".c31h1{fill:url(#c31h1);stroke:" + paint_code(3, 1) + "}"));
}

TEST_CASE("pictures in one page share no name", "[svg]") {
  const std::string svg = sample_svg("two-");
  for (const char* name :
       {"id=\"title", "id=\"c31", "class=\"c31", "class=\"p0", "url(#c31", ".c31", "class=\"paper", " o\""})
    CHECK(!holds(svg, name));
  CHECK(holds(svg, "aria-labelledby=\"two-title two-desc\""));
  CHECK(holds(svg, "url(#two-c31h1)"));
}

TEST_CASE("words for pictures", "[svg]") {
  const CheckResult result = sample_check();
  const SvgText words = picture_words(result, result.pictures->pictures.front());
  CHECK(words.title == "A sample: overlap");
  CHECK(
      words.description ==
      "Step 2: `A` and `B` share interior points. The pieces stand apart. In colour: A. Pale: B. Dashed: cuts to come. Red: "
      "what the finding speaks of; its hidden edges are dashed. Too little is seen for the names of B.");
  Picture step;
  step.kind = Picture::Kind::step;
  step.step = 1;
  CHECK(picture_words(result, step).title == "A sample: step 1, cut: halfway up");
  CHECK(picture_stem(step) == "step-001");
  for (int i = 0; i < 100; ++i) step.bodies.push_back({BodyRole::piece, "p" + std::to_string(i), {}, 0, 0, false});
  CHECK(holds(picture_words(result, step).description, "p29 and 70 more."));
}

TEST_CASE("files of pictures: one folder for each of several plans, and an index", "[svg]") {
  CheckResult none;
  none.outcome = Outcome::stopped;
  const auto files = svg_report({sample_check(), none});
  REQUIRE(files.size() == 2);
  CHECK(files[0].path == "001/finding-001.svg");
  CHECK(files[1].path == "index.json");
  const auto index = nlohmann::json::parse(files[1].content);
  CHECK(index["plans"][0]["pictures"][0]["file"] == "001/finding-001.svg");
  CHECK(index["plans"][0]["pictures"][0]["finding"] == 1);
  CHECK(index["plans"][0]["left_out"] == "another picture");
  CHECK(index["plans"][1]["pictures"].empty());
  CHECK(index["plans"][1]["left_out"] == "the run ended before anything could be drawn");
  CHECK(svg_report({sample_check()})[0].path == "finding-001.svg");
}

// SPDX-License-Identifier: GPL-3.0-or-later
// The strict reader of YAML: places, folding, and that nothing that yaml-cpp tells of is lost.
#include "plan/document.hpp"

#include "cutproof/plan.hpp"
#include "plan/plan_value.hpp"

#include <yaml-cpp/yaml.h>
#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

using namespace cutproof;

namespace {

std::string shape(const Node& node) {
  if (node.is_broken()) return "broken";
  if (node.is_scalar()) return "<" + node.text + ">";
  std::string text = node.is_sequence() ? "[" : "{";
  for (const Node::Entry& entry : node.entries)
    text += (node.is_mapping() ? "<" + entry.key + ">:" : "") + shape(entry.value) + ",";
  return text + (node.is_sequence() ? "]" : "}");
}

std::string shape(const YAML::Node& node) {
  if (node.IsNull()) return "null";
  if (node.IsScalar()) return "<" + node.Scalar() + ">";
  std::string text = node.IsSequence() ? "[" : "{";
  if (node.IsSequence()) {
    for (const auto& entry : node) text += shape(entry) + ",";
    return text + "]";
  }
  for (const auto& entry : node) text += "<" + entry.first.Scalar() + ">:" + shape(entry.second) + ",";
  return text + "}";
}

std::string shape_of(const std::string& text) {
  const Document document = read_document(text);
  std::string faults;
  for (const Diagnostic& fault : document.diagnostics())
    faults += std::to_string(fault.line) + ":" + std::to_string(fault.column) + " " + fault.message + "\n";
  INFO(text << "\n" << faults);
  REQUIRE(faults.empty());
  return shape(document.root());
}

const char* const plan_text =
    "cutproof: 1\n"
    "steps:\n"
    "- cut: T\n"
    "  by: { through: [M, N, \"N + [0, 0, 1]\"] }   # a comment\n"
    "  note: |\n"
    "    two\n"
    "      lines\n"
    "- title: 'it''s\n"
    "    folded'\n"
    "  join: [ A,\n"
    "    B ]\n"
    "  as: a b\n"
    "    c\n"
    "goal: {\"box\":[1, 2]}\n";

}  // namespace

TEST_CASE("places are those of keys and values, in code points from 1") {
  const Document document = read_document("\xEF\xBB\xBF\xC3\xA4: [\xC3\xB6, x]\r\nb:\r\n  - {k: \"v\\u00e4w\"}\r\n");
  REQUIRE(document.diagnostics().empty());
  const Node& root = document.root();
  const Node& list = root.entries[0].value;
  CHECK(document.place(root.entries[0].key_begin).column == 1);
  CHECK(document.place(list).column == 4);
  CHECK(document.place(list.entries[1].value).column == 8);
  const Node::Entry& entry = root.entries[1].value.entries[0].value.entries[0];
  CHECK(document.place(entry.key_begin).line == 3);
  CHECK(document.place(entry.key_begin).column == 6);
  CHECK(entry.value.text == "v\xC3\xA4w");
  // The w behind the escape: its place is known although the text is shorter than its source.
  CHECK(document.place(document.origin(entry.value, 3)).column == 17);
}

TEST_CASE("texts that are accepted are read as yaml-cpp reads them") {
  for (const std::string& text :
       {std::string(plan_text), std::string("%YAML 1.2\n---\na: 1\n...\n"), std::string("--- [a, b]\n"),
        std::string("- - a\n  - b\n-\n  c\n"), std::string("a:\n- b\n- c: d\n  e: f\n"),
        std::string("[a: b, {c: d}, \"e\": f]\n"), std::string("a: >\n  one\n  two\n\n  three\n    more\n  end\n\n"),
        std::string("a: |+\n  keep\n\nb: >-\n  strip\n\n"), std::string("a: |2\n   indented\n  less\n"),
        std::string("a: \"x\\\n   y\\tz  \n\n  w\"\n"), std::string("a: x#y # z\nb: u:v\n'c d': \"#\"\n"),
        std::string("a: [\n  1, # one\n  2,\n]\n"), std::string("a:  b  c \n\n\nd: http://x\n"),
        std::string("{a: {b: [c, d], e: 'f, g'}}\n"), std::string("a: b\r\nc:\r\n  - d\r\n")}) {
    CAPTURE(text);
    CHECK(shape_of(text) == shape(YAML::Load(text)));
  }
}

TEST_CASE("what yaml-cpp lets pass is refused") {
  for (const std::string text :
       {"- 1\n-2\n- 3", "a: {b, c}",      "a: [b, , c]", "a: [, b]",   "a:",         "- ",          "a: ~",
        "a: null",      "? a\n: b",       "a: 1\na: 2",  "a: 'b",      "a: \"b",     "a: 1\n---\n", "a: 1\n---\nb: 2\n",
        "&x a: 1",      "a: &x 1\nb: *x", "a: !t 1",     "<<: {a: 1}", "a: b: c",    "a: [b\nc: d", "\ta: 1",
        "a:\n\tb: 1",   "a: b\rc: d\n",   "a:\nb\n",     "[a]\nb\n",   "a: \"\\'\"", "- a\n-b: c\n"}) {
    CAPTURE(text);
    bool is_refused = false;
    try {
      const Document document = read_document(text);
      is_refused = !document.diagnostics().empty();
    } catch (const InvalidPlan&) {
      is_refused = true;
    }
    CHECK(is_refused);
  }
}

TEST_CASE("what yaml-cpp cannot read is explained, and the rest is read all the same") {
  const Document document = read_document("a: [f(b, c), d[0]]\ne: *f\ng: \"\\q\"\nh: @i\nj: [k] l\nm: n\n");
  REQUIRE(document.diagnostics().size() == 6);
  const int columns[] = {5, 14, 4, 5, 4, 4};
  for (std::size_t i = 0; i < 6; ++i) {
    INFO(document.diagnostics()[i].message);
    CHECK(document.diagnostics()[i].line == std::max(1, static_cast<int>(i)));
    CHECK(document.diagnostics()[i].column == columns[i]);
  }
  REQUIRE(document.root().find("m") != nullptr);
  CHECK(document.root().find("m")->text == "n");
}

TEST_CASE("limits of the text hold at their exact value") {
  DocumentLimits limits;
  limits.max_bytes = 10;
  CHECK_NOTHROW(read_document("a: 1234567", limits));
  CHECK_THROWS_AS(read_document("a: 12345678", limits), PlanLimit);
  limits = {};
  limits.max_nesting = 3;
  CHECK_NOTHROW(read_document("[[[a]]]", limits).root().is_sequence());
  CHECK_THROWS_AS(read_document("[[[[a]]]]", limits), PlanLimit);
  limits = {};
  limits.max_nodes = 4;
  CHECK_NOTHROW(read_document("[a, b, c]", limits));
  CHECK_THROWS_AS(read_document("[a, b, c, d]", limits), PlanLimit);
}

TEST_CASE("errors are many, but not endless, and their lines are shown short") {
  std::string text = "list:\n";
  for (int i = 0; i < 1000; ++i) text += "- !x a\n";
  CHECK(read_document(text).diagnostics().size() == 100);
  const Document document = read_document("a: [" + std::string(100000, 'x') + ", , y]");
  REQUIRE(document.diagnostics().size() == 1);
  CHECK(document.diagnostics()[0].column == 100007);
  CHECK(document.diagnostics()[0].excerpt.empty());
}

TEST_CASE("comments are kept, and nothing else is taken for one") {
  const std::string text =
      "# first\r\na: b#c   # second\r\n\"k # 1\": 'x # y' # third\nf: [1, # fourth\n  2] # fifth\n"
      "bar: | # sixth\n  # text\n  more\n\n#seventh\nplain: one\n  two # eighth\nend: \"\\\"# no\"\n# last";
  const Document document = read_document(text);
  REQUIRE(document.diagnostics().empty());
  std::string all;
  for (const Comment& comment : document.comments()) all += text.substr(comment.begin, comment.end - comment.begin) + "|";
  CHECK(all == "# first|# second|# third|# fourth|# fifth|# sixth|#seventh|# eighth|# last|");
  CHECK(document.root().find("bar")->text == "# text\nmore\n");
  CHECK(read_document("a: b").comments().empty());
  CHECK(read_document("a: !x b # c").comments().empty());
}

TEST_CASE("plans without their comments are the same plans") {
  std::size_t comments = 0;
  for (const auto& file : std::filesystem::directory_iterator(PLANS_FOLDER)) {
    if (file.path().extension() != ".yaml") continue;
    std::ifstream stream(file.path());
    std::string text{std::istreambuf_iterator<char>(stream), {}};
    INFO(file.path());
    const Document with = read_document(text);
    for (const Comment& comment : with.comments()) {
      CHECK(text[comment.begin] == '#');
      text.replace(comment.begin, comment.end - comment.begin, comment.end - comment.begin, ' ');
    }
    comments += with.comments().size();
    const Document without = read_document(text);
    CHECK(without.comments().empty());
    CHECK(write_plan(Plan::of(value_of(without.root()))) == write_plan(Plan::of(value_of(with.root()))));
  }
  CHECK(comments > 50);
}

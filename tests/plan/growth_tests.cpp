// SPDX-License-Identifier: GPL-3.0-or-later
// The work of reading grows like the text: counted in bytes that are looked at, not in seconds.
#include "plan/yaml_reader.hpp"

#include <catch2/catch.hpp>

#include <functional>
#include <string>

using namespace cutproof;

namespace {

std::string repeated(const std::string& part, int count) {
  std::string text;
  for (int k = 0; k < count; ++k) text += part;
  return text;
}

/// How many bytes a reading looks at; its errors are no matter here.
double steps_of(const std::string& text) {
  const SourceText source(text, text.size());
  Diagnostics diagnostics(source);
  DocumentLimits limits;
  limits.max_nodes = text.size();
  try {
    read_yaml(source, diagnostics, limits);
  } catch (const InvalidPlan&) {
  } catch (const PlanLimit&) {
  }
  return static_cast<double>(source.steps());
}

struct Growing {
  const char* name;
  std::function<std::string(int)> text;
};

const Growing growing[] = {
    {"anchors", [](int n) { return "a: " + repeated("&x ", n) + "1\n"; }},
    {"anchors before a key", [](int n) { return repeated("&x ", n) + "a: 1\n"; }},
    {"tags in brackets", [](int n) { return "a: [" + repeated("!x ", n) + "1]\n"; }},
    {"parentheses never closed", [](int n) { return "a: [" + repeated("(, ", n) + "1]\n"; }},
    {"parentheses closed far behind", [](int n) { return "a: [" + repeated("(b, ", n) + repeated(")", n) + " (]\n"; }},
    {"aliases with parentheses", [](int n) { return "a: [" + repeated("*(, ", n) + "1]\n"; }},
    {"texts before brackets", [](int n) { return "a: [" + repeated("b [c], ", n) + "1]\n"; }},
    {"text after quotes", [](int n) { return "a: [" + repeated("\"b\" c, ", n) + "1]\n"; }},
    {"text after quotes, line by line", [](int n) { return "a:\n" + repeated("- \"b\" c\n", n); }},
    {"one key again and again", [](int n) { return "a: {" + repeated("b: 1, ", n) + "c: 1}\n"; }},
    {"pairs in a list", [](int n) { return "a: [" + repeated("b: 1, ", n) + "c: 1]\n"; }},
    {"commas", [](int n) { return "a: [" + repeated(",", n) + "]\n"; }},
    {"small brackets", [](int n) { return "a: [" + repeated("[[],{}], ", n) + "1]\n"; }},
    {"opening brackets", [](int n) { return "a: " + repeated("[", n) + "\n"; }},
    {"small blocks", [](int n) { return "a:\n" + repeated("- b:\n    - c: d\n    -\n      - e\n", n); }},
    {"dashes", [](int n) { return repeated("- ", n) + "1\n"; }},
    {"ninety levels of blocks, again and again",
     [](int n) { return repeated(repeated("- ", 90) + "a: 1\n", n / 90) + "- 1\n"; }},
    {"a long quote", [](int n) { return "a: \"" + repeated("b \\x41\n\n ", n) + "\"\n"; }},
    {"a long plain text", [](int n) { return "a: b\n" + repeated("  c (\n\n", n); }},
    {"empty lines after every value", [](int n) { return repeated("- [b\n\n\n\n]\n\n\n\n", n); }},
    {"a block scalar", [](int n) { return "a: >\n" + repeated("  b\n\n   c\n", n); }},
    {"block scalars", [](int n) { return repeated("- |\n\n\n  b\n", n); }},
    {"comments", [](int n) { return repeated("- a # b (\n# c\n", n); }},
};

}  // namespace

TEST_CASE("a text of twice the size takes twice the steps to read") {
  for (const Growing& each : growing) {
    const std::string once = each.text(9000), twice = each.text(18000);
    const double work = steps_of(once), more = steps_of(twice);
    INFO(each.name << ": " << once.size() << " bytes, " << work << " steps; " << twice.size() << " bytes, " << more);
    CHECK(more < 2.1 * work);
    CHECK(work < 100 * static_cast<double>(once.size()) + 1e6);
  }
}

TEST_CASE("a megabyte is read in few steps a byte") {
  for (const Growing& each : growing) {
    const double length = static_cast<double>(each.text(9000).size());
    const std::string text = each.text(static_cast<int>(9000 * 1e6 / length));
    const double work = steps_of(text) / static_cast<double>(text.size());
    INFO(each.name << ": " << work << " steps a byte");
    CHECK(work < 100);
  }
}

TEST_CASE("a place at the end of a long line is found in few steps") {
  const SourceText source(repeated("\xC3\xA4", 500000), 1000000);
  for (const std::size_t position : {999998, 2, 500000, 1000000}) {
    const std::uint64_t before = source.steps();
    CHECK(source.place(position).column == static_cast<int>(position / 2) + 1);
    CHECK(source.steps() - before < 5000);
  }
}

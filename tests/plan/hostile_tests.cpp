// SPDX-License-Identifier: GPL-3.0-or-later
// Every hostile file as the library reads it, without the program around it: the place and message of the first error.
#include "plan/read_plan.hpp"

#include <catch2/catch.hpp>

#include <fstream>
#include <sstream>
#include <string>
#include <vector>

using namespace cutproof;

namespace {

struct Row {
  std::string file, stage;
  int code = 0, line = 0, column = 0;
  std::string message;
};

std::string unescaped(const std::string& text) {
  std::string result;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '\\') {
      result += text[i];
      continue;
    }
    const char letter = text.at(++i);
    result += letter == 'n' ? '\n' : letter == 't' ? '\t' : letter == 'e' ? '\x1b' : letter == 'd' ? '\x7f' : letter;
  }
  return result;
}

std::string content_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  REQUIRE(file);
  std::stringstream content;
  content << file.rdbuf();
  return content.str();
}

std::vector<Row> rows() {
  std::stringstream table(content_of(std::string(CUTPROOF_HOSTILE_FOLDER) + "/expected.tsv"));
  std::vector<Row> result;
  for (std::string line; std::getline(table, line);) {
    if (line[0] == '#') continue;
    std::vector<std::string> cells;
    std::stringstream rest(line);
    for (std::string cell; std::getline(rest, cell, '\t');) cells.push_back(cell);
    REQUIRE(cells.size() >= 6);
    result.push_back(
        {cells[0], cells[1], std::stoi(cells[2]), std::stoi(cells[3]), std::stoi(cells[4]), unescaped(cells[5])});
  }
  return result;
}

}  // namespace

TEST_CASE("hostile files end with their error at its place") {
  const std::vector<Row> table = rows();
  CHECK(table.size() >= 100);
  for (const Row& row : table) {
    CAPTURE(row.file);
    if (row.stage == "file") continue;  // other files are read by the program alone
    const std::string text = content_of(std::string(CUTPROOF_HOSTILE_FOLDER) + "/" + row.file);
    if (row.stage == "run") {
      CHECK_NOTHROW(read_plan(text));
      continue;
    }
    REQUIRE(row.stage == "read");
    Diagnostic found;
    int code = 0;
    try {
      read_plan(text);
    } catch (const InvalidPlan& error) {
      found = error.diagnostics().front();
      code = 2;
    } catch (const PlanLimit& limit) {
      found = limit.diagnostic();
      code = 3;
    }
    CHECK(code == row.code);
    CHECK(found.line == row.line);
    CHECK(found.column == row.column);
    CHECK(found.message == row.message);
  }
}

TEST_CASE("hostile files cut off anywhere, and with single bytes changed, end with an error or as a plan") {
  // Nothing is asserted of what comes out, but that it is one of the three: no crash, no fault of the tool.
  std::size_t ends[3] = {0, 0, 0};
  unsigned seed = 20240611;
  for (const Row& row : rows()) {
    const std::string text = content_of(std::string(CUTPROOF_HOSTILE_FOLDER) + "/" + row.file);
    for (int i = 0; i < 6 && !text.empty(); ++i) {
      seed = seed * 1664525u + 1013904223u;
      const std::size_t at = (seed >> 8) % text.size();
      std::string changed = text;
      static constexpr char letters[] = "[]{}:,-#&*!|>'\"%@` \n\t?~.0(";
      if (i < 2) {
        changed.resize(at);
      } else {
        changed[at] = letters[(seed >> 3) % (sizeof letters - 1)];
      }
      CAPTURE(row.file, at, changed);
      try {
        read_plan(changed);
        ++ends[0];
      } catch (const InvalidPlan&) {
        ++ends[1];
      } catch (const PlanLimit&) {
        ++ends[2];
      }
    }
  }
  CHECK(ends[1] > 100);
}

// SPDX-License-Identifier: GPL-3.0-or-later
// A thousand texts with one fault each: the tree that is read, byte origins included, or the place and message of the first
// error. The trees are those of a second reader that shared nothing with this one, which agreed on all that this one
// accepts.
#include "plan/document.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdint>
#include <fstream>
#include <sstream>
#include <string>
#include <tuple>
#include <vector>

using namespace cutproof;

namespace {

std::string content_of(const std::string& name) {
  std::ifstream file(std::string(CUTPROOF_MUTANTS_FOLDER) + "/" + name, std::ios::binary);
  REQUIRE(file);
  std::stringstream content;
  content << file.rdbuf();
  return content.str();
}

std::string unescaped(const std::string& text) {
  std::string result;
  for (std::size_t i = 0; i < text.size(); ++i) {
    result += text[i] != '\\' ? text[i] : text[i + 1] == 'n' ? '\n' : text[i + 1] == 't' ? '\t' : '\\';
    if (text[i] == '\\') ++i;
  }
  return result;
}

void write(const Node& node, std::string& out) {
  out += std::to_string(node.begin) + "-" + std::to_string(node.end);
  if (node.is_scalar()) {
    out += (node.quoted ? "\"" : "<") + node.text + ">";
    return;
  }
  out += node.is_sequence() ? "[" : "{";
  for (const Node::Entry& entry : node.entries) {
    out += std::to_string(entry.key_begin) + "-" + std::to_string(entry.key_end) + entry.key + ":";
    write(entry.value, out);
    out += ",";
  }
  out += "]";
}

/// The Fowler-Noll-Vo hash, 1a, of 64 bits: enough to tell trees apart that nobody chose.
std::string digest(const std::string& text) {
  std::uint64_t hash = 14695981039346656037u;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211u;
  std::ostringstream out;
  out << std::hex << hash;
  return out.str();
}

std::string first_of(std::vector<Diagnostic> found) {
  const auto first = std::min_element(found.begin(), found.end(), [](const Diagnostic& a, const Diagnostic& b) {
    return std::tie(a.line, a.column) < std::tie(b.line, b.column);
  });
  return std::to_string(first->line) + ":" + std::to_string(first->column) + "\t" + first->message;
}

std::string outcome(const std::string& text) {
  try {
    const Document document = read_document(text);
    if (!document.diagnostics().empty()) return first_of(document.diagnostics());
    std::string tree;
    write(document.root(), tree);
    return "tree\t" + digest(tree);
  } catch (const InvalidPlan& error) {
    return first_of(error.diagnostics());
  }
}

}  // namespace

TEST_CASE("a thousand mutants are read, or refused, as they were") {
  std::stringstream table(content_of("expected.tsv"));
  int trees = 0, errors = 0;
  for (std::string line; std::getline(table, line);) {
    if (line[0] == '#') continue;
    std::vector<std::string> cells;
    std::stringstream rest(line);
    for (std::string cell; std::getline(rest, cell, '\t');) cells.push_back(cell);
    REQUIRE(cells.size() == 6);
    std::string text = content_of(cells[0]);
    text.replace(std::stoul(cells[1]), std::stoul(cells[2]), unescaped(cells[3]));
    INFO(line << "\n" << text);
    CHECK(outcome(text) == cells[4] + "\t" + cells[5]);
    ++(cells[4] == "tree" ? trees : errors);
  }
  CHECK(trees > 400);
  CHECK(errors > 500);
}

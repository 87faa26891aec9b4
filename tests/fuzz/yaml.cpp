// SPDX-License-Identifier: GPL-3.0-or-later
// Any bytes through the YAML reader: an error at a place inside the text, or a tree that accounts for every value. A tree
// that was read is written out again, all in quotes and brackets, and must come back as the same tree: nothing was dropped
// on the way.
#include "fuzz/demand.hpp"
#include "plan/document.hpp"

#include <algorithm>
#include <cstdlib>
#include <cstring>
#include <set>

using namespace cutproof;
using fuzz::demand;

namespace {

// Small enough that inputs reach them; those of a plan where the environment asks for long inputs.
DocumentLimits limits() {
  DocumentLimits result;
  static const bool large = std::getenv("CUTPROOF_FUZZ_LARGE") != nullptr;
  if (large) return result;
  result.max_bytes = 1u << 16;
  result.max_nesting = 20;
  result.max_nodes = 2000;
  return result;
}

void check_diagnostic(const Diagnostic& found, const fuzz::Lines& lines) {
  const std::string what = std::to_string(found.line) + ":" + std::to_string(found.column) + ": " + found.message;
  demand(lines.hold(found.line, found.column), "the place is inside the text: " + what);
  demand(!found.message.empty(), "every error has a message");
  demand(found.length >= 0, "no negative underline: " + what);
}

/// Values lie inside their collection, in order and apart, and no key stands twice.
void check_tree(const Node& node, const Document& document, std::size_t size) {
  demand(node.begin <= node.end && node.end <= size, "a node lies in the text");
  demand(!node.is_broken(), "no broken node without an error");
  if (node.is_scalar()) {
    demand(node.entries.empty(), "a scalar has no entries");
    for (std::size_t i = 0; i <= node.text.size(); ++i) {
      const std::size_t origin = document.origin(node, i);
      demand(node.begin <= origin && origin <= node.end, "each byte of a scalar comes from its place");
    }
    return;
  }
  std::size_t behind = node.begin;
  std::set<std::string> keys;
  for (const Node::Entry& entry : node.entries) {
    if (node.is_mapping()) {
      demand(behind <= entry.key_begin && entry.key_begin <= entry.key_end && entry.key_end <= entry.value.begin,
             "keys and values stand in order");
      demand(keys.insert(entry.key).second, "no key stands twice");
      demand(node.find(entry.key) == &entry.value, "a key finds its value");
    }
    demand(behind <= entry.value.begin && entry.value.end <= node.end, "values stand in order inside their collection");
    behind = entry.value.end;
    check_tree(entry.value, document, size);
  }
}

/// Marks what the scalars and keys below a node span; counts the colons that its mappings need.
void mark(const Node& node, std::vector<bool>& spanned, std::size_t& colons) {
  const auto span = [&spanned](std::size_t begin, std::size_t end) {
    std::fill(spanned.begin() + static_cast<std::ptrdiff_t>(begin), spanned.begin() + static_cast<std::ptrdiff_t>(end),
              true);
  };
  if (node.is_scalar()) return span(node.begin, node.end);
  for (const Node::Entry& entry : node.entries) {
    if (node.is_mapping()) span(entry.key_begin, entry.key_end);
    mark(entry.value, spanned, colons);
  }
  if (node.is_mapping()) colons += node.entries.size();
}

/// All text belongs to a value or a key, or is a comment, a directive or punctuation: nothing was dropped in silence.
void check_all_is_read(const Document& document, const std::string& text) {
  std::vector<bool> spanned(text.size(), false);
  std::size_t colons = 0;
  mark(document.root(), spanned, colons);
  for (std::size_t i = text.compare(0, 3, "\xEF\xBB\xBF") == 0 ? 3 : 0; i < text.size(); ++i) {
    if (spanned[i]) continue;
    const bool begins_line = i == 0 || text[i - 1] == '\n' || text[i - 1] == '\r';
    if (text[i] == '#' || (text[i] == '%' && begins_line)) {
      while (i < text.size() && text[i] != '\n' && text[i] != '\r') ++i;
      continue;
    }
    if (text[i] == ':') {
      demand(colons > 0, "every colon makes an entry: " + text);
      --colons;
    } else {
      demand(std::strchr(" \t\r\n-,[]{}.", text[i]) != nullptr, "no text is dropped: " + text.substr(i));
    }
  }
  demand(colons == 0, "every entry has its colon: " + text);
}

void write_text(const std::string& text, std::string& out) {
  out += '"';
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') out += '\\';
    if (byte < 0x20 || byte == 0x7F) {
      char escape[8];
      std::snprintf(escape, sizeof escape, "\\x%02x", byte);
      out += escape;
    } else {
      out += c;
    }
  }
  out += '"';
}

void write(const Node& node, std::string& out) {
  if (node.is_scalar()) return write_text(node.text, out);
  out += node.is_mapping() ? '{' : '[';
  for (const Node::Entry& entry : node.entries) {
    if (&entry != &node.entries.front()) out += ", ";
    if (node.is_mapping()) {
      write_text(entry.key, out);
      out += ": ";
    }
    write(entry.value, out);
  }
  out += node.is_mapping() ? '}' : ']';
}

bool same(const Node& a, const Node& b) {
  if (a.kind != b.kind || a.text != b.text || a.entries.size() != b.entries.size()) return false;
  for (std::size_t i = 0; i < a.entries.size(); ++i)
    if (a.entries[i].key != b.entries[i].key || !same(a.entries[i].value, b.entries[i].value)) return false;
  return true;
}

void read_back(const Document& document) {
  std::string text;
  write(document.root(), text);
  DocumentLimits wide = limits();
  wide.max_bytes *= 8;
  try {
    const Document again = read_document(text, wide);
    demand(again.diagnostics().empty(), "a tree that is written out has no errors: " + text);
    demand(same(document.root(), again.root()), "a tree that is written out comes back: " + text);
  } catch (const InvalidPlan& error) {
    demand(false, std::string("a tree that is written out is read: ") + error.what() + ": " + text);
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  const fuzz::Lines lines(text);
  try {
    const Document document = read_document(text, limits());
    for (const Diagnostic& found : document.diagnostics()) check_diagnostic(found, lines);
    if (!document.diagnostics().empty()) return 0;
    check_tree(document.root(), document, text.size());
    check_all_is_read(document, text);
    read_back(document);
  } catch (const InvalidPlan& error) {
    for (const Diagnostic& found : error.diagnostics()) check_diagnostic(found, lines);
  } catch (const PlanLimit& limit) {
    check_diagnostic(limit.diagnostic(), lines);
  }
  return 0;
}

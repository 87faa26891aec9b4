// SPDX-License-Identifier: GPL-3.0-or-later
#include "mend/plan_text.hpp"

#include "dehn/torsion.hpp"
#include "number/print.hpp"
#include "solid/screw.hpp"

#include <algorithm>

namespace cutproof {
namespace {

const Node* find_at(const Node& node, const Places& places, const TextPlace& wanted) {
  const TextPlace here = places.place(node.begin);
  if (here.line == wanted.line && here.column == wanted.column && !node.is_broken()) return &node;
  for (const Node::Entry& entry : node.entries)
    if (const Node* found = find_at(entry.value, places, wanted)) return found;
  return nullptr;
}

const Node* find_key(const Node& node, const Places& places, const TextPlace& wanted) {
  for (const Node::Entry& entry : node.entries) {
    if (node.is_mapping()) {
      const TextPlace here = places.place(entry.key_begin);
      if (here.line == wanted.line && here.column == wanted.column) return &node;
    }
    if (const Node* found = find_key(entry.value, places, wanted)) return found;
  }
  return nullptr;
}

const Node* find_around(const Node& node, const Node& value) {
  for (const Node::Entry& entry : node.entries) {
    if (&entry.value == &value) return node.is_mapping() && node.entries.size() == 1 ? &node : nullptr;
    if (const Node* found = find_around(entry.value, value)) return found;
  }
  return nullptr;
}

std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> lines;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    std::string line(text.substr(0, end));
    if (!line.empty() && line.back() == '\r') line.pop_back();
    lines.push_back(std::move(line));
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return lines;
}

void sort_edits(std::vector<TextEdit>* edits) {
  std::sort(edits->begin(), edits->end(), [](const TextEdit& a, const TextEdit& b) { return a.begin < b.begin; });
}

}  // namespace

std::size_t PlanText::position(const TextPlace& place) const {
  std::size_t at = 0;
  for (int line = 1; line < place.line; ++line) at = std::min(text_.find('\n', at), text_.size() - 1) + 1;
  for (int column = 1; column < place.column && at < text_.size(); ++column)
    for (++at; at < text_.size() && (static_cast<unsigned char>(text_[at]) & 0xc0) == 0x80;) ++at;
  return at;
}

const Node* PlanText::node_at(const TextPlace& place) const {
  return find_at(root(), document_.places(), place);
}

const Node* PlanText::mapping_with_key_at(const TextPlace& place) const {
  return find_key(root(), document_.places(), place);
}

const Node* PlanText::mapping_around(const Node& value) const {
  return find_around(root(), value);
}

std::vector<TextEdit> PlanText::added_steps(const std::vector<std::string>& added) const {
  const Node* steps = root().find("steps");
  if (steps == nullptr || !steps->is_sequence()) return {};
  std::string text;
  if (text_[steps->begin] == '[') {
    for (const std::string& step : added) text += (steps->entries.empty() && text.empty() ? "{ " : ", { ") + step + " }";
    return {{steps->end - 1, steps->end - 1, text}};
  }
  if (steps->entries.empty()) return {};
  std::size_t at = steps->entries.back().value.end;
  while (at > 0 && (text_[at - 1] == '\n' || text_[at - 1] == '\r' || text_[at - 1] == ' ')) --at;
  const std::size_t line_end = std::min(text_.find('\n', at), text_.size());
  const std::string indent(static_cast<std::size_t>(place(steps->begin).column - 1), ' ');
  for (const std::string& step : added) {
    const bool one_key = step.rfind("move:", 0) == 0;
    text += "\n" + indent + "- " + (one_key ? step : "{ " + step + " }");
  }
  return {{line_end, line_end, text}};
}

const Node* PlanText::definition(std::string_view section, const std::string& name) const {
  const Node* names = root().find(section);
  return names == nullptr || !names->is_mapping() ? nullptr : names->find(name);
}

std::string PlanText::edited(std::vector<TextEdit> edits) const {
  sort_edits(&edits);
  std::string result;
  std::size_t done = 0;
  for (const TextEdit& edit : edits) {
    result += text_.substr(done, edit.begin - done) + edit.text;
    done = edit.end;
  }
  return result + text_.substr(done);
}

Mend PlanText::told(std::vector<TextEdit> edits) const {
  sort_edits(&edits);
  Mend mend;
  const auto line_begin = [&](std::size_t at) { return at == 0 ? 0 : text_.rfind('\n', at - 1) + 1; };
  const auto line_end = [&](std::size_t at) { return std::min(text_.find('\n', at), text_.size() - 1) + 1; };
  for (std::size_t i = 0; i < edits.size();) {
    // All edits on the same lines are one change of these lines.
    const std::size_t begin = line_begin(edits[i].begin);
    std::size_t end = line_end(std::max(edits[i].begin, edits[i].end - (edits[i].end > edits[i].begin ? 1 : 0)));
    std::string after;
    std::size_t done = begin;
    for (; i < edits.size() && edits[i].begin < end; ++i) {
      const TextEdit& edit = edits[i];
      const TextPlace from = place(edit.begin), to = place(edit.end);
      mend.edits.push_back({from.line, from.column, to.line, to.column, edit.text});
      after += text_.substr(done, edit.begin - done) + edit.text;
      done = edit.end;
      if (edit.end > edit.begin) end = std::max(end, line_end(edit.end - 1));
    }
    if (done < end) after += text_.substr(done, end - done);
    MendLines lines{place(begin).line, lines_of(std::string_view(text_).substr(begin, end - begin)), lines_of(after)};
    // Only what differs, as where whole lines are put behind one that stays.
    while (!lines.before.empty() && !lines.after.empty() && lines.before.front() == lines.after.front()) {
      lines.before.erase(lines.before.begin());
      lines.after.erase(lines.after.begin());
      ++lines.line;
    }
    while (!lines.before.empty() && !lines.after.empty() && lines.before.back() == lines.after.back()) {
      lines.before.pop_back();
      lines.after.pop_back();
    }
    mend.lines.push_back(std::move(lines));
  }
  return mend;
}

std::string scalar_text(const std::string& expression) {
  return expression.find_first_of(",[]{}:#\"") == std::string::npos ? expression : "\"" + expression + "\"";
}

int PlanText::dimension() const {
  const Node* node = root().find("dimension");
  return node != nullptr && node->is_scalar() && node->text == "2" ? 2 : 3;
}

std::string vector_text(const Vector3& vector, int dimension) {
  return "[" + scalar_text(to_exact(vector.x)) + ", " + scalar_text(to_exact(vector.y)) +
         (dimension == 2 ? "" : ", " + scalar_text(to_exact(vector.z))) + "]";
}

std::string equation_text(const Vector3& normal, const Number& offset) {
  // The sides are divided by the leading coefficient; the normal may not turn round.
  Number scale(1);
  for (int axis = 2; axis >= 0; --axis)
    if (!coordinate(normal, axis).is_zero()) scale = absolute(coordinate(normal, axis));
  std::string left;
  for (int axis = 0; axis < 3; ++axis) {
    const Number factor = divide(coordinate(normal, axis), scale);
    if (factor.is_zero()) continue;
    const char* name = axis == 0 ? "x" : axis == 1 ? "y" : "z";
    const bool negative = factor == Number(-1);
    if (factor == Number(1) || negative) {
      left += (left.empty() ? (negative ? "-" : "") : (negative ? " - " : " + ")) + std::string(name);
    } else {
      left += (left.empty() ? "" : " + ") + std::string("(") + to_exact(factor) + ")*" + name;
    }
  }
  return "\"" + left + " = " + to_exact(divide(offset, scale)) + "\"";
}

std::string motion_text(const Motion& motion, int dimension) {
  const bool flat = dimension == 2;
  const Screw screw = screw_of(motion);
  const std::optional<Number> of_pi = multiple_of_pi(screw.angle);
  if (of_pi && of_pi->is_zero()) return "{ translation: " + vector_text(motion.shift(), dimension) + " }";
  if (of_pi) {
    const std::string axis =
        flat ? vector_text(screw.axis.point, dimension)
             : "[" + vector_text(screw.axis.point) + ", " + vector_text(screw.axis.point + screw.axis.direction) + "]";
    const std::string sign = flat && screw.axis.direction.z.sign() < 0 ? "-" : "";  // clockwise
    const std::string turn = *of_pi == Number(1)
                                 ? "{ half-turn: " + axis + " }"
                                 : "{ rotation: { about: " + axis + ", angle: " + sign + to_exact(pi_angle(*of_pi)) + " } }";
    if (screw.slide.is_zero()) return turn;
    return "[" + turn + ", { translation: " + vector_text(screw.slide * screw.axis.direction) + " }]";
  }
  std::vector<Vector3> corners = {{0, 0, 0}, {1, 0, 0}};
  if (!flat) corners.push_back({0, 1, 0});
  std::string from, to;
  for (const Vector3& corner : corners) {
    from += (from.empty() ? "" : ", ") + vector_text(corner, dimension);
    to += (to.empty() ? "" : ", ") + vector_text(motion(corner), dimension);
  }
  return "{ map: { from: [" + from + "], to: [" + to + "] } }";
}

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// The text of a plan with its tree, and edits of it.
#pragma once

#include "cutproof/result.hpp"
#include "plan/document.hpp"
#include "solid/congruence.hpp"
#include "solid/geometry.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace cutproof {

/// Bytes of the text and what stands there instead.
struct TextEdit {
  std::size_t begin = 0, end = 0;
  std::string text;
};

class PlanText {
 public:
  /// Throws InvalidPlan or PlanLimit for what cannot be read.
  PlanText(std::string_view text, const DocumentLimits& limits) : text_(text), document_(read_document(text_, limits)) {}

  const std::string& text() const { return text_; }
  const Node& root() const { return document_.root(); }
  TextPlace place(std::size_t position) const { return document_.place(position); }
  /// The byte at a place; the end of the text where it is shorter.
  std::size_t position(const TextPlace& place) const;
  std::string source(const Node& node) const { return text_.substr(node.begin, node.end - node.begin); }
  /// The node that begins there, the outermost; null when there is none.
  const Node* node_at(const TextPlace& place) const;
  /// The mapping that has a key there; null when there is none. A step is found by the place of its kind.
  const Node* mapping_with_key_at(const TextPlace& place) const;
  /// The mapping with exactly one key whose value is that node, such as `{ map: ... }`; null when there is none.
  const Node* mapping_around(const Node& value) const;
  /// The definition of a name in a section such as `motions`; null when there is none.
  const Node* definition(std::string_view section, const std::string& name) const;

  /// Edits that put steps behind the last one, each as it stands in a flow collection without the outer braces, such as
  /// `move: { A: ... }`; none where the plan's steps are of no form that is known here.
  std::vector<TextEdit> added_steps(const std::vector<std::string>& steps) const;

  /// The text with these edits, which do not overlap.
  std::string edited(std::vector<TextEdit> edits) const;
  /// The same edits as a reader is told of them.
  Mend told(std::vector<TextEdit> edits) const;

  /// 3, or 2 for a plan in the plane; and which motions there are in it.
  int dimension() const;
  Ambient ambient() const { return dimension() == 2 ? Ambient::plane : Ambient::space; }

 private:
  std::string text_;
  Document document_;
};

/// Texts in the plan language, fit for any place in a flow collection.
std::string scalar_text(const std::string& expression);
std::string vector_text(const Vector3& vector, int dimension = 3);
/// `"x + 2*y = 3"`, in quotes: the plane with the same normal up to a positive factor, which is chosen as people write it.
std::string equation_text(const Vector3& normal, const Number& offset);
/// A motion by its translation, by axis and angle where the angle is a rational multiple of pi, or by a map of points.
/// InvalidInput for a motion that is not proper.
std::string motion_text(const Motion& motion, int dimension = 3);

}  // namespace cutproof

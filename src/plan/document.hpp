// SPDX-License-Identifier: GPL-3.0-or-later
// What a plan is read from: a tree, the places in it, and the errors found in it so far.
#pragma once

#include "plan/comments.hpp"

#include <memory>

namespace cutproof {

/// Collects the errors found in a tree: the first 100 in full, those beyond are only counted.
class Diagnostics {
 public:
  /// The places must outlive the collector.
  explicit Diagnostics(const Places& places) : places_(&places) {}

  void error(std::size_t begin, std::size_t end, std::string message, std::string hint = "");
  void error(Diagnostic diagnostic);
  bool empty() const { return count_ == 0; }
  const std::vector<Diagnostic>& all() const { return found_; }
  std::size_t count() const { return count_; }
  /// Throws InvalidPlan with all that was found; for callers that know of an error.
  [[noreturn]] void give_up() const;

 private:
  const Places* places_;
  std::vector<Diagnostic> found_;
  std::size_t count_ = 0;
};

class Document {
 public:
  /// A tree from anywhere, with what its positions mean.
  Document(std::unique_ptr<const Places> places, Node root)
      : places_(std::move(places)), root_(std::move(root)), diagnostics_(*places_) {}
  Document(std::unique_ptr<const Places> places, Node root, Diagnostics diagnostics, std::vector<Comment> comments = {})
      : places_(std::move(places)),
        root_(std::move(root)),
        diagnostics_(std::move(diagnostics)),
        comments_(std::move(comments)) {}

  const Node& root() const { return root_; }
  const Places& places() const { return *places_; }
  /// In the order of the text; none where there are diagnostics.
  const std::vector<Comment>& comments() const { return comments_; }
  const std::vector<Diagnostic>& diagnostics() const { return diagnostics_.all(); }
  std::size_t error_count() const { return diagnostics_.count(); }

  TextPlace place(std::size_t position) const { return places_->place(position); }
  /// With the pass of the loops around the node.
  TextPlace place(const Node& node) const;
  Diagnostic diagnostic(std::size_t begin, std::size_t end, std::string message, std::string hint = "") const {
    return places_->diagnostic(begin, end, std::move(message), std::move(hint));
  }
  std::size_t origin(const Node& scalar, std::size_t offset) const { return places_->origin(scalar, offset); }
  void error(std::size_t begin, std::size_t end, std::string message, std::string hint = "") {
    diagnostics_.error(begin, end, std::move(message), std::move(hint));
  }
  void error(Diagnostic diagnostic) { diagnostics_.error(std::move(diagnostic)); }

 private:
  std::unique_ptr<const Places> places_;
  Node root_;
  Diagnostics diagnostics_;
  std::vector<Comment> comments_;
};

struct DocumentLimits {
  std::size_t max_bytes = 16u << 20;
  int max_nesting = 100;
  std::size_t max_nodes = 1000000;
};

/// Reads YAML strictly: nothing is dropped, guessed, aliased or null. Throws InvalidPlan when the text cannot be read at
/// all; errors after which reading can go on are in the document's `diagnostics`. Throws PlanLimit (`plan-size`, `nesting`,
/// `nodes`).
Document read_document(std::string text, const DocumentLimits& limits = {});

}  // namespace cutproof

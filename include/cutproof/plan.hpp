// SPDX-License-Identifier: GPL-3.0-or-later
// A plan as data: built by a program, checked like a plan in a file, and written as one. docs/plan-language.md says what
// everything here means; whatever takes an expression or a name takes it as text, as a plan's file would have it.
#pragma once

#include "cutproof/check.hpp"

#include <cstddef>
#include <initializer_list>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

namespace cutproof {

/// A value of the plan language: a text (an expression, a name, a title), a list, or a mapping from keys to values.
class PlanValue {
 public:
  enum class Kind { text, list, mapping };
  struct Entry;

  PlanValue(std::string text) : kind_(Kind::text), text_(std::move(text)) {}
  PlanValue(const char* text) : PlanValue(std::string(text)) {}
  template <class Integer, class = std::enable_if_t<std::is_integral_v<Integer> && !std::is_same_v<Integer, bool>>>
  PlanValue(Integer whole) : PlanValue(std::to_string(whole)) {}
  static PlanValue list(std::vector<PlanValue> entries = {});
  static PlanValue mapping();

  /// Adds an entry at the end of a list or a mapping. A key that stands twice in a mapping is an error of the plan.
  PlanValue& add(PlanValue value);
  PlanValue& add(std::string key, PlanValue value);

  Kind kind() const { return kind_; }
  const std::string& text() const { return text_; }               ///< of a text
  const std::vector<Entry>& entries() const { return entries_; }  ///< of a list (without keys) or a mapping, in order
  /// The first value of this key; null when there is none.
  const PlanValue* find(const std::string& key) const;
  PlanValue* find(const std::string& key);

 private:
  explicit PlanValue(Kind kind) : kind_(kind) {}
  Kind kind_;
  std::string text_;
  std::vector<Entry> entries_;
};

struct PlanValue::Entry {
  std::string key;
  PlanValue value;
};

/// The parts of a plan. Each is a value with a meaning of its own, so that a compiler tells a plane from a motion; each can
/// be made of a `PlanValue`, too, which is not judged before the plan is checked.
namespace plan {

template <class Part>
class Value {
 public:
  const PlanValue& value() const { return value_; }
  static Part of(PlanValue value) { return Part(Value(std::move(value))); }

 protected:
  explicit Value(PlanValue value) : value_(std::move(value)) {}
  PlanValue value_;
};

/// A number or an angle: an expression, `sqrt(2)/2`, `60 deg`.
class Scalar : public Value<Scalar> {
 public:
  Scalar(std::string expression) : Value(std::move(expression)) {}
  Scalar(const char* expression) : Value(expression) {}
  template <class Integer, class = std::enable_if_t<std::is_integral_v<Integer> && !std::is_same_v<Integer, bool>>>
  Scalar(Integer whole) : Value(whole) {}
  explicit Scalar(Value value) : Value(std::move(value)) {}
};

/// A point or a vector: three coordinates, or an expression, `(A + B)/2`.
class Point : public Value<Point> {
 public:
  Point(std::string expression) : Value(std::move(expression)) {}
  Point(const char* expression) : Value(expression) {}
  Point(Scalar x, Scalar y, Scalar z);
  /// A corner of the base of a prism or a pyramid.
  Point(Scalar x, Scalar y);
  explicit Point(Value value) : Value(std::move(value)) {}
};

class Plane : public Value<Plane> {
 public:
  Plane(std::string name) : Value(std::move(name)) {}
  Plane(const char* name) : Value(name) {}
  explicit Plane(Value value) : Value(std::move(value)) {}
  static Plane through(Point p, Point q, Point r);
  static Plane at(Point point, Point normal);
  static Plane equation(std::string equation);  ///< `x + 2*y = 1`
  static Plane between(Point p, Point q);       ///< as far from the one as from the other
  static Plane parallel(Plane plane, Point through);
};

/// A line that a motion turns about.
class Axis : public Value<Axis> {
 public:
  Axis(std::string coordinate) : Value(std::move(coordinate)) {}  ///< `x`, `y` or `z`
  Axis(const char* coordinate) : Value(coordinate) {}
  Axis(Point p, Point q);  ///< through two points; turns are right-handed about the direction from the first to the second
  explicit Axis(Value value) : Value(std::move(value)) {}
};

class Motion : public Value<Motion> {
 public:
  Motion(std::string name) : Value(std::move(name)) {}
  Motion(const char* name) : Value(name) {}
  explicit Motion(Value value) : Value(std::move(value)) {}
  static Motion translation(Point by);
  static Motion rotation(Axis about, Scalar angle);
  static Motion half_turn(Axis about);
  static Motion reflection(Plane in);
  static Motion inverse(Motion of);
  /// Carries three points onto three others.
  static Motion map(std::vector<Point> from, std::vector<Point> to);
  /// One after the other.
  static Motion sequence(std::vector<Motion> motions);
};

class Solid : public Value<Solid> {
 public:
  Solid(std::string name) : Value(std::move(name)) {}
  Solid(const char* name) : Value(name) {}
  explicit Solid(Value value) : Value(std::move(value)) {}
  static Solid box(Point size);
  static Solid box(Point size, Point lowest_corner);
  static Solid prism(std::vector<Point> base, Scalar height);  ///< upright, over a base with two coordinates
  static Solid prism_along(std::vector<Point> base, Point along);
  static Solid pyramid(std::vector<Point> base, Point apex);
  static Solid convex_hull(std::vector<Point> points);
  /// Faces as cycles of indices into the points, counterclockwise seen from outside.
  static Solid faces(std::vector<Point> points, const std::vector<std::vector<std::size_t>>& faces);
  static Solid regular(std::string name, Scalar edge);
  static Solid regular(std::string name, Scalar edge, Point centre);
  static Solid union_of(std::vector<Solid> solids);
  static Solid intersection_of(std::vector<Solid> solids);
  static Solid difference_of(std::vector<Solid> solids);  ///< the first without the others
  static Solid moved(Solid solid, Motion by);
  static Solid scaled(Solid solid, Scalar factor);
  static Solid scaled(Solid solid, Scalar factor, Point about);
  static Solid mirrored(Solid solid, Plane in);
};

/// Pieces: a name, a pattern, `all`, or several of these.
class Pieces : public Value<Pieces> {
 public:
  Pieces(std::string name) : Value(std::move(name)) {}
  Pieces(const char* name) : Value(name) {}
  Pieces(std::initializer_list<const char*> names);
  Pieces(const std::vector<std::string>& names);
  explicit Pieces(Value value) : Value(std::move(value)) {}
};

class Step : public Value<Step> {
 public:
  explicit Step(Value value) : Value(std::move(value)) {}
  static Step cut(Pieces pieces, Plane by);
  static Step cut(Pieces pieces, std::vector<Plane> by);
  static Step move(const std::vector<std::pair<std::string, Motion>>& motions);
  static Step move(Pieces pieces, Motion by);
  static Step join(Pieces pieces, std::string as);
  static Step split(Pieces pieces);
  /// `pieces`, `volume`, `connected`, ... and what is expected of them.
  static Step expect(const std::vector<std::pair<std::string, PlanValue>>& expected);
  /// What the new pieces of a cut or a split are called: a name for each, or one that ends with a star, `slab.*`.
  Step into(std::initializer_list<const char*> names) const;
  Step into(const std::vector<std::string>& names) const;
  Step into(std::string numbering) const;
  Step title(std::string title) const;
  Step note(std::string note) const;
  /// Any other key.
  Step with(std::string key, PlanValue value) const;
};

}  // namespace plan

class Plan {
 public:
  explicit Plan(std::string title = "");
  /// A whole plan as one mapping.
  static Plan of(PlanValue root);

  Plan& source(std::string source);
  Plan& allow_mirror();  ///< motions may turn pieces into their mirror images
  Plan& let(std::string name, plan::Scalar value);
  Plan& point(std::string name, plan::Point point);
  Plan& plane(std::string name, plan::Plane plane);
  Plan& motion(std::string name, plan::Motion motion);
  Plan& solid(std::string name, plan::Solid solid);
  Plan& start(std::string piece, plan::Solid solid);
  Plan& step(plan::Step step);
  Plan& goal(plan::Solid solid);  ///< the only goal
  Plan& goal(std::string name, plan::Solid solid);

  const PlanValue& value() const { return root_; }

 private:
  PlanValue& section(const std::string& key, PlanValue empty);
  void put(const std::string& key, PlanValue value);
  PlanValue root_;
};

/// The plan as YAML. Reading it gives the same values; what cannot be read back (texts that are no UTF-8) is an error there.
std::string write_plan(const Plan& plan);

/// Checks a plan as `check_plan_text` checks the text that `write_plan` gives: the digest, lines, columns and excerpts in
/// the result are that text's. Findings and suspects have a path into the plan, too: `steps[2].by`, counted from 0.
CheckResult check_plan(const Plan& plan, const std::string& name, const CheckSettings& settings = {},
                       const ProgressReceiver& progress = {});

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// How the parts of a plan are made of texts, lists and mappings.
#include "cutproof/plan.hpp"

#include <algorithm>

namespace cutproof {

// The public interface takes short texts by value, so that all of its functions read alike.
// NOLINTBEGIN(performance-unnecessary-value-param)

PlanValue PlanValue::list(std::vector<PlanValue> entries) {
  PlanValue result(Kind::list);
  for (PlanValue& entry : entries) result.add(std::move(entry));
  return result;
}

PlanValue PlanValue::mapping() {
  return PlanValue(Kind::mapping);
}

PlanValue& PlanValue::add(PlanValue value) {
  return add("", std::move(value));
}

PlanValue& PlanValue::add(std::string key, PlanValue value) {
  entries_.push_back({std::move(key), std::move(value)});
  return *this;
}

const PlanValue* PlanValue::find(const std::string& key) const {
  const auto found = std::find_if(entries_.begin(), entries_.end(), [&](const Entry& entry) { return entry.key == key; });
  return kind_ != Kind::mapping || found == entries_.end() ? nullptr : &found->value;
}

PlanValue* PlanValue::find(const std::string& key) {
  return const_cast<PlanValue*>(std::as_const(*this).find(key));
}

namespace plan {

namespace {

using Fields = std::initializer_list<std::pair<const char*, PlanValue>>;

PlanValue mapping(Fields fields) {
  PlanValue result = PlanValue::mapping();
  for (const auto& [key, value] : fields) result.add(key, value);
  return result;
}

template <class Part>
PlanValue list(const std::vector<Part>& parts) {
  PlanValue result = PlanValue::list();
  for (const Part& part : parts) result.add(part.value());
  return result;
}

PlanValue list(const std::vector<std::string>& texts) {
  PlanValue result = PlanValue::list();
  for (const std::string& text : texts) result.add(text);
  return result;
}

}  // namespace

Point::Point(Scalar x, Scalar y, Scalar z) : Value(PlanValue::list({x.value(), y.value(), z.value()})) {}
Point::Point(Scalar x, Scalar y) : Value(PlanValue::list({x.value(), y.value()})) {}

Plane Plane::through(Point p, Point q, Point r) {
  return of(mapping({{"through", list<Point>({p, q, r})}}));
}
Plane Plane::at(Point point, Point normal) {
  return of(mapping({{"point", point.value()}, {"normal", normal.value()}}));
}
Plane Plane::equation(std::string equation) {
  return of(mapping({{"equation", std::move(equation)}}));
}
Plane Plane::between(Point p, Point q) {
  return of(mapping({{"between", list<Point>({p, q})}}));
}
Plane Plane::parallel(Plane plane, Point through) {
  return of(mapping({{"parallel", plane.value()}, {"through", through.value()}}));
}

Axis::Axis(Point p, Point q) : Value(list<Point>({p, q})) {}

Motion Motion::translation(Point by) {
  return of(mapping({{"translation", by.value()}}));
}
Motion Motion::rotation(Axis about, Scalar angle) {
  return of(mapping({{"rotation", mapping({{"about", about.value()}, {"angle", angle.value()}})}}));
}
Motion Motion::half_turn(Axis about) {
  return of(mapping({{"half-turn", about.value()}}));
}
Motion Motion::reflection(Plane in) {
  return of(mapping({{"reflection", in.value()}}));
}
Motion Motion::inverse(Motion motion) {
  return of(mapping({{"inverse", motion.value()}}));
}
Motion Motion::map(std::vector<Point> from, std::vector<Point> to) {
  return of(mapping({{"map", mapping({{"from", list(from)}, {"to", list(to)}})}}));
}
Motion Motion::sequence(std::vector<Motion> motions) {
  return of(list(motions));
}

Solid Solid::box(Point size) {
  return of(mapping({{"box", mapping({{"size", size.value()}})}}));
}
Solid Solid::box(Point size, Point lowest_corner) {
  return of(mapping({{"box", mapping({{"size", size.value()}, {"at", lowest_corner.value()}})}}));
}
Solid Solid::prism(std::vector<Point> base, Scalar height) {
  return of(mapping({{"prism", mapping({{"base", list(base)}, {"height", height.value()}})}}));
}
Solid Solid::prism_along(std::vector<Point> base, Point along) {
  return of(mapping({{"prism", mapping({{"base", list(base)}, {"along", along.value()}})}}));
}
Solid Solid::pyramid(std::vector<Point> base, Point apex) {
  return of(mapping({{"pyramid", mapping({{"base", list(base)}, {"apex", apex.value()}})}}));
}
Solid Solid::convex_hull(std::vector<Point> points) {
  return of(mapping({{"convex-hull", list(points)}}));
}
Solid Solid::faces(std::vector<Point> points, const std::vector<std::vector<std::size_t>>& faces) {
  PlanValue cycles = PlanValue::list();
  for (const std::vector<std::size_t>& face : faces) cycles.add(PlanValue::list({face.begin(), face.end()}));
  return of(mapping({{"faces", mapping({{"points", list(points)}, {"faces", cycles}})}}));
}
Solid Solid::regular(std::string name, Scalar edge) {
  return of(mapping({{"regular", mapping({{"name", std::move(name)}, {"edge", edge.value()}})}}));
}
Solid Solid::regular(std::string name, Scalar edge, Point centre) {
  return of(mapping({{"regular", mapping({{"name", std::move(name)}, {"edge", edge.value()}, {"at", centre.value()}})}}));
}
Solid Solid::union_of(std::vector<Solid> solids) {
  return of(mapping({{"union", list(solids)}}));
}
Solid Solid::intersection_of(std::vector<Solid> solids) {
  return of(mapping({{"intersection", list(solids)}}));
}
Solid Solid::difference_of(std::vector<Solid> solids) {
  return of(mapping({{"difference", list(solids)}}));
}
Solid Solid::moved(Solid solid, Motion by) {
  return of(mapping({{"moved", mapping({{"solid", solid.value()}, {"by", by.value()}})}}));
}
Solid Solid::scaled(Solid solid, Scalar factor) {
  return of(mapping({{"scaled", mapping({{"solid", solid.value()}, {"factor", factor.value()}})}}));
}
Solid Solid::scaled(Solid solid, Scalar factor, Point about) {
  return of(
      mapping({{"scaled", mapping({{"solid", solid.value()}, {"factor", factor.value()}, {"about", about.value()}})}}));
}
Solid Solid::mirrored(Solid solid, Plane in) {
  return of(mapping({{"mirrored", mapping({{"solid", solid.value()}, {"in", in.value()}})}}));
}

Pieces::Pieces(std::initializer_list<const char*> names) : Pieces(std::vector<std::string>(names.begin(), names.end())) {}
Pieces::Pieces(const std::vector<std::string>& names) : Value(list(names)) {}

Step Step::cut(Pieces pieces, Plane by) {
  return of(mapping({{"cut", pieces.value()}, {"by", by.value()}}));
}
Step Step::cut(Pieces pieces, std::vector<Plane> by) {
  return of(mapping({{"cut", pieces.value()}, {"by", list(by)}}));
}
Step Step::move(const std::vector<std::pair<std::string, Motion>>& motions) {
  PlanValue entries = PlanValue::mapping();
  for (const auto& [piece, motion] : motions) entries.add(piece, motion.value());
  return of(mapping({{"move", entries}}));
}
Step Step::move(Pieces pieces, Motion by) {
  return of(mapping({{"move", PlanValue::list({mapping({{"pieces", pieces.value()}, {"by", by.value()}})})}}));
}
Step Step::join(Pieces pieces, std::string as) {
  return of(mapping({{"join", pieces.value()}, {"as", std::move(as)}}));
}
Step Step::split(Pieces pieces) {
  return of(mapping({{"split", pieces.value()}}));
}
Step Step::expect(const std::vector<std::pair<std::string, PlanValue>>& expected) {
  PlanValue entries = PlanValue::mapping();
  for (const auto& [what, value] : expected) entries.add(what, value);
  return of(mapping({{"expect", entries}}));
}
Step Step::into(std::initializer_list<const char*> names) const {
  return into(std::vector<std::string>(names.begin(), names.end()));
}
Step Step::into(const std::vector<std::string>& names) const {
  return with("into", list(names));
}
Step Step::into(std::string numbering) const {
  return with("into", std::move(numbering));
}
Step Step::title(std::string title) const {
  return with("title", std::move(title));
}
Step Step::note(std::string note) const {
  return with("note", std::move(note));
}
Step Step::with(std::string key, PlanValue value) const {
  Step result = *this;
  result.value_.add(std::move(key), std::move(value));
  return result;
}

}  // namespace plan

Plan::Plan(std::string title) : root_(PlanValue::mapping()) {
  root_.add("cutproof", 1);
  if (!title.empty()) root_.add("title", std::move(title));
}

Plan Plan::of(PlanValue root) {
  Plan result;
  result.root_ = std::move(root);
  return result;
}

PlanValue& Plan::section(const std::string& key, PlanValue empty) {
  if (PlanValue* there = root_.find(key)) return *there;
  // Sections stand in the order in which people write them, whatever was added first.
  static const std::vector<std::string> order = {"cutproof", "title",   "source", "mirror", "let",   "points",
                                                 "planes",   "motions", "solids", "start",  "steps", "goal"};
  const auto rank = [](const std::string& name) { return std::find(order.begin(), order.end(), name) - order.begin(); };
  PlanValue root = PlanValue::mapping();
  bool is_in = false;
  for (const PlanValue::Entry& entry : root_.entries()) {
    if (!is_in && rank(entry.key) > rank(key)) root.add(key, empty);
    is_in = is_in || rank(entry.key) > rank(key);
    root.add(entry.key, entry.value);
  }
  if (!is_in) root.add(key, std::move(empty));
  root_ = std::move(root);
  return *root_.find(key);
}

void Plan::put(const std::string& key, PlanValue value) {
  if (root_.find(key) != nullptr) {
    root_.add(key, std::move(value));  // an error, which the check tells
  } else {
    section(key, std::move(value));
  }
}

Plan& Plan::source(std::string source) {
  put("source", std::move(source));
  return *this;
}
Plan& Plan::allow_mirror() {
  put("mirror", "allow");
  return *this;
}
Plan& Plan::let(std::string name, plan::Scalar value) {
  section("let", PlanValue::mapping()).add(std::move(name), value.value());
  return *this;
}
Plan& Plan::point(std::string name, plan::Point point) {
  section("points", PlanValue::mapping()).add(std::move(name), point.value());
  return *this;
}
Plan& Plan::plane(std::string name, plan::Plane plane) {
  section("planes", PlanValue::mapping()).add(std::move(name), plane.value());
  return *this;
}
Plan& Plan::motion(std::string name, plan::Motion motion) {
  section("motions", PlanValue::mapping()).add(std::move(name), motion.value());
  return *this;
}
Plan& Plan::solid(std::string name, plan::Solid solid) {
  section("solids", PlanValue::mapping()).add(std::move(name), solid.value());
  return *this;
}
Plan& Plan::start(std::string piece, plan::Solid solid) {
  section("start", PlanValue::mapping()).add(std::move(piece), solid.value());
  return *this;
}
Plan& Plan::step(plan::Step step) {
  section("steps", PlanValue::list()).add(step.value());
  return *this;
}
Plan& Plan::goal(plan::Solid solid) {
  put("goal", solid.value());
  return *this;
}
Plan& Plan::goal(std::string name, plan::Solid solid) {
  section("goal", PlanValue::mapping()).add(std::move(name), solid.value());
  return *this;
}

// NOLINTEND(performance-unnecessary-value-param)

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// Two engines behind one are only worth something if a lie of either is caught: an engine that lies about one operation at a
// time.
#include "engine_test_support.hpp"
#include "zoo/lying_engine.hpp"

using namespace cutproof;
using test::Lie;
using test::LyingEngine;

namespace {

/// Both engines, one of which lies once it is told to.
struct TwoEngines {
  explicit TwoEngines(bool first_lies) {
    auto liar_engine = std::make_unique<LyingEngine>(make_parts_engine());
    liar = liar_engine.get();
    both = first_lies ? make_both_engines(std::move(liar_engine), make_parts_engine())
                      : make_both_engines(make_parts_engine(), std::move(liar_engine));
    const auto build = [&](const Vector3& low, const Vector3& high) { return both->build(*box_solid(low, high)); };
    piece = build({0, 0, 0}, {2, 2, 2});
    overlapping = build({1, 1, 1}, {3, 3, 3});
    far = build({5, 0, 0}, {6, 1, 1});
    beside_far = build({5, 1, 0}, {6, 2, 1});
    loose = both->joined({piece, far});
  }
  LyingEngine* liar;
  std::unique_ptr<Engine> both;
  Solid piece, overlapping, far, beside_far, loose;

  /// Asks one question of each kind that the lie is about.
  void ask(const std::string& operation) {
    const Plane plane{{1, 2, 3}, 5};
    if (operation == "build") both->build(*box_solid({0, 0, 0}, {1, 2, 3}));
    if (operation == "cut") both->cut(piece, plane);
    if (operation == "moved") both->moved(piece, Motion::translation({1, 0, 0}));
    if (operation == "joined") both->joined({piece, far});
    if (operation == "connected_components") both->connected_components(loose);
    if (operation == "count_connected_components") both->count_connected_components(loose);
    if (operation == "volume") both->volume(piece);
    if (operation == "box") both->box(piece);
    if (operation == "overlapping_pairs") both->overlapping_pairs({piece, overlapping, far}, {1, 1, 1});
    if (operation == "overlap") both->overlap(piece, overlapping);
    if (operation == "count_linked_groups") both->count_linked_groups({piece, far});
    if (operation == "compare") both->compare({piece, overlapping, loose}, {piece, far, beside_far});
    if (operation == "compare_disjoint") both->compare_disjoint({loose}, {overlapping, far});
    if (operation == "reaches_beyond") both->reaches_beyond(piece, plane);
    if (operation == "holds") both->holds(piece, {1, 1, 1});
    if (operation == "inside") both->inside({piece, far, beside_far}, piece);
    if (operation == "touching") both->touching({piece, far}, {beside_far});
    if (operation == "boundary") both->boundary(piece);
  }
};

}  // namespace

TEST_CASE("every lie of one engine about one operation is caught") {
  for (const bool first_lies : {true, false})
    for (const Lie& lie : test::lies()) {
      if (lie.operation == "for_each_edge") continue;  // sums are compared by whoever forms them
      INFO((first_lies ? "the first engine" : "the second engine") << " lies: " << lie.operation << ", " << lie.name);
      TwoEngines engines(first_lies);
      CHECK_NOTHROW(engines.ask(lie.operation));
      engines.liar->tell(&lie);
      CHECK_THROWS_AS(engines.ask(lie.operation), EnginesDiffer);
      CHECK(engines.liar->has_lied());
    }
}

// SPDX-License-Identifier: GPL-3.0-or-later
// Written against the interface alone, so that neither engine can help the other.
#include "solid/both_engines.hpp"

#include <algorithm>

namespace cutproof {

namespace {

struct TwinPiece final : EngineSolid {
  TwinPiece(Solid a, Solid b) : first(std::move(a)), second(std::move(b)) {}
  Solid first, second;
};

const TwinPiece& twin(const Solid& piece) {
  return static_cast<const TwinPiece&>(*piece);
}

bool same(const Boundary& a, const Boundary& b) {
  return a.vertices == b.vertices &&
         std::equal(a.facets.begin(), a.facets.end(), b.facets.begin(), b.facets.end(), [](const Facet& f, const Facet& g) {
           bool same_side = false;
           return f.cycles == g.cycles && coincide(f.plane, g.plane, &same_side) && same_side;
         });
}

bool same(const Region& a, const Region& b) {
  return a.volume == b.volume && same(a.boundary, b.boundary) && a.box.minimum == b.box.minimum &&
         a.box.maximum == b.box.maximum;
}

bool same(const std::vector<DifferenceRegion>& a, const std::vector<DifferenceRegion>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const DifferenceRegion& r, const DifferenceRegion& s) {
    return r.pieces == s.pieces && same(r.region, s.region);
  });
}

class BothEngines final : public Engine {
 public:
  BothEngines(std::unique_ptr<Engine> first, std::unique_ptr<Engine> second)
      : first_(std::move(first)), second_(std::move(second)) {}

  std::string name() const override { return "both"; }
  std::unique_ptr<Engine> another() const override { return make_both_engines(first_->another(), second_->another()); }

  Solid build(const SolidDescription& solid) override {
    return paired(first_->build(solid), second_->build(solid), "what a solid is");
  }

  Halves cut(const Solid& piece, const Plane& plane) override {
    Halves a = first_->cut(twin(piece).first, plane), b = second_->cut(twin(piece).second, plane);
    return {paired(std::move(a.positive), std::move(b.positive), "a half of a cut"),
            paired(std::move(a.negative), std::move(b.negative), "a half of a cut")};
  }

  Solid moved(const Solid& piece, const Motion& motion) override {
    return paired(first_->moved(twin(piece).first, motion), second_->moved(twin(piece).second, motion), "a moved piece");
  }

  Solid joined(const std::vector<Solid>& pieces) override {
    return paired(first_->joined(firsts(pieces)), second_->joined(seconds(pieces)), "a joined piece");
  }

  std::vector<Solid> connected_components(const Solid& piece) override {
    std::vector<Solid> a = first_->connected_components(twin(piece).first),
                       b = second_->connected_components(twin(piece).second);
    demand(a.size() == b.size(), "how many connected parts a piece has");
    std::vector<Solid> parts;
    for (std::size_t i = 0; i < a.size(); ++i) parts.push_back(paired(std::move(a[i]), std::move(b[i]), "a connected part"));
    return parts;
  }

  std::size_t count_connected_components(const Solid& piece) override {
    return agreed(first_->count_connected_components(twin(piece).first),
                  second_->count_connected_components(twin(piece).second), "how many connected parts a piece has");
  }

  Number volume(const Solid& piece) override {
    return agreed(first_->volume(twin(piece).first), second_->volume(twin(piece).second), "the volume of a piece");
  }

  Box box(const Solid& piece) override {
    const Box a = first_->box(twin(piece).first), b = second_->box(twin(piece).second);
    demand(a.minimum == b.minimum && a.maximum == b.maximum, "the box around a piece");
    return a;
  }

  std::size_t bits(const Solid& piece) override {
    return std::max(first_->bits(twin(piece).first), second_->bits(twin(piece).second));
  }

  std::vector<std::pair<std::size_t, std::size_t>> overlapping_pairs(const std::vector<Solid>& pieces,
                                                                     const std::vector<char>& suspect) override {
    return agreed(first_->overlapping_pairs(firsts(pieces), suspect), second_->overlapping_pairs(seconds(pieces), suspect),
                  "which pieces share interior points");
  }

  Region overlap(const Solid& a, const Solid& b) override {
    Region region = first_->overlap(twin(a).first, twin(b).first);
    demand(same(region, second_->overlap(twin(a).second, twin(b).second)), "the overlap of two pieces");
    return region;
  }

  std::size_t count_linked_groups(const std::vector<Solid>& pieces) override {
    return agreed(first_->count_linked_groups(firsts(pieces)), second_->count_linked_groups(seconds(pieces)),
                  "whether pieces hang together");
  }

  GoalComparison compare(const std::vector<Solid>& pieces, const std::vector<Solid>& goals) override {
    return agreed_comparison(first_->compare(firsts(pieces), firsts(goals)),
                             second_->compare(seconds(pieces), seconds(goals)));
  }

  GoalComparison compare_disjoint(const std::vector<Solid>& pieces, const std::vector<Solid>& goals) override {
    return agreed_comparison(first_->compare_disjoint(firsts(pieces), firsts(goals)),
                             second_->compare_disjoint(seconds(pieces), seconds(goals)));
  }

  bool reaches_beyond(const Solid& piece, const Plane& plane) override {
    return agreed(first_->reaches_beyond(twin(piece).first, plane), second_->reaches_beyond(twin(piece).second, plane),
                  "whether a piece reaches beyond a plane");
  }

  bool holds(const Solid& piece, const Vector3& point) override {
    return agreed(first_->holds(twin(piece).first, point), second_->holds(twin(piece).second, point),
                  "whether a point lies in a piece");
  }

  std::vector<char> inside(const std::vector<Solid>& pieces, const Solid& solid) override {
    return agreed(first_->inside(firsts(pieces), twin(solid).first), second_->inside(seconds(pieces), twin(solid).second),
                  "which pieces lie in a solid");
  }

  std::vector<char> touching(const std::vector<Solid>& pieces, const std::vector<Solid>& others) override {
    return agreed(first_->touching(firsts(pieces), firsts(others)), second_->touching(seconds(pieces), seconds(others)),
                  "which pieces touch others");
  }

  void for_each_edge(const Solid& piece, const std::function<void(const EdgeOfPiece&)>& use) override {
    first_->for_each_edge(twin(piece).first, use);
  }

  bool for_each_reference_edge(const Solid& piece, const std::function<void(const EdgeOfPiece&)>& use) override {
    second_->for_each_edge(twin(piece).second, use);
    return true;
  }

  Boundary boundary(const Solid& piece) override {
    Boundary a = first_->boundary(twin(piece).first);
    demand(same(a, second_->boundary(twin(piece).second)), "the boundary of a piece");
    return a;
  }

 private:
  GoalComparison agreed_comparison(GoalComparison a, const GoalComparison& b) const {
    demand(same(a.missing, b.missing), "what is missing from the goal");
    demand(same(a.excess, b.excess), "what lies outside the goal");
    demand(a.straddling == b.straddling, "which pieces lie in two goals");
    return a;
  }

  void demand(bool agreement, const std::string& what) const {
    if (!agreement)
      throw EnginesDiffer("the engines `" + first_->name() + "` and `" + second_->name() + "` disagree on " + what);
  }

  template <class Answer>
  Answer agreed(Answer a, const Answer& b, const std::string& what) const {
    demand(a == b, what);
    return a;
  }

  /// One piece of two equal ones: emptiness, volume (with multiplicity), corners and faces are compared.
  Solid paired(Solid a, Solid b, const std::string& what) {
    demand((a == nullptr) == (b == nullptr), what + ": whether there is anything");
    if (a == nullptr) return nullptr;
    demand(first_->volume(a) == second_->volume(b), what + ": its volume");
    demand(same(first_->boundary(a), second_->boundary(b)), what + ": its corners and faces");
    return std::make_shared<TwinPiece>(std::move(a), std::move(b));
  }

  static std::vector<Solid> firsts(const std::vector<Solid>& pieces) {
    std::vector<Solid> all;
    for (const Solid& piece : pieces) all.push_back(twin(piece).first);
    return all;
  }
  static std::vector<Solid> seconds(const std::vector<Solid>& pieces) {
    std::vector<Solid> all;
    for (const Solid& piece : pieces) all.push_back(twin(piece).second);
    return all;
  }

  std::unique_ptr<Engine> first_, second_;
};

}  // namespace

std::unique_ptr<Engine> make_both_engines(std::unique_ptr<Engine> first, std::unique_ptr<Engine> second) {
  return std::make_unique<BothEngines>(std::move(first), std::move(second));
}

const char* engine_word(EngineChoice choice) {
  switch (choice) {
    case EngineChoice::parts:
      return "parts";
    case EngineChoice::nef:
      return "nef";
    case EngineChoice::both:
      break;
  }
  return "both";
}

std::unique_ptr<Engine> make_engine(EngineChoice choice) {
  switch (choice) {
    case EngineChoice::parts:
      return make_parts_engine();
    case EngineChoice::nef:
      return make_nef_engine();
    case EngineChoice::both:
      break;
  }
  return make_both_engines(make_parts_engine(), make_nef_engine());
}

}  // namespace cutproof

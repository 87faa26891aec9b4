// SPDX-License-Identifier: GPL-3.0-or-later
#include "dehn/dehn_sum.hpp"

#include "dehn/decision.hpp"

#include <algorithm>

namespace cutproof {

namespace {

/// Drops pairs of opposite numbers, then adds by a balanced tree: what cancels never meets a foreign denominator.
Number cancelling_sum(std::vector<Number> numbers) {
  if (numbers.size() < 4) return balanced_sum(std::move(numbers));
  std::unordered_multimap<std::size_t, std::size_t> open;
  std::vector<char> gone(numbers.size(), 0);
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    const std::size_t hash = numbers[i].hash();
    const auto [begin, end] = open.equal_range(hash);
    const auto partner =
        std::find_if(begin, end, [&](const auto& each) { return are_opposite(numbers[each.second], numbers[i]); });
    if (partner == end) {
      open.emplace(hash, i);
      continue;
    }
    gone[i] = gone[partner->second] = 1;
    open.erase(partner);
  }
  std::vector<Number> left;
  for (std::size_t i = 0; i < numbers.size(); ++i)
    if (!gone[i]) left.push_back(std::move(numbers[i]));
  return balanced_sum(std::move(left));
}

void add_to(std::map<int, Number>* terms, int angle, Number coefficient) {
  const auto [place, fresh] = terms->emplace(angle, coefficient);
  if (!fresh) place->second += coefficient;
  if (place->second.is_zero()) terms->erase(place);
}

}  // namespace

void DehnSum::add(const EdgeTerm& term, int times) {
  const Vector3 origin;
  add(EdgeOfPiece{origin, term.edge, term.first, term.second}, times);
}

void DehnSum::add(const EdgeOfPiece& edge, int times) {
  // Which of the normals' two directions is given does not matter: n1 x n2 and n1 . n2 change their signs together.
  int first = table_->normal(edge.first), second = table_->normal(edge.second);
  if (first == second || times == 0) return;  // the surface is flat there
  const bool swapped = first > second;        // n2 x n1 = -(n1 x n2)
  if (swapped) std::swap(first, second);
  const int axis = edge.from.x != edge.to.x ? 0 : edge.from.y != edge.to.y ? 1 : 2;
  const Number &from = coordinate(edge.from, axis), &to = coordinate(edge.to, axis);
  const Field& field = table_->field();
  Number along = swapped != (times < 0) ? from - to : to - from;
  if (&along.field() != &field) along = along.lifted_to(field);
  if (times != 1 && times != -1) along = along * Number(static_cast<long>(times < 0 ? -times : times), field);
  waiting_[{first, second, axis}].push_back(std::move(along));
}

void DehnSum::settle() const {
  if (waiting_.empty()) return;
  std::map<int, std::vector<Number>> products;
  for (auto& [pair, numbers] : waiting_) {
    const Number sum = cancelling_sum(std::move(numbers));
    if (sum.is_zero()) continue;
    const AngleTable::Contribution& contribution = table_->contribution(pair.first, pair.second, pair.axis);
    if (contribution.angle >= 0) products[contribution.angle].push_back(contribution.factor * sum);
  }
  waiting_.clear();
  for (auto& [angle, numbers] : products) {
    Number sum = cancelling_sum(std::move(numbers));
    if (!sum.is_zero()) add_to(&terms_, angle, std::move(sum));
  }
}

const std::map<int, Number>& DehnSum::terms() const {
  settle();
  return terms_;
}

DehnSum& DehnSum::operator+=(const DehnSum& other) {
  if (table_ != other.table_) throw ToolFault("Dehn sums of different tables were added");
  settle();
  const std::map<int, Number> added = other.terms();  // a copy: `other` may be this sum
  for (const auto& [angle, coefficient] : added) add_to(&terms_, angle, coefficient);
  return *this;
}

DehnSum& DehnSum::operator-=(const DehnSum& other) {
  if (table_ != other.table_) throw ToolFault("Dehn sums of different tables were subtracted");
  settle();
  const std::map<int, Number> removed = other.terms();
  for (const auto& [angle, coefficient] : removed) add_to(&terms_, angle, -coefficient);
  return *this;
}

void add_piece(DehnSum& sum, Engine& engine, const Solid& piece, int times) {
  engine.for_each_edge(piece, [&](const EdgeOfPiece& edge) { sum.add(edge, times); });
}

bool is_zero(const DehnSum& sum) {
  std::vector<AngleTerm> terms;
  for (const auto& [angle, coefficient] : sum.terms()) terms.push_back({sum.table()->tangent_squared(angle), coefficient});
  return terms.empty() || decide(std::move(terms)).zero;
}

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// Angles of numbers X + Y*sqrt(-r): their products, and which of them are rational multiples of pi.
#pragma once

#include "number/angle.hpp"
#include "number/number.hpp"

#include <optional>
#include <vector>

namespace cutproof {

/// X + Y*sqrt(-r), not zero, up to a factor in K; r > 0 is known from the context. It stands for its argument modulo pi.
struct Direction {
  Number x, y;
};

/// The product, with common factors removed: the arguments add up, modulo pi.
Direction product(const Direction& a, const Direction& b, const Number& r);
/// product of directions[i]^exponents[i]; exponents may be negative. Of a^m b^n with m >= n, m = k n + rest, is made
/// (a^k b)^n a^rest (Euclid's algorithm on exponents, as J. Bos and M. Coster do for addition chains, CRYPTO '89): where the
/// product is a root of unity the factors shrink along with the exponents, so that relations with exponents of a dozen
/// digits can be multiplied out, too.
Direction product(const std::vector<Direction>& directions, const std::vector<long>& exponents, const Number& r);

/// All n such that a root of unity of order n may lie in a field of this degree over Q: phi(n) divides the degree. Sorted.
std::vector<ulong> possible_orders(int degree);

/// The order of u = z / conjugate(z) for the direction z, when u is a root of unity; empty when it is none. Proved either
/// way: with tau = u + 1/u = 2 (X^2 - r Y^2) / (X^2 + r Y^2) in K, u^n = 1 exactly when the n-th term of T_0 = 2, T_1 = tau,
/// T_(k+1) = tau T_k - T_(k-1) is 2, and only n with phi(n) dividing [K(sqrt(-r)) : Q] or its half can occur.
/// So arg z is a multiple of pi / order.
std::optional<ulong> order_of_root_of_unity(const Direction& z, const Number& r);

/// The rational q with angle = q*pi; empty when there is none. Exact: in each square class the rays' product must be a root
/// of unity (classes never mix), its order bounds the denominator, and an enclosure tells the numerator.
std::optional<Number> multiple_of_pi(const Angle& angle);

/// True iff both angles are the same real number (not only modulo a turn).
bool equal(const Angle& a, const Angle& b);

}  // namespace cutproof

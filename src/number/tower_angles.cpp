// SPDX-License-Identifier: GPL-3.0-or-later
// Cosines and sines. Euler's phi tells the degree of the cosine of a rational multiple of pi before anything is built.
#include "number/complaint.hpp"
#include "number/flint.hpp"
#include "number/print.hpp"
#include "number/tower_state.hpp"

namespace cutproof {

namespace {

/// `pi/5`, `2*pi/5`
std::string pi_multiple_text(const Rational& multiple) {
  Rational numerator, denominator;
  fmpz_set(numerator.numerator(), multiple.numerator());
  fmpz_set(denominator.numerator(), multiple.denominator());
  const std::string top = to_exact(Number(numerator, Field::rational())),
                    bottom = to_exact(Number(denominator, Field::rational()));
  return (top == "1" ? "pi" : top + "*pi") + (bottom == "1" ? "" : "/" + bottom);
}

/// A full turn's part numerator/conductor in lowest terms, between 0 and 1/2, where the conductor is no odd number's double,
/// and whether its cosine is to be negated.
struct PartOfTurn {
  unsigned long numerator, conductor;
  bool negated = false;
};

/// For 0 < a < n/2 in lowest terms: cos(2*pi*a/n) = -cos(pi - 2*pi*a/n), and n may be an odd number's double.
PartOfTurn part_of_turn(unsigned long a, unsigned long n) {
  if (n % 4 != 2) return {a, n};
  const unsigned long half = n / 2;
  return {(half > a ? half - a : a - half) / 2, half, true};
}

/// The primitive polynomial of 2*pi*a/conductor's cosine, conductor > 2, whichever a is.
IntegerPolynomial cosine_minimal_polynomial(unsigned long conductor) {
  IntegerPolynomial doubled, polynomial;
  fmpz_poly_cos_minpoly(doubled, conductor);
  Integer coefficient;
  for (slong i = 0; i <= fmpz_poly_degree(doubled); ++i) {  // of 2*cos, so substitute 2*x
    fmpz_poly_get_coeff_fmpz(coefficient, doubled, i);
    fmpz_mul_2exp(coefficient, coefficient, static_cast<mp_bitcnt_t>(i));
    fmpz_poly_set_coeff_fmpz(polynomial, i, coefficient);
  }
  fmpz_poly_primitive_part(polynomial, polynomial);
  return polynomial;
}

/// The Chebyshev polynomial T_k at x = cos(t), that is cos(k*t).
Number cosine_of_multiple(const Number& x, unsigned long k) {
  Number now(1L, x.field()), next = x;  // T_i and T_(i+1) for the leading bits i of k
  for (unsigned long bit = 1ul << 62; bit > 0; bit >>= 1) {
    const Number odd = Number(2) * now * next - x;
    if ((k & bit) != 0) {
      now = odd;
      next = Number(2) * square(next) - Number(1);
    } else {
      next = odd;
      now = Number(2) * square(now) - Number(1);
    }
  }
  return now;
}

/// T_k with coefficients in a field.
std::vector<Number> chebyshev_polynomial(unsigned long k, const Field& field) {
  IntegerPolynomial chebyshev;
  fmpz_poly_chebyshev_t(chebyshev, k);
  std::vector<Number> polynomial;
  Integer coefficient;
  for (slong i = 0; i <= static_cast<slong>(k); ++i) {
    fmpz_poly_get_coeff_fmpz(coefficient, chebyshev, i);
    polynomial.push_back(integer_number(coefficient, field));
  }
  return polynomial;
}

unsigned long euler_phi(const fmpz_t n) {
  Integer result;
  fmpz_euler_phi(result, n);
  return fmpz_abs_fits_ui(result) ? fmpz_get_ui(result) : ~0ul;
}

}  // namespace

Number FieldTower::cosine_of_pi_multiple(const Number& multiple, const char* function, const Angle& asked) {
  Rational q, whole;
  multiple.get_rational(q);
  // cos(q*pi) is the real part of exp(2*pi*i*a/n) with q/2 = a/n in lowest terms
  Integer n, a;
  fmpq_div_2exp(whole, q, 1);
  fmpz_set(n, whole.denominator());
  fmpz_fdiv_r(a, whole.numerator(), n);
  if (fmpz_is_one(n)) return Number(1L, top());
  if (fmpz_cmp_ui(n, 2) == 0) return Number(-1L, top());
  if (fmpz_cmp_ui(n, 4) == 0) return Number(0L, top());
  const unsigned long degree = fmpz_bits(n) > 62 ? ~0ul : euler_phi(n) / 2;
  if (degree > static_cast<unsigned long>(state_->limits.max_degree)) {
    const long limit = state_->limits.max_degree;
    if (degree == ~0ul) throw OverLimit("max-degree", Wrong::cosine_degree_beyond, {function, asked, limit});
    throw OverLimit("max-degree", Wrong::cosine_degree, {function, asked, static_cast<long>(degree), limit});
  }
  Integer twice;
  fmpz_mul_2exp(twice, a, 1);
  if (fmpz_cmp(twice, n) > 0) fmpz_sub(a, n, a);  // cos is even: an angle in (0, pi)
  const unsigned long numerator = fmpz_get_ui(a), conductor = fmpz_get_ui(n);
  if (const std::optional<Number> known = known_cosine(numerator, conductor)) return *known;
  Rational half_turns;
  fmpz_mul_2exp(half_turns.numerator(), a, 1);
  fmpz_set(half_turns.denominator(), n);
  fmpq_canonicalise(half_turns);
  const Enclosure enclosure = [&](arb_t ball, slong precision) { arb_cos_pi_fmpq(ball, half_turns, precision); };
  Generator adjoined;
  adjoined.text = "cos(" + pi_multiple_text(half_turns) + ")";
  adjoined.half_turns = half_turns;
  const IntegerPolynomial minimal = cosine_minimal_polynomial(conductor);
  const std::optional<Polynomial> shorter = shorter_cosine_polynomial(numerator, conductor, degree);
  const Number value = shorter ? adjoin(*shorter, enclosure, adjoined) : irreducible_root(minimal, enclosure, adjoined);
  state_->cosines.push_back({numerator, conductor, value});
  return value;
}

std::optional<Number> FieldTower::known_cosine(unsigned long numerator, unsigned long conductor) {
  for (const State::Cosine& known : state_->cosines)
    if (known.numerator == numerator && known.conductor == conductor) return lifted(known.value);
  const PartOfTurn asked = part_of_turn(numerator, conductor);
  for (const State::Cosine& known : state_->cosines) {
    const PartOfTurn part = part_of_turn(known.numerator, known.conductor);
    if (part.conductor % asked.conductor != 0) continue;
    const unsigned long times = n_mulmod2(asked.numerator * (part.conductor / asked.conductor),
                                          n_invmod(part.numerator, part.conductor), part.conductor);
    const Number base = lifted(known.value);
    const Number value = checked(cosine_of_multiple(part.negated ? -base : base, std::min(times, part.conductor - times)));
    state_->cosines.push_back({numerator, conductor, asked.negated ? -value : value});
    return state_->cosines.back().value;
  }
  return std::nullopt;
}

std::optional<Polynomial> FieldTower::shorter_cosine_polynomial(unsigned long numerator, unsigned long conductor,
                                                                unsigned long degree) {
  // With g what both conductors have in common and j = conductor/g, T_j maps the cosine to cos(2*pi*numerator/g).
  unsigned long best = degree;
  for (const State::Cosine& known : state_->cosines) {
    const unsigned long common = n_gcd(conductor, known.conductor % 2 == 1 ? 2 * known.conductor : known.conductor);
    if (common > 2) best = std::min(best, conductor / common);  // else T_j - cos(2*pi*numerator/g) is not squarefree
  }
  if (best >= degree) return std::nullopt;
  const unsigned long common = conductor / best, rest = numerator % common;
  const std::optional<Number> constant = known_cosine(std::min(rest, common - rest), common);
  if (!constant) throw ToolFault("a cosine is not where its field says");
  Polynomial result = chebyshev_polynomial(best, top());
  result[0] -= *constant;
  return result;
}

Number FieldTower::cosine_of_ray(const RayAngle& ray, const Number& multiple) {
  // cos(t), then for odd q cos(t/q) as the root of T_q(X) = cos(t) that is isolated by t/q, then half angles, then T_p
  Rational times;
  multiple.get_rational(times);
  if (fmpz_cmp_ui(times.denominator(), 64) > 0 || fmpz_bits(times.numerator()) > 20)
    throw OverLimit("max-degree", Wrong::multiple_degree, {multiple});
  unsigned long q = fmpz_get_ui(times.denominator());
  unsigned long halvings = 0;
  while (q % 2 == 0) {
    q /= 2;
    ++halvings;
  }
  Integer p;
  fmpz_abs(p, times.numerator());
  const Number x = lifted(ray.x), x2 = square(x), length2 = x2 + ray.y2;
  Number cosine;
  if (q == 1 && halvings == 0 && fmpz_is_even(p)) {
    // cos(2*t) = (x^2 - y2) / (x^2 + y2) needs no root
    cosine = lifted(divide(x2 - ray.y2, length2));
    fmpz_fdiv_q_2exp(p, p, 1);
  } else {
    cosine = divide(x, square_root(length2));
  }
  if (q > 1) {
    std::vector<Number> polynomial = chebyshev_polynomial(q, top());
    polynomial[0] = polynomial[0] - cosine;
    Angle part;
    part.rays.emplace_back(Number::fraction(1, static_cast<long>(q)), ray);
    const std::string text = "cos(" + to_exact(part) + ")";
    const auto known = state_->named_roots.find(text);
    if (known != state_->named_roots.end()) {
      cosine = lifted(known->second);
    } else {
      cosine = adjoin(polynomial,
                      [&](arb_t ball, slong precision) {
                        enclose(part, ball, precision);
                        arb_cos(ball, ball, precision);
                      },
                      {text});
      state_->named_roots.emplace(text, cosine);
    }
  }
  // cos(t/2) = sqrt((1 + cos(t)) / 2) for t in (0, pi)
  for (; halvings > 0; --halvings) cosine = square_root((Number(1) + lifted(cosine)) * Number::fraction(1, 2));
  cosine = lifted(cosine);
  Number before(1L, top()), now = cosine;
  const Number doubled = Number(2) * cosine;
  for (unsigned long k = 1; k < fmpz_get_ui(p); ++k) {
    Number next = checked(doubled * now - before);
    before = std::move(now);
    now = std::move(next);
  }
  return now;
}

namespace {

/// The sign of sin(angle), which is known not to be 0.
int sign_of_sine(const Angle& angle) {
  Ball ball;
  for (slong precision = 64;; precision *= 2) {
    if (precision > (1L << 20)) throw ToolFault("the sign of a sine could not be told");
    enclose(angle, ball, precision);
    arb_sin(ball, ball, precision);
    if (arb_is_positive(ball)) return 1;
    if (arb_is_negative(ball)) return -1;
  }
}

}  // namespace

Number FieldTower::cosine(const Angle& angle) {
  // cos(A + B) = cos A cos B - sin A sin B: only the product of the sines needs a root.
  Angle so_far = pi_angle(angle.pi_multiple);
  const bool has_pi = !angle.pi_multiple.is_zero() || angle.rays.empty();
  Number result =
      has_pi ? cosine_of_pi_multiple(angle.pi_multiple, "cosine", pi_angle(angle.pi_multiple)) : Number(1L, top());
  bool first = !has_pi;
  for (const auto& [multiple, ray] : angle.rays) {
    const Number next = cosine_of_ray(ray, multiple);
    Angle term;
    term.rays.emplace_back(multiple, ray);
    if (first) {
      result = next;
      first = false;
    } else {
      const Number squares = (Number(1) - square(lifted(result))) * (Number(1) - square(next));
      Number product_of_sines(0L, top());
      if (!squares.is_zero()) {
        product_of_sines = square_root(squares);
        if (sign_of_sine(so_far) * sign_of_sine(term) < 0) product_of_sines = -product_of_sines;
      }
      result = checked(lifted(result) * lifted(next) - product_of_sines);
    }
    so_far = so_far + term;
  }
  return lifted(result);
}

Number FieldTower::sine_over_length(const Angle& angle, const Number& squared_length) {
  const Number cosine_value = cosine(angle);
  const Number squared_sine = Number(1) - square(cosine_value);
  if (squared_sine.is_zero()) return Number(0L, top());
  const Number size = square_root(divide(squared_sine, lifted(squared_length)));
  return sign_of_sine(angle) > 0 ? size : -size;
}

Number FieldTower::sine(const Angle& angle) {
  // sin(q*pi) lies in the field of cos(pi/2 - q*pi), which may be smaller than that of cos(q*pi) and a root.
  if (angle.is_rational_multiple_of_pi())
    return cosine_of_pi_multiple(Number::fraction(1, 2) - angle.pi_multiple, "sine", angle);
  return sine_over_length(angle, Number(1));
}

Number FieldTower::tangent(const Angle& angle) {
  if (angle.pi_multiple.is_zero() && angle.rays.size() == 1 && absolute(angle.rays[0].first) == Number(1)) {
    const Number size = divide(square_root(angle.rays[0].second.y2), lifted(angle.rays[0].second.x));
    return angle.rays[0].first.sign() > 0 ? lifted(size) : -lifted(size);
  }
  const Number below = cosine(angle);
  if (below.is_zero()) throw Refused(Wrong::tangent_of_right_angle);
  const Number above = sine(angle);
  return divide(above, lifted(below));
}

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// The one place where the headers of FLINT, Arb and Antic are met (FLINT 3 merges the three and moves their headers), and
// owners for their plain C objects, so that exceptions do not leak them. Owners convert to the pointers that the libraries'
// functions take.
#pragma once

#include <acb.h>
#include <acb_poly.h>
#include <antic/nf.h>
#include <antic/nf_elem.h>
#include <arb.h>
#include <arb_fmpz_poly.h>
#include <arb_poly.h>
#include <flint/flint.h>
#include <flint/fmpq.h>
#include <flint/fmpq_mat.h>
#include <flint/fmpq_poly.h>
#include <flint/fmpz.h>
#include <flint/fmpz_factor.h>
#include <flint/fmpz_lll.h>
#include <flint/fmpz_mat.h>
#include <flint/fmpz_poly.h>
#include <flint/fmpz_poly_factor.h>
#include <flint/fq_nmod.h>
#include <flint/nmod_mat.h>
#include <flint/nmod_poly.h>
#include <flint/nmod_poly_factor.h>
#include <flint/ulong_extras.h>

#include <functional>
#include <string>

namespace cutproof {

struct Integer {
  Integer() { fmpz_init(value); }
  explicit Integer(slong start) { fmpz_init_set_si(value, start); }
  explicit Integer(const fmpz_t start) { fmpz_init_set(value, start); }
  Integer(const Integer& other) { fmpz_init_set(value, other.value); }
  Integer& operator=(const Integer& other) {
    fmpz_set(value, other.value);
    return *this;
  }
  ~Integer() { fmpz_clear(value); }
  operator fmpz*() { return value; }
  operator const fmpz*() const { return value; }
  fmpz_t value;
};

struct Rational {
  Rational() { fmpq_init(value); }
  Rational(const Rational& other) {
    fmpq_init(value);
    fmpq_set(value, other.value);
  }
  Rational& operator=(const Rational& other) {
    fmpq_set(value, other.value);
    return *this;
  }
  ~Rational() { fmpq_clear(value); }
  operator fmpq*() { return value; }
  operator const fmpq*() const { return value; }
  fmpz* numerator() { return fmpq_numref(value); }
  fmpz* denominator() { return fmpq_denref(value); }
  const fmpz* numerator() const { return fmpq_numref(value); }
  const fmpz* denominator() const { return fmpq_denref(value); }
  fmpq_t value;
};

struct IntegerPolynomial {
  IntegerPolynomial() { fmpz_poly_init(value); }
  IntegerPolynomial(const IntegerPolynomial& other) {
    fmpz_poly_init(value);
    fmpz_poly_set(value, other.value);
  }
  IntegerPolynomial& operator=(const IntegerPolynomial& other) {
    fmpz_poly_set(value, other.value);
    return *this;
  }
  ~IntegerPolynomial() { fmpz_poly_clear(value); }
  operator fmpz_poly_struct*() { return value; }
  operator const fmpz_poly_struct*() const { return value; }
  fmpz_poly_t value;
};

struct RationalPolynomial {
  RationalPolynomial() { fmpq_poly_init(value); }
  RationalPolynomial(const RationalPolynomial& other) {
    fmpq_poly_init(value);
    fmpq_poly_set(value, other.value);
  }
  RationalPolynomial& operator=(const RationalPolynomial& other) {
    fmpq_poly_set(value, other.value);
    return *this;
  }
  ~RationalPolynomial() { fmpq_poly_clear(value); }
  operator fmpq_poly_struct*() { return value; }
  operator const fmpq_poly_struct*() const { return value; }
  fmpq_poly_t value;
};

struct RationalMatrix {
  RationalMatrix(slong rows, slong columns) { fmpq_mat_init(value, rows, columns); }
  RationalMatrix(const RationalMatrix&) = delete;
  RationalMatrix& operator=(const RationalMatrix&) = delete;
  ~RationalMatrix() { fmpq_mat_clear(value); }
  operator fmpq_mat_struct*() { return value; }
  operator const fmpq_mat_struct*() const { return value; }
  fmpq* entry(slong row, slong column) { return fmpq_mat_entry(value, row, column); }
  const fmpq* entry(slong row, slong column) const { return fmpq_mat_entry(value, row, column); }
  fmpq_mat_t value;
};

struct IntegerMatrix {
  IntegerMatrix(slong rows, slong columns) { fmpz_mat_init(value, rows, columns); }
  IntegerMatrix(const IntegerMatrix&) = delete;
  IntegerMatrix& operator=(const IntegerMatrix&) = delete;
  ~IntegerMatrix() { fmpz_mat_clear(value); }
  operator fmpz_mat_struct*() { return value; }
  operator const fmpz_mat_struct*() const { return value; }
  fmpz* entry(slong row, slong column) { return fmpz_mat_entry(value, row, column); }
  const fmpz* entry(slong row, slong column) const { return fmpz_mat_entry(value, row, column); }
  fmpz_mat_t value;
};

/// A polynomial over the integers modulo a prime.
struct ResiduePolynomial {
  explicit ResiduePolynomial(ulong prime) { nmod_poly_init(value, prime); }
  ResiduePolynomial(const ResiduePolynomial&) = delete;
  ResiduePolynomial& operator=(const ResiduePolynomial&) = delete;
  ~ResiduePolynomial() { nmod_poly_clear(value); }
  operator nmod_poly_struct*() { return value; }
  operator const nmod_poly_struct*() const { return value; }
  nmod_poly_t value;
};

/// The factors over Q of an integer polynomial, with their multiplicities.
struct IntegerFactors {
  explicit IntegerFactors(const fmpz_poly_t polynomial) {
    fmpz_poly_factor_init(value);
    fmpz_poly_factor(value, polynomial);
  }
  IntegerFactors(const IntegerFactors&) = delete;
  IntegerFactors& operator=(const IntegerFactors&) = delete;
  ~IntegerFactors() { fmpz_poly_factor_clear(value); }
  slong count() const { return value->num; }
  const fmpz_poly_struct* operator[](slong i) const { return value->p + i; }
  slong multiplicity(slong i) const { return value->exp[i]; }
  fmpz_poly_factor_t value;
};

/// Antic's description of the field of a monic integer polynomial.
struct NumberFieldData {
  explicit NumberFieldData(const fmpz_poly_t polynomial) {
    RationalPolynomial rational;
    fmpq_poly_set_fmpz_poly(rational, polynomial);
    nf_init(value, rational);
  }
  NumberFieldData(const NumberFieldData&) = delete;
  NumberFieldData& operator=(const NumberFieldData&) = delete;
  ~NumberFieldData() { nf_clear(value); }
  nf_t value;
};

/// A real ball.
struct Ball {
  Ball() { arb_init(value); }
  Ball(const Ball& other) {
    arb_init(value);
    arb_set(value, other.value);
  }
  Ball& operator=(const Ball& other) {
    arb_set(value, other.value);
    return *this;
  }
  ~Ball() { arb_clear(value); }
  operator arb_struct*() { return value; }
  operator const arb_struct*() const { return value; }
  arb_t value;
};

/// Some complex balls.
struct ComplexBalls {
  explicit ComplexBalls(slong count) : length(count), value(_acb_vec_init(count)) {}
  ComplexBalls(const ComplexBalls&) = delete;
  ComplexBalls& operator=(const ComplexBalls&) = delete;
  ~ComplexBalls() { _acb_vec_clear(value, length); }
  acb_ptr operator[](slong i) { return value + i; }
  acb_srcptr operator[](slong i) const { return value + i; }
  slong length;
  acb_ptr value;
};

/// A polynomial whose coefficients are complex balls.
struct ComplexPolynomial {
  ComplexPolynomial() { acb_poly_init(value); }
  ComplexPolynomial(const ComplexPolynomial&) = delete;
  ComplexPolynomial& operator=(const ComplexPolynomial&) = delete;
  ~ComplexPolynomial() { acb_poly_clear(value); }
  operator acb_poly_struct*() { return value; }
  operator const acb_poly_struct*() const { return value; }
  acb_poly_t value;
};

/// Encloses one real number in a ball whose radius goes to 0 as the precision grows.
using Enclosure = std::function<void(arb_t ball, slong precision)>;

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// The certificate of a Dehn invariant as data. docs/certificates.md says what each part means, and what must be checked.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace cutproof {

/// A number of the certificate's field: its coefficients in powers of the generator, lowest first, without zeros at the end;
/// each a rational number, `-3/2`.
using FieldCoefficients = std::vector<std::string>;

struct CertificateField {
  std::vector<std::string> minimal_polynomial;   ///< of the generator: whole numbers, lowest coefficient first
  std::array<std::string, 2> root_between = {};  ///< rational; exactly one root lies between them: the generator
};

/// An edge of the solid, and the outward normals of the two faces that meet there.
struct CertificateEdge {
  int times = 1;  ///< how often it counts; -1 where a solid is subtracted
  std::array<FieldCoefficients, 3> edge, first, second;
};

/// coefficient * sqrt(T) (x) arctan(sqrt(T)), T = tangent_squared.
struct CertificateAngle {
  FieldCoefficients tangent_squared, coefficient;
};

/// Quadratic residue symbols of the classes' radicands at a place: a prime and a root of the minimal polynomial modulo it.
struct CertificateSeparation {
  std::uint64_t q = 0, root = 0;
  std::vector<int> symbols;
};

/// A power residue character of the class's order l.
struct CertificateCharacter {
  std::uint64_t q = 0, root = 0, sqrt_minus_r = 0, generator = 0;
  std::vector<std::uint64_t> logs;
};

/// The product of u_j^exponents[j] is a root of unity whose order divides `order`.
struct CertificateRelation {
  std::size_t dependent = 0;
  std::vector<long> exponents;
  std::uint64_t order = 1;
};

/// The angles of one square class. Positions are indices into its `angles`.
struct CertificateClass {
  FieldCoefficients radicand;
  std::vector<std::size_t> angles;  ///< indices into `DehnCertificate::angles`
  std::vector<FieldCoefficients> scales;
  std::uint64_t l = 0;
  std::vector<CertificateCharacter> characters;
  std::vector<std::size_t> pivots;
  std::vector<CertificateRelation> relations;
  std::vector<FieldCoefficients> coefficients;
};

/// A term as it is shown.
struct CertificateSum {
  std::size_t part = 0;  ///< index into `DehnCertificate::classes`
  std::vector<std::size_t> pivots;
  std::vector<long> factors;
  FieldCoefficients coefficient, tangent_squared;
};

struct DehnCertificate {
  CertificateField field;
  std::vector<CertificateEdge> edges;
  std::vector<CertificateAngle> angles;
  std::vector<CertificateSeparation> separations;
  std::vector<CertificateClass> classes;
  std::vector<CertificateSum> sums;
  bool zero = true;
};

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// Certificates are most of a report, and hold only numbers, lists and plain keys: they are written as text at once.
#include "report/certificate.hpp"

namespace cutproof {

namespace {

std::string json(const std::string& number) {
  return "\"" + number + "\"";
}

template <class Integer, class = std::enable_if_t<std::is_integral_v<Integer>>>
std::string json(Integer value) {
  return std::to_string(value);
}

template <class List>
std::string list(const List& entries);

std::string json(const FieldCoefficients& number) {
  return list(number);
}

template <std::size_t n>
std::string json(const std::array<FieldCoefficients, n>& vector) {
  return list(vector);
}

std::string json(const CertificateField& field) {
  return "{\"minimal_polynomial\":" + list(field.minimal_polynomial) + ",\"root_between\":" + list(field.root_between) + "}";
}

std::string json(const CertificateEdge& edge) {
  return "{\"times\":" + json(edge.times) + ",\"edge\":" + json(edge.edge) + ",\"first\":" + json(edge.first) +
         ",\"second\":" + json(edge.second) + "}";
}

std::string json(const CertificateAngle& angle) {
  return "{\"tangent_squared\":" + json(angle.tangent_squared) + ",\"coefficient\":" + json(angle.coefficient) + "}";
}

std::string json(const CertificateSeparation& separation) {
  return "{\"q\":" + json(separation.q) + ",\"root\":" + json(separation.root) + ",\"symbols\":" + list(separation.symbols) +
         "}";
}

std::string json(const CertificateCharacter& character) {
  return "{\"q\":" + json(character.q) + ",\"root\":" + json(character.root) +
         ",\"sqrt_minus_r\":" + json(character.sqrt_minus_r) + ",\"generator\":" + json(character.generator) +
         ",\"logs\":" + list(character.logs) + "}";
}

std::string json(const CertificateRelation& relation) {
  return "{\"dependent\":" + json(relation.dependent) + ",\"exponents\":" + list(relation.exponents) +
         ",\"order\":" + json(relation.order) + "}";
}

std::string json(const CertificateClass& part) {
  return "{\"radicand\":" + json(part.radicand) + ",\"angles\":" + list(part.angles) + ",\"scales\":" + list(part.scales) +
         ",\"l\":" + json(part.l) + ",\"characters\":" + list(part.characters) + ",\"pivots\":" + list(part.pivots) +
         ",\"relations\":" + list(part.relations) + ",\"coefficients\":" + list(part.coefficients) + "}";
}

std::string json(const CertificateSum& sum) {
  return "{\"class\":" + json(sum.part) + ",\"pivots\":" + list(sum.pivots) + ",\"factors\":" + list(sum.factors) +
         ",\"coefficient\":" + json(sum.coefficient) + ",\"tangent_squared\":" + json(sum.tangent_squared) + "}";
}

template <class List>
std::string list(const List& entries) {
  std::string result = "[";
  for (const auto& entry : entries) {
    if (result.size() > 1) result += ',';
    result += json(entry);
  }
  return result + "]";
}

}  // namespace

std::string certificate_json(const DehnCertificate& certificate) {
  return "{\"format\":\"cutproof-dehn-certificate\",\"version\":1,\"field\":" + json(certificate.field) +
         ",\"edges\":" + list(certificate.edges) + ",\"angles\":" + list(certificate.angles) +
         ",\"separations\":" + list(certificate.separations) + ",\"classes\":" + list(certificate.classes) +
         ",\"sums\":" + list(certificate.sums) + ",\"zero\":" + (certificate.zero ? "true" : "false") + "}";
}

}  // namespace cutproof

// SPDX-License-Identifier: GPL-3.0-or-later
// How a certificate is written in reports.
#pragma once

#include "cutproof/certificate.hpp"

#include <string>

namespace cutproof {

/// The certificate as one JSON object without blanks (docs/certificates.md).
std::string certificate_json(const DehnCertificate& certificate);

}  // namespace cutproof

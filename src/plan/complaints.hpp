// SPDX-License-Identifier: GPL-3.0-or-later
// The sentences and hints for what the rooms below find wrong: the only place where they stand.
#pragma once

#include "number/complaint.hpp"

#include <exception>
#include <string>

namespace cutproof {

struct ToldComplaint {
  std::string sentence, hint;  ///< the hint may be empty
};

ToldComplaint told(const Complaint& complaint);
/// What an exception has to say: from the table where it carries a code, its own words otherwise.
ToldComplaint told(const std::exception& error);

}  // namespace cutproof

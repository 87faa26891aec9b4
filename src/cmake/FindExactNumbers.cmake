# SPDX-License-Identifier: GPL-3.0-or-later
# Antic (number fields), Arb (balls), FLINT, MPFR and GMP bring neither CMake nor pkg-config files in Debian 12.
find_path(ExactNumbers_INCLUDE_DIR antic/nf_elem.h)
set(ExactNumbers_LIBRARIES "")
foreach(component antic flint-arb flint mpfr gmp)
  if(component STREQUAL "flint-arb")
    find_library(ExactNumbers_${component}_LIBRARY NAMES flint-arb arb)
  else()
    find_library(ExactNumbers_${component}_LIBRARY NAMES ${component})
  endif()
  mark_as_advanced(ExactNumbers_${component}_LIBRARY)
  list(APPEND ExactNumbers_LIBRARIES ${ExactNumbers_${component}_LIBRARY})
endforeach()
include(FindPackageHandleStandardArgs)
find_package_handle_standard_args(ExactNumbers REQUIRED_VARS ExactNumbers_INCLUDE_DIR ExactNumbers_antic_LIBRARY
  ExactNumbers_flint-arb_LIBRARY ExactNumbers_flint_LIBRARY ExactNumbers_mpfr_LIBRARY ExactNumbers_gmp_LIBRARY
  REASON_FAILURE_MESSAGE "install libantic-dev, libflint-arb-dev, libflint-dev, libmpfr-dev and libgmp-dev")
if(ExactNumbers_FOUND AND NOT TARGET ExactNumbers::ExactNumbers)
  add_library(ExactNumbers::ExactNumbers INTERFACE IMPORTED)
  target_include_directories(ExactNumbers::ExactNumbers INTERFACE ${ExactNumbers_INCLUDE_DIR})
  target_link_libraries(ExactNumbers::ExactNumbers INTERFACE ${ExactNumbers_LIBRARIES})
endif()

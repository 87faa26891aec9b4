# SPDX-License-Identifier: GPL-3.0-or-later
# utf8proc (UTF-8, properties and widths of characters) brings no CMake files in Debian 12.
find_path(Utf8proc_INCLUDE_DIR utf8proc.h)
find_library(Utf8proc_LIBRARY utf8proc)
mark_as_advanced(Utf8proc_LIBRARY)
include(FindPackageHandleStandardArgs)
find_package_handle_standard_args(Utf8proc REQUIRED_VARS Utf8proc_INCLUDE_DIR Utf8proc_LIBRARY
  REASON_FAILURE_MESSAGE "install libutf8proc-dev")
if(Utf8proc_FOUND AND NOT TARGET Utf8proc::Utf8proc)
  add_library(Utf8proc::Utf8proc INTERFACE IMPORTED)
  target_include_directories(Utf8proc::Utf8proc INTERFACE ${Utf8proc_INCLUDE_DIR})
  target_link_libraries(Utf8proc::Utf8proc INTERFACE ${Utf8proc_LIBRARY})
endif()

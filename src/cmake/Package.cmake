# SPDX-License-Identifier: GPL-3.0-or-later
# `cmake --build build --target package`: a Debian package with the program, its documents and its plans, which depends on
# nothing but the libraries that the program is linked with (dpkg-shlibdeps finds them; that needs dpkg-dev and file).
set(CUTPROOF_PACKAGE_CONTACT "whoever built it <root@localhost>" CACHE STRING "Maintainer of the Debian package")

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME cutproof)
set(CPACK_PACKAGE_CONTACT "${CUTPROOF_PACKAGE_CONTACT}")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "checks dissections of polyhedra in exact arithmetic")
set(CPACK_PACKAGE_DESCRIPTION "cutproof carries out a plan of cuts and motions of polyhedra in exact arithmetic, and proves
that the pieces make what they should, or shows which piece is wrong, where, and by how much.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_COMPONENTS_ALL program)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME cutproof)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
include(CPack)

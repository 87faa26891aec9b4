# SPDX-License-Identifier: GPL-3.0-or-later
# The library is static, so whoever links it needs what it was built on.
include(CMakeFindDependencyMacro)
list(PREPEND CMAKE_MODULE_PATH ${CMAKE_CURRENT_LIST_DIR})
find_dependency(ExactNumbers)
find_dependency(fmt)
find_dependency(Utf8proc)
find_dependency(yaml-cpp)
list(POP_FRONT CMAKE_MODULE_PATH)
include(${CMAKE_CURRENT_LIST_DIR}/cutproof_targets.cmake)

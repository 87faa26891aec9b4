# SPDX-License-Identifier: GPL-3.0-or-later
# What plans/try and tests/run share: the one list of Debian packages, and how to build. Read with `.`, not run.

build_packages="g++ cmake ninja-build ccache libcgal-dev libgmp-dev libmpfr-dev libflint-dev libflint-arb-dev libantic-dev
  libyaml-cpp-dev libutf8proc-dev libfmt-dev libspdlog-dev nlohmann-json3-dev libcli11-dev esbuild libjs-three"
test_packages="catch2 python3 python3-yaml python3-jsonschema pari-gp pkg-config
  python3-junitparser cmark-gfm libxml2-utils librsvg2-bin"
deb_packages="dpkg-dev file"  # for `cmake --build build --target package`
bare_packages="debootstrap $deb_packages"  # for tests/install/bare_tree
page_packages="chromium"  # with npm, for tests/page
fuzz_packages="clang llvm libclang-rt-14-dev"

# Installs what is missing of the packages named; asks for nothing when all are there.
install_packages() {
  missing=
  for package in "$@"; do
    case $(dpkg-query -W -f '${Status}' "$package" 2>/dev/null) in
      *"ok installed") ;;
      *) missing="$missing $package" ;;
    esac
  done
  [ -n "$missing" ] || return 0
  echo "Installing:$missing"
  root=
  if [ "$(id -u)" -ne 0 ]; then
    command -v sudo >/dev/null || { echo "These packages are missing; install them as root:$missing" >&2; exit 1; }
    root=sudo
  fi
  $root apt-get update -qq
  # shellcheck disable=SC2086
  $root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing
}

# As many compilers at once as there are processors, and 2 GB of memory for each: Nef polyhedra need that much.
build_jobs() {
  processors=$(nproc)
  memory=$(awk '/^MemAvailable/ { print int($2 / 2000000) }' /proc/meminfo)
  [ "$memory" -ge 1 ] || memory=1
  [ "$memory" -lt "$processors" ] && echo "$memory" || echo "$processors"
}

# build FOLDER CMAKE_OPTION...: configures and builds everything that the options ask for.
build() {
  folder=$1
  shift
  cmake -S . -B "$folder" -G Ninja "$@"
  cmake --build "$folder" --parallel "$(build_jobs)"
}

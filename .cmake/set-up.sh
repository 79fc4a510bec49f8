# Shared by cli/first-run and tests/run-all; sourced from the project's top folder.

build_packages=(cmake ninja-build g++ pkg-config libboost-dev libeigen3-dev libtbb-dev libcli11-dev
  libfmt-dev libfast-float-dev libfccp-dev librandom123-dev libtomlplusplus-dev nlohmann-json3-dev libutf8proc-dev
  libjs-chart.js catch2 python3)
test_packages=(dpkg-dev file chromium chromium-driver python3-selenium clang-14 libclang-rt-14-dev)
arm64_tools=(g++-aarch64-linux-gnu qemu-user-static)
arm64_packages=(libtbb-dev libfmt-dev libtomlplusplus-dev libutf8proc-dev libstdc++6)
cmake_arguments=()

# Installs the Debian packages of the list that are not there yet; needs root or sudo only then.
install_missing() {
  local missing=() package
  for package in "$@"; do
    dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q 'ok installed' ||
      missing+=("$package")
  done
  if ((${#missing[@]} == 0)); then return; fi
  echo "Installing: ${missing[*]}" >&2
  local as_root=()
  if ((EUID != 0)); then
    command -v sudo >/dev/null || {
      echo "Run as root, or install these packages first: ${missing[*]}" >&2
      exit 1
    }
    as_root=(sudo)
  fi
  # A fresh machine may know no package lists yet, or old ones.
  "${as_root[@]}" apt-get update -qq >&2
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive \
    apt-get install -y -qq --no-install-recommends "${missing[@]}" >&2
}

# Unpacks Debian's ARM64 build of the listed packages, and what they depend on, into a folder; apt
# keeps its state beside it, so the machine's own packages and architectures stay as they are.
unpack_arm64() {
  local root=$1 state=$1-apt package
  shift
  if [[ -d $root ]]; then return; fi
  mkdir -p "$state"/{lists,cache/archives}/partial "$root.new"
  state=$(realpath "$state")
  : >"$state/status"
  local apt=(apt-get -qq -o APT::Architecture=arm64 -o APT::Architectures=arm64
    -o Dir::State="$state" -o Dir::State::status="$state/status" -o Dir::Cache="$state/cache")
  "${apt[@]}" update >&2
  "${apt[@]}" install -y --download-only --no-install-recommends "$@" >&2
  for package in "$state"/cache/archives/*.deb; do dpkg-deb -x "$package" "$root.new"; done
  mv "$root.new" "$root"
}

# Configures (once) in a folder and builds the named targets there (all of them if none is named).
# CMake arguments come from the array cmake_arguments, if set. Speaks only of what takes time or fails.
build_in() {
  local folder=$1 log
  shift
  log=$(mktemp)
  if [[ ! -f $folder/build.ninja ]]; then
    echo "Configuring in $folder" >&2
    cmake -S . -B "$folder" -G Ninja -DCMAKE_BUILD_TYPE=Release -DCMAKE_UNITY_BUILD=ON \
      -DDULLSPELL_WARNINGS_AS_ERRORS=ON "${cmake_arguments[@]}" >"$log" 2>&1 ||
      { cat "$log" >&2; rm -f "$log"; exit 1; }
  fi
  if ! ninja -C "$folder" -n "$@" 2>/dev/null | grep -q 'no work to do'; then
    echo "Building in $folder (this takes minutes the first time)" >&2
  fi
  ninja -C "$folder" "$@" >"$log" 2>&1 || { cat "$log" >&2; rm -f "$log"; exit 1; }
  rm -f "$log"
}

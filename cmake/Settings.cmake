# Compiler settings shared by every target.
add_library(coldwright_settings INTERFACE)
target_compile_options(coldwright_settings INTERFACE
  -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wno-sign-conversion -Werror
  # g++ 12 sees an overlap in string concatenation that is not there (GCC bug 105651).
  $<$<CXX_COMPILER_ID:GNU>:-Wno-restrict>
  # Native and WebAssembly builds should differ by the libraries' last digits only.
  -ffp-contract=off
  # Nobody reads errno after sqrt or exp; without this each call carries a branch.
  -fno-math-errno)
# Header-only libraries must be told the same everywhere, or the linker mixes two versions of one function.
target_compile_definitions(coldwright_settings INTERFACE FMT_HEADER_ONLY JSON_NOEXCEPTION EIGEN_NO_DEBUG)

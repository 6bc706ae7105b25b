# Compiler settings shared by every target.
add_library(coldwright_settings INTERFACE)
target_compile_options(coldwright_settings INTERFACE
  -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wno-sign-conversion -Werror -ffp-contract=off)

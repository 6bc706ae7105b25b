# What a WebAssembly build needs besides Settings.cmake.
enable_language(C)
add_library(stack_chk OBJECT ${CMAKE_SOURCE_DIR}/cmake/stack_chk.c)
# Header-only libraries of the host, reached through links in a folder of their own, so that no other header
# of the host can slip in.
set(links ${CMAKE_BINARY_DIR}/include)
file(MAKE_DIRECTORY ${links})
foreach(pair eigen3/Eigen nlohmann fmt boost)
  get_filename_component(leaf ${pair} NAME)
  if(EXISTS /usr/include/${pair})
    file(CREATE_LINK /usr/include/${pair} ${links}/${leaf} SYMBOLIC)
  endif()
endforeach()
include_directories(SYSTEM ${links})
# The solvers keep their arrays on the stack, and the tests march long tubes: wasm-ld's 64 kB would end in
# silent damage, so there is room, and it comes first, where running over it traps.
add_link_options(-Wl,-z,stack-size=4194304 -Wl,--stack-first)

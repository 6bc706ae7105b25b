# coldwright_rooms(NAME...): the rooms of the core, lowest first. Each is the folder core/NAME and, once it
# holds a source file, the library coldwright_NAME; it links to the rooms before it.
function(coldwright_rooms)
  set(below "")
  foreach(name ${ARGN})
    file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/core/${name}/*.cpp)
    if(sources)
      add_library(coldwright_${name} STATIC ${sources})
      target_include_directories(coldwright_${name} PUBLIC ${CMAKE_SOURCE_DIR}/core)
      if(NOT COLDWRIGHT_WASM)
        target_include_directories(coldwright_${name} SYSTEM PRIVATE /usr/include/eigen3)
      endif()
      # No exceptions in the core: failure is a value.
      target_compile_options(coldwright_${name} PRIVATE -fno-exceptions)
      target_link_libraries(coldwright_${name} PRIVATE coldwright_settings PUBLIC ${below})
      list(APPEND below coldwright_${name})
    endif()
  endforeach()
endfunction()

# coldwright_unity(TARGET FILE...): lets the target's files be compiled a handful together where COLDWRIGHT_UNITY is
# on, as the presets that build for use and for the tests have it: most of a file's compile time goes into headers
# that its neighbours read too. A file's handful depends on its own name alone, so that a new file makes one handful
# be compiled anew and not all. What stands in an unnamed namespace is then seen by the neighbours: names in a room
# are unique.
function(coldwright_unity target)
  list(LENGTH ARGN count)
  set(groups 1)
  while(count GREATER 8)
    math(EXPR groups "${groups} * 2")
    math(EXPR count "(${count} + 1) / 2")
  endwhile()
  foreach(source ${ARGN})
    get_filename_component(name ${source} NAME_WE)
    string(MD5 hash ${name})
    string(SUBSTRING ${hash} 0 4 digits)
    math(EXPR group "0x${digits} % ${groups}")
    set_property(SOURCE ${source} PROPERTY UNITY_GROUP ${group})
  endforeach()
  set_target_properties(${target} PROPERTIES UNITY_BUILD ${COLDWRIGHT_UNITY} UNITY_BUILD_MODE GROUP)
endfunction()

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
      coldwright_unity(coldwright_${name} ${sources})
      list(APPEND below coldwright_${name})
    endif()
  endforeach()
endfunction()

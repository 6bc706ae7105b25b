# Writes OUTPUT: a C++ file that holds every data/**/*.json as text, so the program and its later
# WebAssembly twin need no files beside them. Run: cmake -DDATA_DIR=... -DOUTPUT=... -P EmbedData.cmake
file(GLOB_RECURSE files RELATIVE ${DATA_DIR} ${DATA_DIR}/*.json ${DATA_DIR}/*.bib)
list(FILTER files EXCLUDE REGEX "^demo/")  # calls to read, with their hidden causes: not for the program
list(SORT files)
set(rows "")
set(bodies "")
set(n 0)
foreach(f ${files})
  file(READ ${DATA_DIR}/${f} hex HEX)
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${hex}")
  string(APPEND bodies "constexpr unsigned char body_${n}[] = {${bytes}0};\n")
  string(APPEND rows "    {\"${f}\", std::string_view(reinterpret_cast<const char*>(body_${n}), sizeof(body_${n}) - 1)},\n")
  math(EXPR n "${n}+1")
endforeach()
file(WRITE ${OUTPUT}.new "#include \"service/embedded.hpp\"\n#include <array>\nnamespace coldwright::service {\nnamespace {\n${bodies}const std::array<EmbeddedFile, ${n}> files{{\n${rows}}};\n}\nstd::span<const EmbeddedFile> embedded_files() { return files; }\n}\n")
execute_process(COMMAND ${CMAKE_COMMAND} -E copy_if_different ${OUTPUT}.new ${OUTPUT})

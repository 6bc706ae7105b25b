// libFuzzer's entry: the call parser, merge and fold under whatever it comes up with. Built with
// -DCOLDWRIGHT_FUZZ=ON and clang; how to run it stands in CMakeLists.txt here
#include <cstddef>
#include <cstdint>

#include "fuzz/call_target.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  coldwright::tests::try_call({reinterpret_cast<const char*>(data), size});
  return 0;
}

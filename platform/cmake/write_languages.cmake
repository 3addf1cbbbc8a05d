# Writes SOURCE: FUNCTION() with the bytes of each file in CATALOGUES. See languages.cmake.
set(arrays "")
set(rows "")
set(count 0)
foreach(mo IN LISTS CATALOGUES)
  get_filename_component(code "${mo}" NAME_WE)
  string(MAKE_C_IDENTIFIER "${code}" name)
  file(READ "${mo}" bytes HEX)
  string(REGEX REPLACE "(..)" "'\\\\x\\1'," bytes "${bytes}")
  string(APPEND arrays "constexpr char ${name}[] = {${bytes}};\n")
  string(APPEND rows "    {\"${code}\", std::string_view(${name}, sizeof ${name})},\n")
  math(EXPR count "${count} + 1")
endforeach()
set(body "    return {};\n")
if(count GREATER 0)
  set(body "    static constexpr BuiltInLanguage all[] = {\n${rows}    };\n    return all;\n")
endif()
file(WRITE "${SOURCE}" "// Written by platform/cmake/write_languages.cmake.
#include \"core/words/built_in_languages.h\"

namespace tapwright {
namespace {
${arrays}}  // namespace
std::span<const BuiltInLanguage> ${FUNCTION}() {
${body}}
}  // namespace tapwright
")

# Writes POT from the sources below ROOT with XGETTEXT and its OPTIONS. See languages.cmake.
file(GLOB_RECURSE sources RELATIVE "${ROOT}" "${ROOT}/core/*.cpp" "${ROOT}/core/*.h" "${ROOT}/core/*.def"
  "${ROOT}/ui/*.cpp" "${ROOT}/ui/*.h" "${ROOT}/platform/*.cpp" "${ROOT}/platform/*.h")
list(SORT sources)
list(REMOVE_ITEM sources core/base/message.h)
string(REPLACE ";" "\n" list "${sources}")
get_filename_component(folder "${POT}" DIRECTORY)
file(MAKE_DIRECTORY "${folder}")
file(WRITE "${POT}.sources" "${list}\n")
execute_process(
  COMMAND ${XGETTEXT} ${OPTIONS} --files-from=${POT}.sources --output=${POT}
  WORKING_DIRECTORY "${ROOT}" RESULT_VARIABLE failed ERROR_VARIABLE said)
file(REMOVE "${POT}.sources")
if(failed)
  message(FATAL_ERROR "xgettext failed: ${said}")
endif()
# xgettext leaves the charset to the header, and the header to us: no date, so that the same sources give the same file.
file(READ "${POT}" body)
file(WRITE "${POT}" "# What Tapwright says, for translators: copy this to LANGUAGE.po and fill in the msgstr lines.
# Written by the target `pot` from the sources.
msgid \"\"
msgstr \"\"
\"MIME-Version: 1.0\\n\"
\"Content-Type: text/plain; charset=UTF-8\\n\"
\"Content-Transfer-Encoding: 8bit\\n\"
\"Plural-Forms: nplurals=2; plural=n != 1;\\n\"

${body}")

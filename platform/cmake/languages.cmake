# Translations: from the sources to a template, and from each language's .po into the program.
#
#   pot   (target)   writes core/words/languages/tapwright.pot anew from the sources; a test fails while it is old
#
# tapwright_languages(RESULT FOLDER FUNCTION): a source file that defines FUNCTION() with the compiled catalogue of each
# .po in FOLDER, so that nothing is read at run time.
set(TAPWRIGHT_POT "${PROJECT_SOURCE_DIR}/core/words/languages/tapwright.pot")
set(TAPWRIGHT_XGETTEXT_OPTIONS
  --language=C++ --from-code=UTF-8 --add-location=file --sort-by-file --no-wrap --omit-header
  --keyword --keyword=Message:1 --keyword=Pattern:1 --keyword=plural:1,2 --keyword=in_context:1c,2
  --keyword=CHOICE:1c,3 --keyword=CHOICE:1c,4 --keyword=X:3 --keyword=WORDS:1 --keyword=inherited:1)
find_program(XGETTEXT xgettext)
if(XGETTEXT AND NOT TARGET pot)
  add_custom_target(pot
    COMMAND ${CMAKE_COMMAND} -DXGETTEXT=${XGETTEXT} -DROOT=${PROJECT_SOURCE_DIR} -DPOT=${TAPWRIGHT_POT}
      "-DOPTIONS=${TAPWRIGHT_XGETTEXT_OPTIONS}" -P ${PROJECT_SOURCE_DIR}/platform/cmake/write_pot.cmake
    VERBATIM)
endif()

function(tapwright_languages result folder function)
  file(GLOB catalogues CONFIGURE_DEPENDS "${folder}/*.po")
  set(source "${CMAKE_CURRENT_BINARY_DIR}/${function}.cpp")
  set(compiled "")
  if(catalogues)
    find_program(MSGFMT msgfmt REQUIRED)
  endif()
  foreach(po IN LISTS catalogues)
    get_filename_component(code "${po}" NAME_WE)
    set(mo "${CMAKE_CURRENT_BINARY_DIR}/${code}.mo")
    add_custom_command(OUTPUT "${mo}" COMMAND ${MSGFMT} --check --endianness=little -o "${mo}" "${po}"
      DEPENDS "${po}" VERBATIM)
    list(APPEND compiled "${mo}")
  endforeach()
  add_custom_command(OUTPUT "${source}"
    COMMAND ${CMAKE_COMMAND} "-DCATALOGUES=${compiled}" -DSOURCE=${source} -DFUNCTION=${function}
      -P ${PROJECT_SOURCE_DIR}/platform/cmake/write_languages.cmake
    DEPENDS ${compiled} "${PROJECT_SOURCE_DIR}/platform/cmake/write_languages.cmake" VERBATIM)
  set(${result} "${source}" PARENT_SCOPE)
endfunction()

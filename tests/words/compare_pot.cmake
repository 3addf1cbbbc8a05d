# Extracts the template for translators anew into FRESH and holds it against KEPT, the one in the sources.
set(POT "${FRESH}")
include(${ROOT}/platform/cmake/write_pot.cmake)
if(NOT EXISTS "${KEPT}")
  message(FATAL_ERROR "${KEPT} is missing. Make it: build the target `pot`.")
endif()
file(READ "${KEPT}" kept)
file(READ "${FRESH}" fresh)
if(NOT kept STREQUAL fresh)
  message(FATAL_ERROR "${KEPT} is not what the sources say. Build the target `pot` and keep the result; `diff` it with "
    "${FRESH} to see what changed.")
endif()

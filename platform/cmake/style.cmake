# Targets for how our sources are written:
#
#   format-check   says which files clang-format would change        (also a CTest test, `format`)
#   format         changes them
#   tidy           clang-tidy over everything this build compiles, minutes long
#
# Versions of clang-format disagree about details, and ours is the one of Debian 12: with another version the test
# `format` is not registered, and configuring says so.
set(TAPWRIGHT_CLANG_FORMAT_VERSION 14)

find_program(CLANG_FORMAT NAMES clang-format-${TAPWRIGHT_CLANG_FORMAT_VERSION} clang-format)
if(CLANG_FORMAT)
  set(folders core ui platform tests)
  list(TRANSFORM folders APPEND /*.h OUTPUT_VARIABLE headers)
  list(TRANSFORM folders APPEND /*.cpp OUTPUT_VARIABLE sources)
  file(GLOB_RECURSE ours CONFIGURE_DEPENDS ${headers} ${sources})
  add_custom_target(format-check COMMAND ${CLANG_FORMAT} --dry-run --Werror ${ours} VERBATIM)
  add_custom_target(format COMMAND ${CLANG_FORMAT} -i ${ours} VERBATIM)
  execute_process(COMMAND ${CLANG_FORMAT} --version OUTPUT_VARIABLE version)
  if(NOT version MATCHES "version ${TAPWRIGHT_CLANG_FORMAT_VERSION}[.]")
    string(STRIP "${version}" version)
    message(STATUS "Formatting is not tested: it needs version ${TAPWRIGHT_CLANG_FORMAT_VERSION}, and this is ${version}")
  elseif(TAPWRIGHT_TESTS AND NOT TAPWRIGHT_SANITIZE)
    add_test(NAME format COMMAND ${CLANG_FORMAT} --dry-run --Werror ${ours})
  endif()
endif()

find_program(RUN_CLANG_TIDY NAMES run-clang-tidy)
if(RUN_CLANG_TIDY)
  # The compile commands may be GCC's: clang does not know all of its warning flags.
  add_custom_target(tidy COMMAND ${RUN_CLANG_TIDY} -quiet -p ${PROJECT_BINARY_DIR}
    -extra-arg=-Wno-unknown-warning-option -extra-arg=-Wno-string-conversion -extra-arg=-Wno-sign-conversion "^${PROJECT_SOURCE_DIR}/(core|ui|platform|tests)/" USES_TERMINAL VERBATIM)
endif()

# Compiles the core and its tests to WebAssembly with Debian's emscripten package:
#
#   cmake -S . -B .build/web-test -G Ninja -DCMAKE_TOOLCHAIN_FILE=platform/web/toolchain.cmake \
#         -DTAPWRIGHT_PRINT=OFF -DTAPWRIGHT_WINDOW=OFF -DTAPWRIGHT_SQLITE_DIR=FOLDER
#
# FOLDER is where platform/fetch keeps sqlite3.c. With the window and -DTAPWRIGHT_TESTS=OFF it makes the app for browsers.
find_program(TAPWRIGHT_EMCC emcc REQUIRED)
file(REAL_PATH "${TAPWRIGHT_EMCC}" emcc_file)
get_filename_component(EMSCRIPTEN_ROOT_PATH "${emcc_file}" DIRECTORY)
include("${EMSCRIPTEN_ROOT_PATH}/cmake/Modules/Platform/Emscripten.cmake")

# Where Debian keeps node's modules. A node that is not Debian's finds them only with this in the environment: the parser of
# scripts that emscripten's linker uses.
set(TAPWRIGHT_NODE_MODULES /usr/share/nodejs)
set(CMAKE_C_LINKER_LAUNCHER "${CMAKE_COMMAND};-E;env;NODE_PATH=${TAPWRIGHT_NODE_MODULES}")
set(CMAKE_CXX_LINKER_LAUNCHER "${CMAKE_C_LINKER_LAUNCHER}")

# The JSON and test libraries are headers only, so the machine's packages serve WebAssembly too. Their own CMake files
# would put all of /usr/include, with another machine's C library, before emscripten's: each gets a folder that links
# to its headers and nothing else.
function(tapwright_headers_of_machine package version headers)
  set(folder "${CMAKE_BINARY_DIR}/machine/${package}")
  file(MAKE_DIRECTORY "${folder}")
  file(CREATE_LINK "/usr/include/${headers}" "${folder}/${headers}" SYMBOLIC)
  file(WRITE "${folder}/${package}Config.cmake"
    "if(NOT TARGET ${package}::${package})\n"
    "  add_library(${package}::${package} INTERFACE IMPORTED)\n"
    "  target_include_directories(${package}::${package} INTERFACE \"${folder}\")\n"
    "endif()\n")
  file(WRITE "${folder}/${package}ConfigVersion.cmake"
    "set(PACKAGE_VERSION ${version})\nset(PACKAGE_VERSION_COMPATIBLE TRUE)\n")
  set(${package}_DIR "${folder}" CACHE PATH "Headers of the machine's ${package}" FORCE)
endfunction()

get_property(is_a_trial GLOBAL PROPERTY IN_TRY_COMPILE)
if(NOT is_a_trial)
  tapwright_headers_of_machine(doctest 2.4 doctest)
  tapwright_headers_of_machine(nlohmann_json 3.11 nlohmann)
endif()

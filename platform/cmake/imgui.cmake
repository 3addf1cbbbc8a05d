# Dear ImGui from source, because Debian 12 packages a version without an event queue, touch or dynamic fonts.
#
# Where it comes from, first match wins: -DIMGUI_DIR=FOLDER; the folder that platform/fetch fills; the upstream tag by
# FetchContent, only with -DTAPWRIGHT_FETCH=ON, so that a build never reaches for the network unasked.
#
#   tapwright_imgui           the library itself, no window and no operating system: for ui/ and for tests without display
#   tapwright_imgui_desktop   its GLFW and OpenGL 3 backends: for platform/desktop
#
# Neither is built with our warning flags, and their headers are system headers to us.
option(TAPWRIGHT_FETCH "Fetch the upstream tag of Dear ImGui when no source folder is found" OFF)

function(tapwright_find_imgui result)
  if(IMGUI_DIR)
    set(${result} "${IMGUI_DIR}" PARENT_SCOPE)
    return()
  endif()
  set(cache "$ENV{XDG_CACHE_HOME}")
  if(NOT cache)
    set(cache "$ENV{HOME}/.cache")
  endif()
  if(EXISTS "${cache}/tapwright/imgui/imgui.cpp")
    set(${result} "${cache}/tapwright/imgui" PARENT_SCOPE)
  elseif(TAPWRIGHT_FETCH)
    include(FetchContent)
    FetchContent_Declare(imgui GIT_REPOSITORY https://github.com/ocornut/imgui.git GIT_TAG v1.92.2b GIT_SHALLOW ON)
    FetchContent_MakeAvailable(imgui)
    set(${result} "${imgui_SOURCE_DIR}" PARENT_SCOPE)
  else()
    message(FATAL_ERROR "No Dear ImGui source was found: run `platform/setup build`, which fetches it, or name a folder "
      "that holds version 1.92 or newer with -DIMGUI_DIR=FOLDER.")
  endif()
endfunction()

function(tapwright_check_imgui folder)
  if(NOT EXISTS "${folder}/imgui.cpp")
    message(FATAL_ERROR "There is no imgui.cpp in ${folder}: name a folder that holds the source of Dear ImGui 1.92 or "
      "newer with -DIMGUI_DIR=FOLDER.")
  endif()
  file(STRINGS "${folder}/imgui.h" line REGEX "^#define IMGUI_VERSION_NUM")
  string(REGEX MATCH "[0-9]+$" number "${line}")
  if(number LESS 19200)
    message(FATAL_ERROR "The Dear ImGui in ${folder} is older than 1.92: name a newer one with -DIMGUI_DIR=FOLDER.")
  endif()
endfunction()

tapwright_find_imgui(imgui_folder)
tapwright_check_imgui("${imgui_folder}")
message(STATUS "Dear ImGui: ${imgui_folder}")

add_library(tapwright_imgui STATIC
  ${imgui_folder}/imgui.cpp ${imgui_folder}/imgui_draw.cpp ${imgui_folder}/imgui_tables.cpp
  ${imgui_folder}/imgui_widgets.cpp)
set_target_properties(tapwright_imgui PROPERTIES UNITY_BUILD OFF)  # its sources are not made for it
# Letters beyond the 65,536 of the first plane, such as emoji, are typed, kept and shown.
target_compile_definitions(tapwright_imgui PUBLIC IMGUI_USE_WCHAR32)
target_include_directories(tapwright_imgui SYSTEM PUBLIC ${imgui_folder})
target_compile_definitions(tapwright_imgui PUBLIC
  IMGUI_DISABLE_OBSOLETE_FUNCTIONS IMGUI_DISABLE_DEMO_WINDOWS IMGUI_DISABLE_DEBUG_TOOLS
  "ImDrawIdx=unsigned int")  # long pages and drawings exceed what 16 bits can count

if(TAPWRIGHT_FOR_BROWSER)
  target_compile_definitions(tapwright_imgui PUBLIC IMGUI_DISABLE_DEFAULT_FONT)  # the page does not start without ours
endif()
if(NOT EMSCRIPTEN)
  find_package(glfw3 3.3 REQUIRED)
  find_package(OpenGL REQUIRED)
  add_library(tapwright_imgui_desktop STATIC
    ${imgui_folder}/backends/imgui_impl_glfw.cpp ${imgui_folder}/backends/imgui_impl_opengl3.cpp)
  set_target_properties(tapwright_imgui_desktop PROPERTIES UNITY_BUILD OFF)
  target_include_directories(tapwright_imgui_desktop SYSTEM PUBLIC ${imgui_folder}/backends)
  target_link_libraries(tapwright_imgui_desktop PUBLIC tapwright_imgui glfw OpenGL::GL PRIVATE ${CMAKE_DL_LIBS})
endif()

# Makes `copyright`: what is compiled into the program beside our own source, under which licence, and the notices that
# those licences want to travel with it. They are read from where the components came from, so they always belong to
# the version that was built.

function(tapwright_read_notice file into)
  if(NOT EXISTS "${file}")
    message(STATUS "This build cannot be installed: the licence of a component it contains is not in ${file}. Name "
      "the file of nlohmann_json's with -DTAPWRIGHT_JSON_NOTICE=FILE; Dear ImGui's belongs into its source folder.")
    set(${into} "" PARENT_SCOPE)
    return()
  endif()
  file(READ "${file}" text)
  string(STRIP "${text}" text)
  set(${into} "${text}" PARENT_SCOPE)
  set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS "${file}")
endfunction()

# The lines of a source file that name whose work it is, without their comment marks.
function(tapwright_read_owners file pattern into)
  file(STRINGS "${file}" lines REGEX "${pattern}")
  list(TRANSFORM lines REPLACE "^[/* ]+" "")
  list(REMOVE_DUPLICATES lines)
  list(JOIN lines "\n" text)
  set(${into} "${text}" PARENT_SCOPE)
endfunction()

file(REMOVE "${made}/copyright")
set(components_of_window "")
set(notices_of_window "")
if(TAPWRIGHT_WINDOW)
  tapwright_read_notice("${imgui_folder}/LICENSE.txt" notice_imgui)
  tapwright_read_owners("${imgui_folder}/imgui_draw.cpp" "Copyright [(]c[)] 2004" owner_font)
  tapwright_read_owners("${imgui_folder}/backends/imgui_impl_opengl3_loader.h" "Copyright.*Khronos" owner_loader)
  file(STRINGS "${imgui_folder}/imgui.h" version_imgui REGEX "^#define IMGUI_VERSION ")
  string(REGEX MATCH "[0-9][^\"]*" version_imgui "${version_imgui}")
  configure_file(notice_window.in "${made}/notice_window" @ONLY)
  file(READ "${made}/notice_window" components_of_window)
  set(notices_of_window "\n\nNotice of Dear ImGui\n--------------------\n${notice_imgui}\n")
endif()
tapwright_read_notice("${TAPWRIGHT_JSON_NOTICE}" notice_json)
if(notice_json AND (notice_imgui OR NOT TAPWRIGHT_WINDOW))
  configure_file(copyright.in "${made}/copyright" @ONLY)
endif()

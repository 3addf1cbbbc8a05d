# One library a folder. What it links is what the table of arrows lets it include (platform/cmake/arrows.txt), and
# nothing else: an include that the table does not allow mostly fails to link as well.
set(TAPWRIGHT_ARROWS "${PROJECT_SOURCE_DIR}/platform/cmake/arrows.txt")
set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS "${TAPWRIGHT_ARROWS}")

# tapwright_arrows_from(FOLDER RESULT): the folders that FOLDER may include from, those of its own subfolders' rows too.
function(tapwright_arrows_from folder result)
  file(STRINGS "${TAPWRIGHT_ARROWS}" rows REGEX "^${folder}(/[a-z]+)*:")
  if(NOT rows)
    message(FATAL_ERROR "${folder} has no row in platform/cmake/arrows.txt; add one that says what it may include from.")
  endif()
  set(found "")
  foreach(row IN LISTS rows)
    string(REGEX REPLACE "^[^:]*: *" "" row "${row}")
    separate_arguments(row)
    list(APPEND found ${row})
  endforeach()
  list(REMOVE_DUPLICATES found)
  list(FILTER found EXCLUDE REGEX "^${folder}(/|$)")
  set(${result} "${found}" PARENT_SCOPE)
endfunction()

# Where sources are compiled together (TAPWRIGHT_UNITY), one file lends its includes to the next. `apart` compiles every
# source on its own as well: objects only, nothing optimised, nothing linked, and no part of `all`.
if(TAPWRIGHT_UNITY)
  add_custom_target(apart)
endif()

# tapwright_library(core/units SOURCES a.cpp PRIVATE_LINKS other::library): the library tapwright_units of that folder.
# PRIVATE_LINKS and LINKS are libraries that are not ours.
function(tapwright_library folder)
  cmake_parse_arguments(PARSE_ARGV 1 arg "" "" "SOURCES;LINKS;PRIVATE_LINKS")
  get_filename_component(name ${folder} NAME)
  add_library(tapwright_${name} STATIC ${arg_SOURCES})
  tapwright_arrows_from(${folder} below)
  set(links "")
  foreach(other IN LISTS below)
    string(REGEX REPLACE "^(ui/screens)/.*" "\\1" other "${other}")
    get_filename_component(other ${other} NAME)
    list(APPEND links tapwright_${other})
  endforeach()
  list(REMOVE_DUPLICATES links)
  target_link_libraries(tapwright_${name} PUBLIC ${links} ${arg_LINKS} PRIVATE tapwright_flags ${arg_PRIVATE_LINKS})
  if(TAPWRIGHT_UNITY)
    add_library(tapwright_${name}_apart OBJECT EXCLUDE_FROM_ALL ${arg_SOURCES})
    set_target_properties(tapwright_${name}_apart PROPERTIES UNITY_BUILD OFF)
    target_link_libraries(tapwright_${name}_apart PRIVATE ${links} ${arg_LINKS} tapwright_flags ${arg_PRIVATE_LINKS})
    target_compile_definitions(tapwright_${name}_apart PRIVATE $<TARGET_PROPERTY:tapwright_${name},COMPILE_DEFINITIONS>)
    target_compile_options(tapwright_${name}_apart PRIVATE -O0 -g0)
    add_dependencies(apart tapwright_${name}_apart)
  endif()
endfunction()

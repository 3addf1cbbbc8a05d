# The .deb, by CPack. It belongs to the Debian it is built on: its dependencies are those of the libraries found there,
# and its version ends in that Debian's number, so that a newer Debian's package replaces an older one's.
set(debian_number 0)
set(debian_name unknown)
if(EXISTS /etc/os-release)
  file(STRINGS /etc/os-release lines)
  foreach(line IN LISTS lines)
    if(line MATCHES "^VERSION_ID=\"?([0-9]+)")
      set(debian_number ${CMAKE_MATCH_1})
    elseif(line MATCHES "^VERSION_CODENAME=\"?([a-z]+)")
      set(debian_name ${CMAKE_MATCH_1})
    endif()
  endforeach()
endif()

set(TAPWRIGHT_DEBIAN_VERSION ${PROJECT_VERSION}~deb${debian_number})
set(TAPWRIGHT_DEBIAN_NAME ${debian_name})
set(TAPWRIGHT_MAINTAINER "The authors of Tapwright <tapwright@example.org>")
execute_process(COMMAND date -R -u -d ${TAPWRIGHT_RELEASED} OUTPUT_VARIABLE TAPWRIGHT_RELEASED_AT
  OUTPUT_STRIP_TRAILING_WHITESPACE)
configure_file(changelog.in ${made}/changelog @ONLY)
execute_process(COMMAND gzip -9nc ${made}/changelog OUTPUT_FILE ${made}/changelog.gz)
install(FILES ${made}/changelog.gz DESTINATION ${documents})

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME tapwright)
set(CPACK_PACKAGE_VERSION ${PROJECT_VERSION})
set(CPACK_PACKAGE_CONTACT ${TAPWRIGHT_MAINTAINER})
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_PACKAGE_DIRECTORY ${PROJECT_BINARY_DIR}/package)
set(CPACK_STRIP_FILES ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS
  OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(CPACK_DEBIAN_PACKAGE_VERSION ${TAPWRIGHT_DEBIAN_VERSION})
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION utils)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_COMPRESSION_TYPE xz)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
# The fonts of sheets and window. Without Noto a sheet has no letters beyond Latin, Greek and Cyrillic.
set(CPACK_DEBIAN_PACKAGE_DEPENDS "fonts-inter, fonts-noto-core")
set(CPACK_DEBIAN_PACKAGE_RECOMMENDS "fonts-noto-cjk")
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION "job log for 70.7 V and 100 V loudspeaker lines
Tapwright keeps the records of a loudspeaker line job in one file: rooms, taps,
cable, readings and snags. It calculates loads and headroom, judges impedance
readings, plans changes and writes the handover sheet as a PDF.

It has a window for a phone-sized or a large screen, and a command line that
does the same without one. It never needs a network.")
include(CPack)

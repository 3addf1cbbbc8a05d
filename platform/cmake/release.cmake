# What a Release is built with beside speed: the program opens files that strangers hand on, so a mistake of ours that
# writes past a buffer ends the program instead of doing what the file says. Debian builds its own packages so.
if(CMAKE_BUILD_TYPE STREQUAL "Release" AND NOT EMSCRIPTEN AND NOT TAPWRIGHT_SANITIZE)
  add_compile_options(-fstack-protector-strong -U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=2)
  add_link_options(-Wl,-z,relro,-z,now)
endif()

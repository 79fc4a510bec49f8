# What `cmake --install` and `cpack -G DEB` bring along beside the program.
include(GNUInstallDirs)
find_program(GZIP gzip REQUIRED)

set(made ${PROJECT_BINARY_DIR}/packaging)
file(MAKE_DIRECTORY ${made})
set(files "")

# Written by the program itself, so that they hold its own options and texts.
function(dullspell_says file)
  add_custom_command(OUTPUT ${made}/${file}
    COMMAND dullspell ${ARGN} > ${made}/${file}
    DEPENDS dullspell
    VERBATIM)
  set(files ${files} ${made}/${file} PARENT_SCOPE)
endfunction()
dullspell_says(dullspell.1 man)
dullspell_says(dullspell.bash completion bash)
dullspell_says(_dullspell completion zsh)
dullspell_says(dullspell.fish completion fish)

function(dullspell_gzip from to)
  add_custom_command(OUTPUT ${made}/${to}
    COMMAND ${GZIP} -9 -n -c ${from} > ${made}/${to}
    DEPENDS ${from}
    VERBATIM)
  set(files ${files} ${made}/${to} PARENT_SCOPE)
endfunction()
dullspell_gzip(${made}/dullspell.1 dullspell.1.gz)
dullspell_gzip(${CMAKE_CURRENT_LIST_DIR}/debian/changelog changelog.gz)
add_custom_target(dullspell_packaging ALL DEPENDS ${files})

set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS
  ${CMAKE_CURRENT_LIST_DIR}/debian/copyright.head ${PROJECT_SOURCE_DIR}/LICENSE)
# Debian's form of the licence: each line indented, empty ones a dot.
file(READ ${CMAKE_CURRENT_LIST_DIR}/debian/copyright.head copyright)
file(READ ${PROJECT_SOURCE_DIR}/LICENSE licence)
string(REGEX REPLACE "^MIT License\n\nCopyright[^\n]*\n\n" "" licence "${licence}")
string(REGEX REPLACE "\n+$" "" licence "${licence}")
string(REPLACE "\n" "\n " licence "${licence}")
string(REPLACE "\n \n" "\n .\n" licence "${licence}")
file(CONFIGURE OUTPUT ${made}/copyright CONTENT "${copyright} ${licence}\n" @ONLY)

set(doc ${CMAKE_INSTALL_DOCDIR})
install(TARGETS dullspell COMPONENT program)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/datasets/plans/ DESTINATION ${doc}/examples
  COMPONENT program FILES_MATCHING PATTERN "*.toml")
install(FILES ${PROJECT_SOURCE_DIR}/datasets/README.md DESTINATION ${doc}/datasets COMPONENT program)
install(FILES ${PROJECT_SOURCE_DIR}/datasets/places/cities_NOTICE.md
  DESTINATION ${doc}/datasets/places COMPONENT program)
foreach(tables zones towns world)
  install(FILES ${PROJECT_SOURCE_DIR}/datasets/${tables}/NOTICE.md
    DESTINATION ${doc}/datasets/${tables} COMPONENT program)
endforeach()
install(FILES ${made}/dullspell.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions
  RENAME dullspell COMPONENT program)
install(FILES ${made}/dullspell.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d
  COMPONENT program)

# A Debian package keeps some of it in another form or place: the component `debian` stands in it for
# the component `plain`, which `cmake --install` takes.
install(FILES ${PROJECT_SOURCE_DIR}/LICENSE DESTINATION ${doc} COMPONENT plain)
install(FILES ${made}/dullspell.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT plain)
install(FILES ${made}/_dullspell DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/site-functions
  COMPONENT plain)
install(FILES ${made}/copyright ${made}/changelog.gz DESTINATION ${doc}
  COMPONENT debian EXCLUDE_FROM_ALL)
install(FILES ${made}/dullspell.1.gz DESTINATION ${CMAKE_INSTALL_MANDIR}/man1
  COMPONENT debian EXCLUDE_FROM_ALL)
install(FILES ${made}/_dullspell DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions
  COMPONENT debian EXCLUDE_FROM_ALL)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME dullspell)
set(CPACK_PACKAGE_DIRECTORY ${PROJECT_BINARY_DIR})
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_COMPONENTS_ALL program debian)
set(CPACK_COMPONENTS_GROUPING ALL_COMPONENTS_IN_ONE)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS
  OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_SECTION utils)
# An invented address: nobody maintains a package in Debian.
set(CPACK_DEBIAN_PACKAGE_MAINTAINER "The dullspell authors <dullspell@example.org>")
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION
"Tells campers on a battery box and a few panels how likely the battery is to
run flat, in which night, and what a generator would have to do about it: it
draws thousands of plausible weather sequences for the place and season and
runs each of them hour by hour through the kit. Places are built in.")
include(CPack)

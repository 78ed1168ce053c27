# Run by CPack on the files of each package before it closes them: what Debian wants in another place or form.
set(runnel ${CPACK_TEMPORARY_DIRECTORY}/runnel/usr/share)
set(development ${CPACK_TEMPORARY_DIRECTORY}/development/usr/share)

# Debian's zsh looks for packages' completion here.
file(MAKE_DIRECTORY ${runnel}/zsh/vendor-completions)
file(RENAME ${runnel}/zsh/site-functions/_runnel ${runnel}/zsh/vendor-completions/_runnel)
file(REMOVE_RECURSE ${runnel}/zsh/site-functions)

configure_file(${CMAKE_CURRENT_LIST_DIR}/changelog ${runnel}/doc/runnel/changelog COPYONLY)
configure_file(${CMAKE_CURRENT_LIST_DIR}/changelog ${development}/doc/librunnel-dev/changelog COPYONLY)
execute_process(COMMAND_ERROR_IS_FATAL ANY COMMAND gzip -9n ${runnel}/man/man1/runnel.1 ${runnel}/doc/runnel/changelog
  ${development}/doc/librunnel-dev/changelog)

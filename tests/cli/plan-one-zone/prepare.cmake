use(tests/cli/base)
file(READ ${WORK}/garden.yaml text)
string(REGEX REPLACE "\n  - name: tomatoes.*" "" text "${text}")
file(WRITE ${WORK}/garden.yaml "${text}")

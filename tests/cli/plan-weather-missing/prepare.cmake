use(tests/cli/base)
file(REMOVE ${WORK}/weather.csv)

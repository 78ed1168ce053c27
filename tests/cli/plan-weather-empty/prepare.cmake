use(tests/cli/base)
file(WRITE ${WORK}/weather.csv "")

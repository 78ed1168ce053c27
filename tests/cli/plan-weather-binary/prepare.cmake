use(tests/cli/base)
file(COPY ${ROOT}/tests/cli/weather-binary/weather.csv DESTINATION ${WORK})

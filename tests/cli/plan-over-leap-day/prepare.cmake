use(tests/cli/base)
file(COPY ${CASE}/weather.csv DESTINATION ${WORK})
change(garden.yaml [=[planted: 2027-04-20]=] [=[planted: 2028-02-10]=])

use(tests/cli/base)
file(COPY ${CASE}/weather.csv DESTINATION ${WORK})
change(garden.yaml [=["05:00-09:00"]=] [=["01:30-06:00"]=])
change(garden.yaml [=[planted: 2027-04-20]=] [=[planted: 2027-03-10]=])

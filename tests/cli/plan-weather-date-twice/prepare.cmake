use(tests/cli/base)
change(weather.csv [[2027-07-03,]] [[2027-07-02,]])

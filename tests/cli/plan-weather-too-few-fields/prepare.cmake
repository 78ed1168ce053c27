use(tests/cli/base)
change(weather.csv [[2027-07-03,31.9,18.8,74,33,3.4,27.4,0.0]] [[2027-07-03,31.9]])

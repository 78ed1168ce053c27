use(tests/cli/base)
change(weather.csv [[74,33,3.4]] [[74,33,breezy]])

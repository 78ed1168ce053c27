use(tests/cli/base)
change(weather.csv [[31.9,18.8]] [[18.8,31.9]])

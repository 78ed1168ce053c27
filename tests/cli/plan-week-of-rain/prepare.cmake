use(tests/cli/base)
change(garden.yaml [=[observed: weather.csv]=] [=[observed: weather.csv
  forecast: forecast.csv]=])

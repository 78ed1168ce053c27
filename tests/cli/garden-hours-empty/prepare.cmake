use(tests/cli/base)
change(garden.yaml [=[["05:00-09:00", "21:00-23:00"]]=] "[]")

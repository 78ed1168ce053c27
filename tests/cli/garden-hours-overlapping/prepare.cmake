use(tests/cli/base)
change(garden.yaml [["21:00-23:00"]] [["08:30-10:00"]])

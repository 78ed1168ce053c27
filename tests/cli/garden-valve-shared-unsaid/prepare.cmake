use(tests/cli/base)
change(garden.yaml [[valve: 2
]] [[valve: 1
]])

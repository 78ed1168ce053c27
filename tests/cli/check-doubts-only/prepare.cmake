use(tests/cli/base)
change(garden.yaml "factor: 0.9" "factor: 1.6")

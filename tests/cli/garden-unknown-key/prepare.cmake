use(tests/cli/base)
change(garden.yaml [[    area: 12 m2]] [[    aera: 12 m2]])

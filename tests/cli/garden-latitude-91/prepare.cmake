use(tests/cli/base)
change(garden.yaml [[latitude: 44.10]] [[latitude: 91]])

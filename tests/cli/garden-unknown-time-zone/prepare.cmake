use(tests/cli/base)
change(garden.yaml [[Europe/Paris]] [[Europe/Pariss]])

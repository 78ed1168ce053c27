use(tests/cli/base)
change(garden.yaml [[area: 12 m2]] [[area: 12 L]])

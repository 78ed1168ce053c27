use(tests/cli/base)
change(garden.yaml [[flow: 2.0 L/h]] [[flow: -2.0 L/h]])

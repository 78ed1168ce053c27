use(tests/cli/base)
change(garden.yaml [[planted: 2027-04-20]] [[planted: 2027-02-30]])

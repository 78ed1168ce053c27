use(tests/cli/base)

use(tests/cli/base)
file(WRITE ${WORK}/out.yaml "mine\n")

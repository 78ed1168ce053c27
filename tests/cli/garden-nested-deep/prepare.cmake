string(REPEAT "[" 100000 brackets)
file(WRITE ${WORK}/garden.yaml "garden: ${brackets}\n")

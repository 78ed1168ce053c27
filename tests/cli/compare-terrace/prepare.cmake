use(examples/terrace)

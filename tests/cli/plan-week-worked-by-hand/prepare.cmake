use(tests/garden/sanity-week)

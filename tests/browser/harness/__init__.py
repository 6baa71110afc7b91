"""What browser tests and benchmarks share: a browser, a server and a page that is watched."""

"""One module a command; each has `main(arguments) -> exit code`."""

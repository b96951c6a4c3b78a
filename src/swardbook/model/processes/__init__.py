"""One module a process: plain elementwise functions of numbers; none imports another."""

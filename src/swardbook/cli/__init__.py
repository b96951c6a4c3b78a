"""The command line: parse, call one use case, show. Nothing is computed here."""

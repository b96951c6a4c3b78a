"""The web pages: parse, call one use case, show."""

"""The only package that takes data in from outside: foreign files."""

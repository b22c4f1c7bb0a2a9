"""HTTP and command line: questions in, answers out."""

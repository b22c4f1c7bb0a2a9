"""The rules that turn disagreeing records into one adopted value, one module per kind of trait."""

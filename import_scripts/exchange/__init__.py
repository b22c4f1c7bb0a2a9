"""Bringing in what people hand over: tables of records, Darwin Core Archives."""

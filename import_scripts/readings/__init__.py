"""Facts read one by one: the importer ``readings``."""

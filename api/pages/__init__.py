"""The pages: Jinja templates beside the words and views they are filled with."""

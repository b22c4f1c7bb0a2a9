"""Plants made ready and set side by side: what each takes of ground and light, in every draw of doubt."""

"""One builder per question: a snapshot and a frozen question in, a JSON-ready answer out."""

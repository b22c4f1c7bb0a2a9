"""What a curator hands in, reads back and takes back."""

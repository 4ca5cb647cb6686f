"""The calculations: numbers in, numbers out."""

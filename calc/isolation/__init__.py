"""How much sound passes an assembly, an opening, a path."""
